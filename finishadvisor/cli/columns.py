"""Tables of plain text: columns side by side, one of which wraps where the line would grow too long."""

import shutil
import sys
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import click

_GAP: Final = "  "
_WITHOUT_TERMINAL: Final = 110
_WIDEST: Final = 120
_NARROWEST_WRAPPED: Final = 16


@dataclass(frozen=True)
class Column:
    """One column: its title, and whether its cells stand at the right or wrap into several lines."""

    title: str
    right: bool = False
    wraps: bool = False


def print_columns(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> None:
    """Print titles and rows, a cell for each column, as wide as the terminal, at most 120 characters."""
    cells = [[column.title for column in columns], *rows]
    widths = [max(len(row[number]) for row in cells) for number in range(len(columns))]
    beyond = sum(widths) + len(_GAP) * (len(columns) - 1) - _line_width()
    for number, column in enumerate(columns):
        if column.wraps and beyond > 0:
            widths[number] = max(_NARROWEST_WRAPPED, widths[number] - beyond)
    for row in cells:
        for line in _lines(columns, row, widths):
            click.echo(line)


def _line_width() -> int:
    return min(shutil.get_terminal_size().columns, _WIDEST) if sys.stdout.isatty() else _WITHOUT_TERMINAL


def _lines(columns: Sequence[Column], row: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    """Yield the lines of one row; only a cell that wraps has more than one."""
    parts = [
        textwrap.wrap(cell, width, break_on_hyphens=False) if column.wraps else [cell]
        for column, cell, width in zip(columns, row, widths, strict=True)
    ]
    for number in range(max(map(len, parts))):
        placed = [
            text.rjust(width) if column.right else text.ljust(width)
            for column, width, part in zip(columns, widths, parts, strict=True)
            for text in [part[number] if number < len(part) else ""]
        ]
        yield _GAP.join(placed).rstrip()
