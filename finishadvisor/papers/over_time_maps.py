"""Shade maps of one place on several days, side by side on one color scale."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from finishadvisor.papers.figures import INK, PAPER, QUIET, TEXT_PT, WHITE, plain_style, printed, ready
from finishadvisor.papers.shade_scale import COLORS, END_OF_BAR, LIMITS, signed_difference
from finishadvisor.records.evenness import Patch
from finishadvisor.records.shade import ShadeMap

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_IN_ROW: Final = 4
MOST_ROWS: Final = 2
"""More maps than this fill another picture, so that each stays on its page."""
WIDE_IN: Final = 6.6
HIGH_IN: Final = 3.0
"""The most that one map is tall."""
GAP_IN: Final = 0.18
WORDS_IN: Final = 0.42
"""Above each map, for its day and the age of the slab."""
BAR_IN, BAR_WIDE_IN, BAR_BELOW_IN = 0.09, 3.6, 0.42
"""The bar: how thick and long it is, and the room under it for its figures and words."""


@dataclass(frozen=True)
class DatedMap:
    """The shade of the place on one day, its patches, how the photo is turned on the plan, and two lines of words."""

    shade: ShadeMap
    patches: tuple[Patch, ...]
    turned_deg: int
    day: str
    age: str


def over_time_maps(maps: Sequence[DatedMap]) -> list[bytes]:
    """Return pictures (PNG) of the maps in their order, at most two rows of them in each.

    Each map is against its own typical shade, so that a change of exposure does not look like one of the slab.

    Args:
        maps: of one place, the oldest first.
    """
    most = MOST_IN_ROW * MOST_ROWS
    return [_picture(maps[start : start + most], min(len(maps), MOST_IN_ROW)) for start in range(0, len(maps), most)]


def _picture(maps: Sequence[DatedMap], columns: int) -> bytes:
    ready()
    from matplotlib.figure import Figure

    panel_in = (WIDE_IN - GAP_IN * (columns - 1)) / max(columns, 2)
    sides = [_sides(one) for one in maps]
    ft_per_in = max(max(wide / panel_in, high / HIGH_IN) for wide, high in sides)
    high_in = max(high for _, high in sides) / ft_per_in
    rows = math.ceil(len(maps) / columns)
    below_in = BAR_BELOW_IN + BAR_IN + GAP_IN
    total_in = rows * (high_in + WORDS_IN) + (rows - 1) * GAP_IN + below_in
    figure = Figure(figsize=(WIDE_IN, total_in), facecolor=WHITE)
    with plain_style():
        for number, (one, (wide, high)) in enumerate(zip(maps, sides, strict=True)):
            row, column = divmod(number, columns)
            left = column * (panel_in + GAP_IN)
            bottom = total_in - (row + 1) * (high_in + WORDS_IN) - row * GAP_IN
            place = (left / WIDE_IN, bottom / total_in, wide / ft_per_in / WIDE_IN, high / ft_per_in / total_in)
            cells = _draw(figure.add_axes(place), one, (wide, high))
        bar = figure.add_axes((0.0, BAR_BELOW_IN / total_in, BAR_WIDE_IN / WIDE_IN, BAR_IN / total_in))
        _draw_bar(figure, bar, cells)
        return printed(figure, "png")


def _sides(one: DatedMap) -> tuple[float, float]:
    """Return how wide and high the place is on the plan [ft]."""
    wide, high = one.shade.width_ft, one.shade.length_ft
    return (high, wide) if one.turned_deg % 180 else (wide, high)


def _draw(axes: "Axes", one: DatedMap, sides: tuple[float, float]) -> Any:
    """Draw one map as it lies on the plan, its patches outlined, and its words over it."""
    from matplotlib.patches import Rectangle

    quarters = one.turned_deg // 90
    axes.add_patch(Rectangle((0, 0), *sides, facecolor=PAPER, edgecolor="none", hatch="////", zorder=0))
    cells = axes.imshow(
        np.rot90(signed_difference(one.shade), -quarters), origin="lower", extent=(0, sides[0], 0, sides[1]),
        interpolation="nearest", cmap=COLORS, vmin=-END_OF_BAR, vmax=END_OF_BAR, zorder=1,
    )  # fmt: skip
    for patch in one.patches:
        outline = _turned(np.array([*patch.outline_ft, patch.outline_ft[0]]), quarters, one.shade)
        axes.plot(outline[:, 0], outline[:, 1], color=INK, linewidth=0.7, zorder=2)
    axes.set(xlim=(0, sides[0]), ylim=(0, sides[1]), aspect="equal")
    axes.set_axis_off()
    axes.annotate(
        one.day, (0, 1), xycoords="axes fraction", xytext=(0, 16), textcoords="offset points", fontsize=TEXT_PT,
        color=INK, weight="bold",
    )  # fmt: skip
    axes.annotate(
        one.age, (0, 1), xycoords="axes fraction", xytext=(0, 5), textcoords="offset points", fontsize=TEXT_PT,
        color=QUIET,
    )  # fmt: skip
    return cells


def _turned(outline: Any, quarters: int, shade: ShadeMap) -> Any:
    """Return points of the photo's own sides turned as the photo is on the plan, from the lower left corner again."""
    x, y = outline[:, 0], outline[:, 1]
    wide, long = shade.width_ft, shade.length_ft
    return np.column_stack([(x, y), (long - y, x), (wide - x, long - y), (y, wide - x)][quarters % 4])


def _draw_bar(figure: "Figure", axes: "Axes", cells: Any) -> None:
    bar = figure.colorbar(cells, cax=axes, orientation="horizontal")
    bar.outline.set_visible(False)
    marks = [-END_OF_BAR, *(-limit for limit in reversed(LIMITS)), 0.0, *LIMITS, END_OF_BAR]
    bar.set_ticks(marks, labels=[f"{abs(mark):g}" for mark in marks])
    bar.ax.tick_params(colors=QUIET, length=4)
    first, *_, last = bar.ax.get_xticklabels()
    first.set_horizontalalignment("left")
    last.set_horizontalalignment("right")
    bar.set_label("darker   —   CIEDE2000 from typical   —   lighter", color=QUIET)
