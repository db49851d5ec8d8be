"""Validation errors of a job file, each as one line: file, key path, value, what is allowed, the mend."""

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from finishadvisor.errors import nearest_of
from finishadvisor.job.document import Job
from finishadvisor.job.entries import shown

Location = Sequence[int | str]

MOST_LINES: Final = 200
"""Nobody reads more mistakes than this at a time."""
_TAGS: Final = {"point", "words"}
_BOUNDS: Final = {
    "greater_than": ("gt", "more than"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "less than"),
    "less_than_equal": ("le", "at most"),
}
_TYPES: Final = {
    "float": "a number, without quotes",
    "finite": "a number",
    "int": "a whole number, without quotes",
    "bool": "true or false, without quotes",
    "string": "a text in quotes",
    "tuple": "a list in square brackets",
    "dict": "a table of keys and values",
    "model": "a table of keys and values",
}
_TABLES: Final = {
    "pour": "pour = { date = 2026-09-14 }",
    "room": 'room = { air = "72F", rh_pct = 45 }',
    "decision": 'decision = { finish = "densified" }',
    "workday": "workday = { start = 07:00:00, end = 15:30:00 }",
}
_LENGTHS: Final = {"too_short", "too_long"}
_QUOTED = re.compile(r"'([^']*)'")


def lines_of(error: ValidationError, plain: Mapping[str, Any], file: str) -> tuple[str, ...]:
    """Return one line for each mistake.

    Args:
        error: what pydantic found.
        plain: the values as they stand in the file, to show entries as the person typed them.
        file: how messages call the file.
    """
    found = [details for details in error.errors(include_url=False) if details["type"] not in _LENGTHS]
    inside = [details["loc"] for details in found]
    lengths = [details for details in error.errors(include_url=False) if details["type"] in _LENGTHS]
    for details in sorted(lengths, key=lambda each: -len(each["loc"])):
        location = details["loc"]
        # A list of which some entries are wrong counts as too short as well: only the entries are worth a line.
        if not any(loc[: len(location)] == location for loc in inside):
            found.append(details)
            inside.append(location)
    found.sort(key=lambda details: details["type"] != "extra_forbidden")
    found = found[:MOST_LINES]
    unknown = [details["loc"] for details in found if details["type"] == "extra_forbidden"]
    return tuple(f"{file}: {_line(details, plain)}" for details in found if not _is_misspelt(details, unknown))


def _is_misspelt(details: ErrorDetails, unknown: Sequence[Location]) -> bool:
    """Return whether a missing key is there in another spelling: the line of the unknown key names it."""
    *table, key = details["loc"]
    return details["type"] == "missing" and any(
        list(location[:-1]) == table and nearest_of(str(location[-1]), [str(key)]) for location in unknown
    )


def key_path(location: Location, plain: Any) -> str:
    """Return a key path in words: `floor "Garage", reading 2, value`. List entries go by name or file, else number."""
    words: list[str] = []
    here, follows_key = plain, False
    for step in location:
        if step in _TAGS and not (isinstance(here, Mapping) and step in here):
            continue
        here = _inside(here, step)
        if isinstance(step, str):
            words.append(step)
        elif follows_key:
            words[-1] += f" {_label(here, step)}"
        else:
            words.append(f"entry {step + 1}")
        follows_key = isinstance(step, str)
    return "".join(letter if letter.isprintable() else "?" for letter in ", ".join(words))


def _label(entry: Any, index: int) -> str:
    """Return how an entry of a list is called."""
    if isinstance(entry, Mapping):
        for key in ("name", "file"):
            if isinstance(entry.get(key), str) and entry[key].strip():
                return shown(entry[key])
    return str(index + 1)


def _inside(value: Any, step: int | str) -> Any:
    """Return what stands under a key or index, None where there is nothing."""
    if isinstance(step, int):
        return value[step] if isinstance(value, Sequence) and not isinstance(value, str) and step < len(value) else None
    return value.get(step) if isinstance(value, Mapping) else None


def _value_at(location: Location, plain: Any) -> Any:
    """Return the entry as it stands in the file."""
    for step in location:
        plain = plain if step in _TAGS else _inside(plain, step)
    return plain


def _line(details: ErrorDetails, plain: Mapping[str, Any]) -> str:
    """Return the line of one mistake, without the file."""
    location, kind = details["loc"], details["type"]
    if kind == "extra_forbidden":
        return _unknown_key(location, plain)
    if kind == "missing":
        return _missing(location, plain)
    where = key_path(location, plain)
    context = details.get("ctx", {})
    if kind == "value_error":
        return f"{where}: {context['error']}"
    there = _value_at(location, plain)
    if heading := _right_heading(kind, location, there):
        return f"{where}: {heading}"
    value = shown(there)
    example = _example_of(location[-1]) if kind.startswith("model") else ""
    return f"{where}: {value} {_what_is_allowed(kind, value, context)}{example}"


def _what_is_allowed(kind: str, value: str, context: Mapping[str, Any]) -> str:
    """Return the end of a line: why a value is refused and what would do."""
    if kind == "literal_error":
        allowed = _QUOTED.findall(str(context["expected"])) or [str(context["expected"]).replace("'", "")]
        return f"is not allowed; write one of: {', '.join(allowed)}.{nearest_of(value.strip(chr(34)), allowed)}"
    if kind in _BOUNDS:
        key, words = _BOUNDS[kind]
        share = " Write a share: 0.3 for 30 %." if key in {"lt", "le"} and context[key] == 1 else ""
        return f"is out of range; it must be {words} {context[key]:g}.{share}"
    if kind == "too_long":
        return f"has too many entries ({context['actual_length']}); at most {context['max_length']} are allowed."
    if kind == "too_short":
        return f"has too few entries ({context['actual_length']}); at least {context['min_length']} are needed."
    if kind == "string_pattern_mismatch":
        return 'is not allowed; write the three capital letters of a currency, like "USD".'
    return f"is not allowed; write {_TYPES.get(kind.partition('_')[0], 'another value')}."


def _right_heading(kind: str, location: Location, value: Any) -> str | None:
    """Return how a heading is written that has one bracket too few or too many, None where it is not the heading."""
    keys = ".".join(step for step in location if isinstance(step, str))
    if kind.startswith("tuple") and isinstance(value, Mapping):
        return f"write its heading in two brackets, [[{keys}]], since there may be several."
    if kind.startswith("model") and isinstance(value, list) and value and isinstance(value[0], Mapping):
        return f"write its heading in one bracket, [{keys}], and once only."
    return None


def _example_of(key: str | int) -> str:
    """Return how a part of the file that is a table is written, where people write a plain value instead."""
    example = _TABLES.get(str(key))
    return f" Like this: {example}." if example else ""


def _unknown_key(location: Location, plain: Any) -> str:
    """Return the line for a key that no table of this kind has."""
    key = str(location[-1])
    model = _model_at(location[:-1])
    allowed = sorted(field.alias or name for name, field in model.model_fields.items()) if model else []
    where = key_path(location[:-1], plain)
    there = f"{where}: " if where else ""
    inside = " Each line belongs to the heading above it: is it under the right one?" if where else ""
    mend = nearest_of(key, allowed) or inside
    return f"{there}the key {shown(key)} is not known; allowed here: {', '.join(allowed)}.{mend}"


def _missing(location: Location, plain: Any) -> str:
    """Return the line for a key, or an entry of a list, that is not there."""
    where = key_path(location[:-1], plain)
    there = f"{where}: " if where else ""
    if isinstance(location[-1], int):
        return f"{there}{shown(_value_at(location[:-1], plain))} has too few entries; one more is needed."
    if location == ("floor",):
        return "there is no floor; write at least one [[floor]] with a name."
    return f"{there}the key {shown(str(location[-1]))} is missing. Add it."


def _model_at(location: Location) -> type[BaseModel] | None:
    """Return the part of the document that stands at a location."""
    model: type[BaseModel] | None = Job
    for step in location:
        if isinstance(step, int) or step in _TAGS:
            continue
        fields = model.model_fields.values() if model else ()
        names = model.model_fields if model else {}
        annotation = next(
            (field.annotation for name, field in zip(names, fields, strict=True) if step == (field.alias or name)), None
        )
        model = _model_in(annotation)
    return model


def _model_in(annotation: Any) -> type[BaseModel] | None:
    """Return the one model inside an annotation such as `tuple[Floor, ...]` or `Room | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((model for inner in get_args(annotation) if (model := _model_in(inner))), None)
