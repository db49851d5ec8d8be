"""Dimension strings of a plan: corners and joints along each axis, then the whole side."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from finishadvisor.job.drawn import Outline
from finishadvisor.job.lengths import write_length
from finishadvisor.job.outline import floor_polygon
from finishadvisor.papers.figures import INK, QUIET, TEXT_PT, WHITE

if TYPE_CHECKING:
    from matplotlib.axes import Axes

STRING_GAP_IN: Final = 0.26
"""From the outline to the first dimension string, and from string to string."""
LETTER_IN: Final = 0.065
"""Width of a figure in the type of the strings [in]."""
PLATE: Final[dict[str, Any]] = {"facecolor": WHITE, "edgecolor": "none", "pad": 0.6}
"""Behind words that stand on a line."""
MOST_STOPS: Final = 9
"""With more corners along a side than this, its string would be a thicket: only the whole side is given."""


def draw_strings(
    axes: "Axes", outline: Outline, bounds: tuple[float, float, float, float], gap: float, units: str
) -> None:
    """Draw the dimension strings: corners and joints along each axis, then the whole side."""
    x0, y1 = bounds[0], bounds[3]
    stops_x, stops_y = _stops(outline, bounds)
    for level, stops in enumerate(_levels(stops_x), start=1):
        y = y1 + level * gap
        for number, (low, high) in enumerate(pairwise(stops)):
            _dimension(axes, (low, y), (high, y), gap, _side_text(stops, number, units))
    for level, stops in enumerate(_levels(stops_y), start=1):
        x = x0 - level * gap
        for number, (low, high) in enumerate(pairwise(stops)):
            _dimension(axes, (x, low), (x, high), gap, _side_text(stops, number, units))
    for level, stops in enumerate(_levels(stops_x), start=1):
        for x in stops:
            axes.plot([x, x], [y1 + 0.3 * gap, y1 + level * gap], color=QUIET, linewidth=0.4)
    for level, stops in enumerate(_levels(stops_y), start=1):
        for y in stops:
            axes.plot([x0 - 0.3 * gap, x0 - level * gap], [y, y], color=QUIET, linewidth=0.4)


def _side_text(stops: Sequence[float], number: int, units: str) -> str:
    """Return the length from one stop to the next; in a chain of meters the unit stands on the whole side only."""
    text = write_length(stops[number + 1] - stops[number], metric=units == "metric")
    return text.removesuffix(" m") if len(stops) > 2 else text


def _levels(stops: list[float]) -> Iterator[list[float]]:
    if 2 < len(stops) <= MOST_STOPS:
        yield stops
    yield [stops[0], stops[-1]]


def _stops(outline: Outline, bounds: tuple[float, float, float, float]) -> tuple[list[float], list[float]]:
    """Return the places along x and y that a dimension string measures from: corners of the outline, and joints."""
    polygon = floor_polygon(outline)
    parts = getattr(polygon, "geoms", [polygon])
    points = [point for part in parts for ring in (part.exterior, *part.interiors) for point in ring.coords]
    straight = [joint for joint in outline.joints if joint.kind != "crack"]
    xs = [x for x, _ in points] + [j.start[0] for j in straight if math.isclose(j.start[0], j.end[0], abs_tol=0.05)]
    ys = [y for _, y in points] + [j.start[1] for j in straight if math.isclose(j.start[1], j.end[1], abs_tol=0.05)]
    return _apart(xs, (bounds[2] - bounds[0]) / 200), _apart(ys, (bounds[3] - bounds[1]) / 200)


def _apart(places: Sequence[float], least: float) -> list[float]:
    kept: list[float] = []
    for place in sorted(places):
        if not kept or place - kept[-1] > max(least, 0.05):
            kept.append(place)
    return kept


def _dimension(
    axes: "Axes", start: tuple[float, float], end: tuple[float, float], gap: float, words: str
) -> None:  # fmt: skip
    upright = start[0] == end[0]
    axes.plot(*zip(start, end, strict=True), color=QUIET, linewidth=0.6)
    for x, y in (start, end):  # the slash of a drawn dimension
        axes.plot([x - 0.12 * gap, x + 0.12 * gap], [y - 0.12 * gap, y + 0.12 * gap], color=INK, linewidth=0.9)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    length = abs(end[0] - start[0]) + abs(end[1] - start[1])
    fits = len(words) * LETTER_IN * gap / STRING_GAP_IN < length
    offset = 2 if fits else -2  # what does not fit between its slashes stands on the other side of the line
    axes.annotate(
        words, middle, xytext=(-offset, 0) if upright else (0, offset), textcoords="offset points",
        ha=("right" if fits else "left") if upright else "center",
        va="center" if upright else "bottom" if fits else "top", rotation=90 if upright else 0,
        fontsize=TEXT_PT * 0.9, color=INK, zorder=3, bbox=None if fits else PLATE,
    )  # fmt: skip
