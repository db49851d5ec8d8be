"""Reads the rows of one TOML file. A stranger's file is data only: nothing in it runs; odd sizes end in one line."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import tomli  # the compiled form of tomllib: the catalog is read at every start

from finishadvisor.catalog.models import CauseRow, Caution, Criterion, Fact, Finish, Limit, OutsideKind, Rule
from finishadvisor.catalog.row import Row, Source
from finishadvisor.catalog.supplies import Material, WorkItem
from finishadvisor.errors import CatalogError, nearest_of

TABLES: Final[Mapping[str, type[Row]]] = {
    "source": Source,
    "fact": Fact,
    "material": Material,
    "work_item": WorkItem,
    "finish": Finish,
    "rule": Rule,
    "cause": CauseRow,
    "outside_kind": OutsideKind,
    "caution": Caution,
    "limit": Limit,
    "criterion": Criterion,
}
"""What may stand in a file, by the name in double brackets."""

_MOST_BYTES: Final = 2_000_000
_MOST_CHARACTERS_A_LINE: Final = 1_000
_MOST_DOTS_A_KEY: Final = 12
_QUOTED: Final = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'')
_BETWEEN_KEYS: Final = re.compile(r"[=,{}\[\]#]")
_MOST_CHARACTERS_AN_ID: Final = 80


@dataclass(frozen=True)
class PlainRow:
    """A row as it stands in its file, not yet checked against the shape of its table."""

    file: str
    table: str
    id: str
    plain: Mapping[str, Any]

    def __str__(self) -> str:
        return f'{self.file}, {self.table} "{self.id}"'


def read_rows(path: Path) -> tuple[PlainRow, ...]:
    """Return the rows of a TOML file in order.

    Raises:
        CatalogError: the file cannot be read, is too large, is no TOML, or holds something that is no row.
    """
    plain = _parse(path)
    rows: list[PlainRow] = []
    for table, entries in plain.items():
        if table not in TABLES:
            allowed = ", ".join(f"[[{name}]]" for name in TABLES)
            raise CatalogError(
                f'{path.name}: there is no table "{_short(table)}". Allowed are {allowed}.{nearest_of(table, TABLES)}'
            )
        rows += _rows_of(path.name, table, entries)
    return tuple(rows)


def _parse(path: Path) -> dict[str, Any]:
    """Return the parsed file.

    Raises:
        CatalogError: see `read_rows`.
    """
    try:
        with path.open("rb") as file:
            content = file.read(_MOST_BYTES + 1)
    except OSError as error:
        raise CatalogError(f"{path} cannot be read: {error.strerror or error}. Check its name and place.") from error
    if len(content) > _MOST_BYTES:
        raise CatalogError(f"{path.name} is larger than {_MOST_BYTES:,} bytes. Split it into several files.")
    try:
        text = content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        raise CatalogError(f"{path.name} is not plain text in UTF-8. Save it again with that encoding.") from error
    for number, line in enumerate(text.split("\n"), start=1):
        # asked here too: a name made for each of thousands of lines costs more than reading them
        if len(line) > _MOST_CHARACTERS_A_LINE or line.count(".") > _MOST_DOTS_A_KEY:
            _refuse_costly_line(line, f"{path.name}, line {number}")
    try:
        return tomli.loads(text)
    except RecursionError as error:
        raise CatalogError(f"{path.name} nests lists or tables too deep to be read. Keep rows flat.") from error
    except ValueError as error:  # tomli's own errors, and numbers of thousands of digits
        raise CatalogError(f"{path.name} is no valid TOML: {_one_line(error)}. Mend that place.") from error


def _refuse_costly_line(line: str, where: str) -> None:
    """Refuse what no row needs and the parser would take minutes for: it works by the square of the parts of a key.

    Raises:
        CatalogError: the line is too long, or a key in it has too many parts.
    """
    if len(line) > _MOST_CHARACTERS_A_LINE:
        raise CatalogError(
            f"{where} has {len(line):,} characters; at most {_MOST_CHARACTERS_A_LINE:,} are allowed. "
            "Break a list after a comma."
        )
    unquoted = _BETWEEN_KEYS.split(_QUOTED.sub("", line))
    if max(part.count(".") for part in unquoted) > _MOST_DOTS_A_KEY:
        raise CatalogError(f"{where} joins more than {_MOST_DOTS_A_KEY} names by dots. Keep rows flat.")


def _rows_of(file: str, table: str, entries: Any) -> Iterator[PlainRow]:
    """Yield the rows of one table.

    Raises:
        CatalogError: an entry is no table, or has no usable id.
    """
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise CatalogError(f"{file}: rows of {table} must each begin with [[{table}]], in double brackets.")
    for number, entry in enumerate(entries, start=1):
        row_id = entry.get("id")
        if not isinstance(row_id, str) or not _is_id(row_id):
            shown = "has no id" if row_id is None else f"has the id {_short(str(row_id))!r}"
            raise CatalogError(
                f"{file}: {table} number {number} {shown}. An id is a text of small letters, digits, hyphens or "
                f"underscores, at most {_MOST_CHARACTERS_AN_ID} long."
            )
        yield PlainRow(file, table, row_id, entry)


def _is_id(text: str) -> bool:
    plain = text.replace("-", "").replace("_", "")
    return plain.isascii() and plain.isalnum() and plain == plain.lower() and len(text) <= _MOST_CHARACTERS_AN_ID


def _short(text: str) -> str:
    return text if len(text) <= _MOST_CHARACTERS_AN_ID else f"{text[:_MOST_CHARACTERS_AN_ID]}..."


def _one_line(error: ValueError) -> str:
    return _short(" ".join(str(error).split())).rstrip(".")
