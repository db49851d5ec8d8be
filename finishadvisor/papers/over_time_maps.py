"""Shade maps of one place on several days, side by side on one color scale."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishadvisor.papers.figures import INK, PAPER, QUIET, TEXT_PT
from finishadvisor.papers.shade_scale import END_OF_BAR, LIMITS, colors, signed_difference
from finishadvisor.papers.vector import Drawing, Side, hatch
from finishadvisor.records.evenness import Patch
from finishadvisor.records.shade import ShadeMap

MOST_IN_ROW: Final = 4
MOST_ROWS: Final = 2
"""More maps than this fill another picture, so that each stays on its page."""
WIDE_PT: Final = 475.0
HIGH_PT: Final = 216.0
"""The most that one map is tall."""
GAP_PT: Final = 13.0
WORDS_PT: Final = 30.0
"""Above each map, for its day and the age of the slab."""
BAR_PT: Final = (260.0, 7.0, 34.0)
"""The bar: how wide and high it is, and the room under it for its figures and words."""
_STEPS: Final = 256


@dataclass(frozen=True)
class DatedMap:
    """The shade of the place on one day, its patches, how the photo is turned on the plan, and two lines of words."""

    shade: ShadeMap
    patches: tuple[Patch, ...]
    turned_deg: int
    day: str
    age: str

    @property
    def sides_ft(self) -> tuple[float, float]:
        """How wide and high the place is on the plan."""
        wide, long = self.shade.width_ft, self.shade.length_ft
        return (long, wide) if self.turned_deg % 180 else (wide, long)


def over_time_maps(maps: Sequence[DatedMap]) -> list[bytes]:
    """Return pictures (SVG) of the maps in their order, at most two rows of them in each.

    Each map is against its own typical shade, so that a change of exposure does not look like one of the slab.

    Args:
        maps: of one place, the oldest first.
    """
    most, columns = MOST_IN_ROW * MOST_ROWS, min(len(maps), MOST_IN_ROW)
    return [_picture(maps[start : start + most], columns) for start in range(0, len(maps), most)]


def _picture(maps: Sequence[DatedMap], columns: int) -> bytes:
    slot = (WIDE_PT - GAP_PT * (columns - 1)) / columns
    scale = min(min(slot / one.sides_ft[0], HIGH_PT / one.sides_ft[1]) for one in maps)
    row_high = WORDS_PT + GAP_PT + scale * max(one.sides_ft[1] for one in maps)
    rows = math.ceil(len(maps) / columns)
    _, bar_high, under = BAR_PT
    drawing = Drawing(WIDE_PT, rows * row_high + bar_high + under)
    for number, one in enumerate(maps):
        row, column = divmod(number, columns)
        _draw(drawing, one, column * (slot + GAP_PT), row * row_high + WORDS_PT, scale)
    _draw_bar(drawing, rows * row_high)
    return drawing.svg()


def _draw(drawing: Drawing, one: DatedMap, left: float, top: float, scale: float) -> None:
    """Draw one map as it lies on the plan, its patches outlined, and its words over it."""
    wide, high = (side * scale for side in one.sides_ft)
    quarters = one.turned_deg // 90
    drawing.words(left, top - 5 - 1.25 * TEXT_PT, one.day, TEXT_PT, INK)
    drawing.words(left, top - 5, one.age, TEXT_PT, QUIET)
    drawing.box(left, top, wide, high, PAPER)
    hatch(drawing, left + 0.5, top + 0.5, wide - 1, high - 1)
    cells = np.rot90(colors(signed_difference(one.shade)), -quarters)
    drawing.picture(left, top, wide, high, np.ascontiguousarray(cells[::-1]))
    for patch in one.patches:
        outline = [_turned(point, quarters, one.shade) for point in (*patch.outline_ft, patch.outline_ft[0])]
        drawing.line([(left + x * scale, top + high - y * scale) for x, y in outline], INK, 0.7)


def _turned(point: tuple[float, float], quarters: int, shade: ShadeMap) -> tuple[float, float]:
    """Return a point of the photo's own sides turned as the photo is on the plan, from the lower left corner again."""
    (x, y), wide, long = point, shade.width_ft, shade.length_ft
    return ((x, y), (long - y, x), (wide - x, long - y), (y, wide - x))[quarters % 4]


def _draw_bar(drawing: Drawing, top: float) -> None:
    """Draw the bar under the maps that says which color stands for which difference."""
    wide, high, _ = BAR_PT
    drawing.picture(0, top, wide, high, colors(np.linspace(-END_OF_BAR, END_OF_BAR, _STEPS)[np.newaxis, :]))
    for mark in (-END_OF_BAR, *(-limit for limit in LIMITS), 0.0, *LIMITS, END_OF_BAR):
        x = (mark / END_OF_BAR + 1) / 2 * wide
        drawing.line([(x, top + high), (x, top + high + 4)], QUIET, 0.8)
        side: Side = "start" if mark == -END_OF_BAR else "end" if mark == END_OF_BAR else "middle"
        drawing.words(x, top + high + 5 + TEXT_PT, f"{abs(mark):g}", TEXT_PT, QUIET, side=side)
    words = "darker   —   CIEDE2000 from typical   —   lighter"
    drawing.words(wide / 2, top + high + 7 + 2.2 * TEXT_PT, words, TEXT_PT, QUIET, side="middle")
