"""Lines and tables of plain text, no wider than the terminal: columns side by side, or below one another."""

import shutil
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import click

_GAP: Final = "  "
_WITHOUT_TERMINAL: Final = 110
_WIDEST: Final = 120
_NARROWEST: Final = 40
_WIDEST_PROSE: Final = 100
"""Longer lines of running text are hard to read."""
_NARROWEST_WRAPPED: Final = 16


@dataclass(frozen=True)
class Column:
    """One column: its title, and whether its cells stand at the right or wrap into several lines."""

    title: str
    right: bool = False
    wraps: bool = False


def print_prose(text: str, first: str = "", others: str = "") -> None:
    """Print running text in lines that fit the terminal, at most 100 characters wide.

    Args:
        text: the text, without line breaks.
        first: what stands before its first line.
        others: what stands before its other lines.
    """
    width = min(_line_width(), _WIDEST_PROSE)
    wrapped = textwrap.wrap(
        text, width, initial_indent=first, subsequent_indent=others, break_on_hyphens=False, break_long_words=False
    )
    click.echo("\n".join(wrapped))


def print_columns(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> None:
    """Print titles and rows, a cell for each column, as wide as the terminal, at most 120 characters.

    Where the terminal is too narrow for the columns, each row is printed as lines of its own.
    """
    cells = [[column.title for column in columns], *rows]
    widths = [max(len(row[number]) for row in cells) for number in range(len(columns))]
    beyond = sum(widths) + len(_GAP) * (len(columns) - 1) - _line_width()
    for number, column in enumerate(columns):
        if column.wraps and beyond > 0:
            narrower = min(widths[number], max(_NARROWEST_WRAPPED, widths[number] - beyond))
            beyond -= widths[number] - narrower
            widths[number] = narrower
    if beyond > 0 and rows:
        for row in rows:
            _print_stacked(columns, row)
        return
    for row in cells:
        for line in _lines(columns, row, widths):
            click.echo(line)


def _line_width() -> int:
    width = shutil.get_terminal_size((_WITHOUT_TERMINAL, 0)).columns
    return max(_NARROWEST, min(width, _WIDEST))


def _print_stacked(columns: Sequence[Column], row: Sequence[str]) -> None:
    """Print one row for a narrow terminal: its wrapping cell as a heading, the others with their titles below it."""
    head = [cell for column, cell in zip(columns, row, strict=True) if column.wraps or not column.title]
    rest = [f"{column.title} {cell}" for column, cell in zip(columns, row, strict=True)
            if column.title and not column.wraps and cell not in {"", "-"}]  # fmt: skip
    print_prose(" ".join(filter(None, head)), "", _GAP)
    if rest:
        print_prose("; ".join(rest), _GAP * 2, _GAP * 2)


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
