"""Builds a row of the catalog from what stands in the file, or says in one line what is wrong with it."""

import math
from collections.abc import Mapping
from typing import Any, Final

from msgspec import ValidationError

from finishadvisor.catalog.read import TABLES, PlainRow
from finishadvisor.catalog.row import Row
from finishadvisor.catalog.sense import nonsense
from finishadvisor.catalog.shape import first_mistake
from finishadvisor.errors import CatalogError

_DEEPEST: Final = 12
_LONGEST_SHOWN: Final = 60


def build_row(row: PlainRow) -> Row:
    """Return the row in the shape of its table; a number in quotes is no number, a whole number serves as a number.

    Raises:
        CatalogError: a key is unknown, missing or of the wrong kind.
    """
    model = TABLES[row.table]
    try:
        return model.model_validate(row.plain)
    except ValidationError:
        _refuse_odd_values(row.plain, row)
        raise CatalogError(f"{row}: {first_mistake(row.plain, model)}") from None


def build_sound_row(row: PlainRow) -> Row:
    """Return the row as `build_row` does, once it is seen that its values make sense together.

    Raises:
        CatalogError: as `build_row` says, or the values make no sense together.
    """
    _refuse_odd_values(row.plain, row)
    built = build_row(row)
    for mistake in nonsense(built, row.plain):
        raise CatalogError(f"{row}: {mistake}")
    return built


def _refuse_odd_values(value: Any, row: PlainRow, depth: int = 0) -> None:
    """Refuse dates, numbers that are not finite, and nesting that no row needs.

    Raises:
        CatalogError: there is such a value.
    """
    if depth > _DEEPEST:
        raise CatalogError(f"{row}: values are nested more than {_DEEPEST} deep. Keep the row flat.")
    if isinstance(value, Mapping | list):
        for inner in value.values() if isinstance(value, Mapping) else value:
            _refuse_odd_values(inner, row, depth + 1)
    elif isinstance(value, int | float) and not _is_finite(value):
        raise CatalogError(
            f"{row}: {str(value)[:_LONGEST_SHOWN]} is no finite number. Write the number itself, or leave the key out."
        )
    elif not isinstance(value, str | int | float):
        raise CatalogError(f"{row}: {value} is a date or a time. No row holds one; put text in quotes.")


def _is_finite(value: float) -> bool:
    try:
        return math.isfinite(value)
    except OverflowError:  # a whole number of hundreds of digits
        return False
