"""Says in one line why the values of a row do not have the shape of its table: the key, the value, what is allowed."""

import json
import types
from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin

from msgspec.structs import fields

from finishadvisor.catalog.row import Row
from finishadvisor.errors import nearest_of

Place = tuple[int | str, ...]
"""The keys and numbers of entries that lead to a value."""
Mistake = tuple[bool, str]
"""Whether it is a key that nothing knows, and the line."""

_LONGEST_SHOWN: Final = 60
_WRITTEN: Final[Mapping[Any, tuple[Any, str]]] = {
    float: ((int, float), "a number, without quotes"),
    int: (int, "a whole number, without quotes"),
    bool: (bool, "true or false, without quotes"),
    str: (str, "a text in quotes"),
    tuple: (list, "a list in square brackets"),
    dict: (Mapping, "a table in braces"),
    Row: (Mapping, "a table in braces"),
}
"""By kind of value: what TOML has for it, and how a person writes it."""


def first_mistake(plain: Mapping[str, Any], model: type[Row]) -> str:
    """Return the most telling mistake: a misspelt key explains why the right one is missing."""
    mistakes = list(_mistakes(plain, model, ()))
    return next((line for is_unknown, line in mistakes if is_unknown), mistakes[0][1])


def _mistakes(value: Any, wanted: Any, place: Place) -> Iterator[Mistake]:
    """Yield what keeps a value from being what an annotation wants, from the outermost table inward."""
    kind = get_origin(wanted) or wanted
    if kind in {Union, types.UnionType}:
        yield from _of_no_kind(value, get_args(wanted), place)
    elif kind is Annotated:
        yield from _out_of_bounds(value, wanted, place)
    elif kind is Literal:
        words = get_args(wanted)
        if value not in words:
            yield False, _refusal(value, place, f"one of {', '.join(words)}.{nearest_of(str(value), words)}")
    elif kind is not Any:
        is_row = isinstance(kind, type) and issubclass(kind, Row)
        written, in_words = _WRITTEN[Row if is_row else kind]
        if not isinstance(value, written) or (isinstance(value, bool) and kind is not bool):
            yield False, _refusal(value, place, f"{in_words}.")
        elif is_row:
            yield from _in_table(value, kind, place)
        elif kind is dict:
            for key, inner in value.items():
                yield from _mistakes(inner, get_args(wanted)[1], (*place, key))
        elif kind is tuple:
            for number, inner in enumerate(value):
                yield from _mistakes(inner, get_args(wanted)[0], (*place, number))


def _of_no_kind(value: Any, kinds: tuple[Any, ...], place: Place) -> Iterator[Mistake]:
    """Yield what is wrong with a value that may be of several kinds: what keeps it from being the first of them."""
    tried = [list(_mistakes(value, kind, place)) for kind in kinds if kind is not types.NoneType]
    yield from () if [] in tried else tried[0]


def _out_of_bounds(value: Any, wanted: Any, place: Place) -> Iterator[Mistake]:
    """Yield what is wrong with what should be a number between two bounds."""
    kind, bounds = get_args(wanted)
    mistakes = list(_mistakes(value, kind, place))
    yield from mistakes
    if not mistakes and value < bounds.ge:
        yield False, _refusal(value, place, f"at least {bounds.ge:g}.")
    if not mistakes and value > bounds.le:
        yield False, _refusal(value, place, f"at most {bounds.le:g}.")


def _in_table(value: Mapping[str, Any], model: type[Row], place: Place) -> Iterator[Mistake]:
    """Yield keys that are missing, mistakes under keys that are known, and keys that nothing knows."""
    known = fields(model)
    needed = ", ".join(field.name for field in known if field.required)
    for field in known:
        if field.name in value:
            yield from _mistakes(value[field.name], field.type, (*place, field.name))
        elif field.required:
            yield False, f"key {_key((*place, field.name))} is missing. Needed are {needed}."
    allowed = [field.name for field in known]
    for key in value:
        if key not in allowed:
            here = _key((*place, key))
            yield True, f"key {here} is unknown. Allowed are {', '.join(allowed)}.{nearest_of(key, allowed)}"


def _refusal(value: Any, place: Place, wanted: str) -> str:
    shown = json.dumps(value, ensure_ascii=False, default=str)
    shown = shown if len(shown) <= _LONGEST_SHOWN else f"{shown[: _LONGEST_SHOWN - 3]}..."
    return f"key {_key(place)} is {shown}; it must be {wanted}"


def _key(place: Place) -> str:
    """Return a key path in words; entries of a list are counted from 1."""
    return ", ".join(f"entry {step + 1}" if isinstance(step, int) else f'"{step}"' for step in place)
