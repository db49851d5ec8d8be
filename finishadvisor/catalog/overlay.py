"""Lays the user's own rows over the shipped ones, by table and id: a known id replaces the row, a new one joins."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from finishadvisor.catalog.read import PlainRow
from finishadvisor.catalog.row import Row
from finishadvisor.errors import CatalogError

Key = tuple[str, str]
"""Table and id."""
Placed = tuple[PlainRow, Row]
"""A row as it stands in its file, and as built."""


def join(files: Iterable[tuple[Path, tuple[Placed, ...]]]) -> dict[Key, Placed]:
    """Return the rows of files that belong together, each id once.

    Raises:
        CatalogError: an id stands twice in one table.
    """
    joined: dict[Key, Placed] = {}
    for _, rows in files:
        for plain, row in rows:
            key = (plain.table, plain.id)
            if key in joined:
                first = joined[key][0].file
                where = f"{plain.file}, where it stands twice" if first == plain.file else f"{first} and {plain.file}"
                raise CatalogError(
                    f'{plain.table} "{plain.id}" is repeated: {where}. Keep one, or give the other a new id.'
                )
            joined[key] = (plain, row)
    return joined


def lay_over(shipped: Mapping[Key, Placed], own: Iterable[tuple[Path, tuple[Placed, ...]]]) -> dict[Key, Placed]:
    """Return the shipped rows with the user's laid over them, file after file; a later file wins.

    Raises:
        CatalogError: an id stands twice in one table of one file.
    """
    rows = dict(shipped)
    for path, placed in own:
        rows |= join([(path, placed)])
    return rows


def own_row_names(own: Iterable[tuple[Path, tuple[Placed, ...]]], rows: Mapping[Key, Placed]) -> tuple[str, ...]:
    """Return the user's rows that are in force, like `rule no-epoxy-on-porch (my-rules.toml)`."""
    return tuple(
        f"{plain.table} {plain.id} ({plain.file})"
        for _, placed in own
        for plain, row in placed
        if rows[plain.table, plain.id][1] is row
    )
