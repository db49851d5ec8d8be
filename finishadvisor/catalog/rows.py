"""Builds a row of the catalog from what stands in the file, or says in one line what is wrong with it."""

import json
import math
import types
from collections.abc import Mapping, Sequence
from typing import Any, Final, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from finishadvisor.catalog.models import Row
from finishadvisor.catalog.read import TABLES, PlainRow
from finishadvisor.catalog.sense import nonsense
from finishadvisor.errors import CatalogError, nearest_of

Location = Sequence[int | str]

_DEEPEST: Final = 12
_TYPES: Final = {
    "float": "a number, without quotes",
    "int": "a whole number, without quotes",
    "bool": "true or false, without quotes",
    "string": "a text in quotes",
    "tuple": "a list in square brackets",
    "list": "a list in square brackets",
    "dict": "a table in braces",
    "model": "a table in braces",
}
_BOUNDS: Final = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}


def build_row(row: PlainRow) -> Row:
    """Return the row in the shape of its table; a number in quotes is no number, a whole number serves as a number.

    Raises:
        CatalogError: a key is unknown, missing or of the wrong kind, or the values make no sense together.
    """
    model = TABLES[row.table]
    try:
        built = model.model_validate_json(_as_json(row), strict=True)
    except ValidationError as error:
        raise CatalogError(f"{row}: {_line(error, model, row.plain)}") from None
    for mistake in nonsense(built):
        raise CatalogError(f"{row}: {mistake}")
    return built


def _as_json(row: PlainRow) -> str:
    """Return the row as JSON; only a row that might hold something odd is looked through.

    Raises:
        CatalogError: as `_refuse_odd_values` says.
    """
    try:
        text = json.dumps(row.plain, allow_nan=False)
    except (TypeError, ValueError, RecursionError) as error:
        _refuse_odd_values(row.plain, row)
        raise CatalogError(f"{row}: {error}. Keep the row plain.") from error
    if text.count("{") + text.count("[") > _DEEPEST:
        _refuse_odd_values(row.plain, row)
    return text


def _refuse_odd_values(value: Any, row: PlainRow, depth: int = 0) -> None:
    """Refuse what JSON cannot hold, and nesting that no row needs.

    Raises:
        CatalogError: there is a date, a number that is not finite, or a value nested too deep.
    """
    if depth > _DEEPEST:
        raise CatalogError(f"{row}: values are nested more than {_DEEPEST} deep. Keep the row flat.")
    if isinstance(value, Mapping | list):
        for inner in value.values() if isinstance(value, Mapping) else value:
            _refuse_odd_values(inner, row, depth + 1)
    elif isinstance(value, float) and not math.isfinite(value):
        raise CatalogError(f"{row}: {value} is no finite number. Write the number itself, or leave the key out.")
    elif not isinstance(value, str | int | float):
        raise CatalogError(f"{row}: {value} is a date or a time. No row holds one; put text in quotes.")


def _line(error: ValidationError, model: type[BaseModel], plain: Mapping[str, Any]) -> str:
    """Return the most telling mistake: a misspelt key explains why the right one is missing."""
    details = min(error.errors(include_url=False), key=lambda found: found["type"] != "extra_forbidden")
    location = [step for step in details["loc"] if not (isinstance(step, str) and "[" in step)]
    kind = details["type"]
    key = _key(location)
    if kind == "extra_forbidden":
        allowed = _keys_at(model, location[:-1])
        return f"key {key} is unknown. Allowed are {', '.join(allowed)}.{nearest_of(str(location[-1]), allowed)}"
    if kind == "missing":
        needed = [name for name, field in _model_at(model, location[:-1]).model_fields.items() if field.is_required()]
        return f"key {key} is missing. Needed are {', '.join(needed)}."
    return f"key {key} is {_shown(details)}; it must be {_wanted(details, model, location)}"


def _wanted(details: ErrorDetails, model: type[BaseModel], location: Location) -> str:
    kind, context = details["type"], details.get("ctx", {})
    if kind == "literal_error":
        words = _words_at(model, location)
        return f"one of {', '.join(words)}.{nearest_of(str(details['input']), words)}"
    for name, words_for_it in _BOUNDS.items():
        if name in context:
            return f"{words_for_it} {context[name]:g}."
    for name, words_for_it in _TYPES.items():
        if kind.startswith(name):
            return f"{words_for_it}."
    return f"otherwise: {details['msg']}."


def _shown(details: ErrorDetails) -> str:
    text = json.dumps(details["input"], ensure_ascii=False, default=str)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _key(location: Location) -> str:
    """Return a key path in words; entries of a list are counted from 1."""
    words = [f"entry {step + 1}" if isinstance(step, int) else f'"{step}"' for step in location]
    return ", ".join(words)


def _keys_at(model: type[BaseModel], location: Location) -> list[str]:
    return list(_model_at(model, location).model_fields)


def _model_at(model: type[BaseModel], location: Location) -> type[BaseModel]:
    """Return the model that a key path leads to."""
    here = model
    for step in location:
        if isinstance(step, str) and step in here.model_fields:
            inner = [kind for kind in _leaves(here.model_fields[step].annotation) if _is_model(kind)]
            here = inner[0] if inner else here
    return here


def _words_at(model: type[BaseModel], location: Location) -> list[str]:
    """Return the words that a key may take."""
    name = next(step for step in reversed(location) if isinstance(step, str))
    parents = list(location[: len(location) - 1 - list(reversed(location)).index(name)])
    return [word for word in _leaves(_model_at(model, parents).model_fields[name].annotation) if isinstance(word, str)]


def _leaves(annotation: Any) -> list[Any]:
    """Return the classes and literal words that an annotation is made of."""
    inner = get_args(annotation)
    if get_origin(annotation) in {None, Union, types.UnionType} and not inner:
        return [annotation]
    return [leaf for part in inner for leaf in _leaves(part)]


def _is_model(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)
