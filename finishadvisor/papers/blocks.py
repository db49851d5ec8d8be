"""The parts that a paper is made of, as plain data for the one template that sets them (templates/sheet.typ)."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from finishadvisor.papers.typeset import typeset

Block = Mapping[str, Any]
KEPT_WHOLE: Final = 8
"""A table of no more rows than this, all short, stays on one page."""
SHORT_CELL: Final = 60


@dataclass(frozen=True)
class Sheet:
    """One paper before it is set: title, the one-sentence answer, its parts, the foot, and its pictures by name."""

    title: str
    answer: str
    blocks: Sequence[Block]
    foot: str
    pictures: Mapping[str, bytes] = field(default_factory=dict)

    def data(self) -> dict[str, Any]:
        """Return what the template reads."""
        blocks = [block for block in self.blocks if block]
        return {"title": self.title, "answer": self.answer, "foot": self.foot, "blocks": blocks}

    def pdf(self, units: str) -> bytes:
        """Return the paper as PDF, on the page of a job in these units."""
        return typeset("sheet", self.data(), units=units, pictures=self.pictures)


def heading(words: str) -> Block:
    """Return a heading."""
    return {"kind": "heading", "words": words}


def subheading(words: str, aside: str = "", *, tick: bool = False) -> Block:
    """Return a smaller heading with words at the right end of its line, and a box to tick before it."""
    return {"kind": "subheading", "words": words, "aside": aside, "tick": tick}


def text(words: str) -> Block:
    """Return a paragraph."""
    return {"kind": "text", "words": words}


def quiet(words: str, *, leads: bool = False) -> Block:
    """Return a paragraph in small, quiet type; one that leads stays on the page of what follows."""
    return {"kind": "quiet", "words": words, "leads": leads}


def hold(words: str) -> Block:
    """Return a hold point: a box to tick, a rule down its side, and a line to sign on."""
    return {"kind": "hold", "words": words}


def points(items: Iterable[str], *, small: bool = False) -> Block:
    """Return a list of points; nothing where there are none. Small points stand in two columns."""
    listed = list(items)
    return {"kind": "points", "items": listed, "small": small} if listed else {}


def checks(items: Iterable[str], columns: int = 1) -> Block:
    """Return a list with a box to tick before each item; nothing where there are none."""
    listed = list(items)
    return {"kind": "checks", "items": listed, "columns": columns} if listed else {}


def facts(rows: Iterable[tuple[str, str]]) -> Block:
    """Return labels with their values, one a line."""
    return {"kind": "facts", "rows": [list(row) for row in rows]}


def table(
    head: Sequence[str],
    rows: Iterable[Sequence[str]],
    align: str = "",
    *,
    shares: Sequence[float] = (1,),
    tall: bool = False,
    small: bool = False,
) -> Block:
    """Return a table; nothing where it has no rows.

    Args:
        head: a word or two for each column, with its unit.
        rows: the cells.
        align: a letter for each column, l, r or c; all left when empty.
        shares: how the columns share the room that is left; 0, or none given: as wide as its words ask for.
        tall: rows that are filled in by hand.
        small: in small type, for tables of sentences.
    """
    cells = [list(row) for row in rows]
    if not cells:
        return {}
    names = {"l": "left", "r": "right", "c": "center"}
    return {
        "kind": "table",
        "head": list(head),
        "rows": cells,
        "align": [names[letter] for letter in align or "l" * len(head)],
        "shares": [*shares, *[0] * (len(head) - len(shares))],
        "tall": tall,
        "small": small,
        "whole": len(cells) <= KEPT_WHOLE and max(len(cell) for row in cells for cell in row) <= SHORT_CELL,
    }


def picture(name: str, alt: str, *, width: float = 0, caption: str = "") -> Block:
    """Return a picture by its file name, its words for who does not see it, its width in percent; 0: as drawn."""
    return {"kind": "picture", "picture": name, "alt": alt, "width": width, "caption": caption}


def pictures(names: Iterable[str], captions: Iterable[str]) -> Block:
    """Return pictures of one height side by side, each with its caption."""
    return {"kind": "pictures", "names": list(names), "captions": list(captions)}


def drawings(names: Iterable[str], captions: Iterable[str]) -> Block:
    """Return drawings of one scale two to a row, as large as they are drawn, each with its caption."""
    return {"kind": "drawings", "names": list(names), "captions": list(captions)}


def write_in(labels: Iterable[str], columns: int = 2) -> Block:
    """Return labels with a line to write on after each."""
    return {"kind": "write-in", "labels": list(labels), "columns": columns}


def signatures(labels: Iterable[str]) -> Block:
    """Return lines to sign on, side by side, kept together at the end of a paper."""
    return {"kind": "signatures", "labels": list(labels)}


def together(blocks: Iterable[Block]) -> Block:
    """Return parts that stay on one page. They must not be taller than a page."""
    return {"kind": "together", "blocks": [block for block in blocks if block]}


def new_page() -> Block:
    """Return a page break."""
    return {"kind": "new-page"}


def grid_paper(height_in: float) -> Block:
    """Return squared paper to sketch a plan on."""
    return {"kind": "grid-paper", "height": height_in}
