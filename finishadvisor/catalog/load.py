"""The one way to the catalog: shipped rows and the user's own, checked, as one frozen record."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from finishadvisor.catalog.models import Catalog, Finish, Rule
from finishadvisor.catalog.overlay import Key, Placed, join, lay_over, own_row_names
from finishadvisor.catalog.read import read_rows
from finishadvisor.catalog.references import PLURALS, check_references
from finishadvisor.catalog.rows import build_row, build_sound_row
from finishadvisor.errors import CatalogError

DATA: Final = Path(__file__).with_name("data")
_READ_ELSEWHERE: Final = frozenset({"evenness_limits.toml"})
"""Limits of the measurement are no part of the catalog: a photo measures the same in every job."""

Stamp = tuple[Path, int, int]
"""A file as it was when it was looked at: its path, time of change and size."""


def load_catalog(own: Sequence[Path] = ()) -> Catalog:
    """Return the shipped catalog with the user's own rows laid over it.

    Files are read again only when they have changed since the last call. The shipped rows must have the shape of their
    tables at every start; that they make sense and name what is there is looked at where the user's rows lie over them,
    and by `check_shipped`.

    Args:
        own: the user's TOML files, in the order in which they overlay.

    Raises:
        CatalogError: a file or a row cannot be used; names file, row, key, what is allowed and the nearest right name.
    """
    return _assembled(tuple(map(_stamp, shipped_files())), tuple(_stamp(path) for path in dict.fromkeys(own)))


def shipped_finishes() -> tuple[Finish, ...]:
    """Return the shipped finishes without the rest of the catalog: a photo without a job needs no more.

    Raises:
        CatalogError: a row cannot be used.
    """
    return tuple(row for _, row in _rows(_stamp(DATA / "finishes.toml")) if isinstance(row, Finish))


def check_shipped() -> None:
    """Look through the shipped rows as through the user's own.

    Raises:
        CatalogError: a row makes no sense, or names something that does not exist.
    """
    rows = join((path, _sound_rows(_stamp(path))) for path in shipped_files())
    _check(_catalog(rows, ()), rows)


def shipped_files() -> tuple[Path, ...]:
    """Return the files of the shipped catalog, in a fixed order."""
    return tuple(path for path in sorted(DATA.rglob("*.toml")) if path.name not in _READ_ELSEWHERE)


def _stamp(path: Path) -> Stamp:
    """Return what a file looks like from outside.

    Raises:
        CatalogError: it is not there, or is no file.
    """
    try:
        state = path.stat()
    except OSError as error:
        raise CatalogError(f"{path} cannot be read: {error.strerror or error}. Check its name and place.") from error
    if not path.is_file():
        raise CatalogError(f"{path} is no file. Name a TOML file of your own rows.")
    return path, state.st_mtime_ns, state.st_size


@lru_cache(maxsize=256)
def _rows(stamp: Stamp) -> tuple[Placed, ...]:
    return tuple((plain, build_row(plain)) for plain in read_rows(stamp[0]))


@lru_cache(maxsize=256)
def _sound_rows(stamp: Stamp) -> tuple[Placed, ...]:
    return tuple((plain, build_sound_row(plain)) for plain in read_rows(stamp[0]))


@lru_cache(maxsize=8)
def _assembled(shipped: tuple[Stamp, ...], own: tuple[Stamp, ...]) -> Catalog:
    own_files = [(stamp[0], _sound_rows(stamp)) for stamp in own]
    rows = lay_over(join((stamp[0], _rows(stamp)) for stamp in shipped), own_files)
    catalog = _catalog(rows, own_row_names(own_files, rows))
    if own:
        _check(catalog, rows)
    return catalog


def _check(catalog: Catalog, rows: Mapping[Key, Placed]) -> None:
    check_references(catalog, {key: plain.file for key, (plain, _) in rows.items()})


def _catalog(rows: Mapping[Key, Placed], own_rows: Iterable[str]) -> Catalog:
    """Sort the rows into their tables; rules about causes go apart."""
    tables: dict[str, dict[str, Any]] = {name: {} for name in (*PLURALS.values(), "cause_rules")}
    for (table, row_id), (_, row) in rows.items():
        is_about_cause = isinstance(row, Rule) and "cause" in row.about
        tables["cause_rules" if is_about_cause else PLURALS[table]][row_id] = row
    return Catalog(**tables, own_rows=tuple(own_rows))
