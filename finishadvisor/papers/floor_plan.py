"""The floor on a plan to scale, in vector: outline, dimension strings, joints, zones, test places."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from finishadvisor.errors import EntryError
from finishadvisor.job.document import Floor
from finishadvisor.job.drawn import Outline
from finishadvisor.job.lengths import write_length
from finishadvisor.job.outline import floor_polygon
from finishadvisor.papers.figures import (
    HOLD,
    INK,
    QUIET,
    TEXT_PT,
    WHITE,
    WORK,
    Form,
    bare_axes,
    drawn,
)
from finishadvisor.papers.wording import area_text
from finishadvisor.works.takeoff import zone_shapes

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from shapely import Polygon

ROOM_IN: Final = (6.4, 3.5)
"""The most that a plan is wide and tall [in]."""
STRING_GAP_IN: Final = 0.26
"""From the outline to the first dimension string, and from string to string."""
LETTER_IN: Final = 0.065
"""Width of a figure in the type of the strings [in]."""
_PLATE: Final[dict[str, Any]] = {"facecolor": WHITE, "edgecolor": "none", "pad": 0.6}
"""Behind words that stand on a line."""
MOST_STOPS: Final = 9
"""With more corners along a side than this, its string would be a thicket: only the whole side is given."""
JOINT_STYLES: Final[dict[str, Any]] = {
    "control": {"linestyle": (0, (5, 3)), "linewidth": 0.9, "color": INK},
    "construction": {"linestyle": (0, (9, 2, 2, 2)), "linewidth": 1.1, "color": INK},
    "isolation": {"linestyle": (0, (1, 1.5)), "linewidth": 1.6, "color": INK},
    "crack": {"linestyle": "solid", "linewidth": 0.8, "color": HOLD},
}


@dataclass(frozen=True)
class MarkedPlace:
    """A place on the plan that is marked with a cross and a short label."""

    x_ft: float
    y_ft: float
    label: str


def zone_letter(number: int) -> str:
    """Return the letter of a zone, counted from 0: A to Z, then AA, AB, ..."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def floor_plan(
    floor: Floor,
    units: str,
    form: Form = "svg",
    tests: Sequence[MarkedPlace] | None = None,
    *,
    room_in: tuple[float, float] = ROOM_IN,
) -> bytes | None:
    """Return the plan of a floor as a file, None where the floor has no outline that can be drawn.

    Args:
        floor: the floor.
        units: "us" or "metric", for the dimension strings.
        form: kind of file.
        tests: places to mark; the floor's own readings when left out.
        room_in: the most that the drawing may be wide and tall [in].
    """
    outline = floor.outline
    if outline is None:
        return None
    try:
        x0, y0, x1, y1 = floor_polygon(outline).bounds
    except EntryError:
        return None
    strings_in, blank_in = 2.9 * STRING_GAP_IN, 0.4 * STRING_GAP_IN
    around_in = strings_in + blank_in
    ft_per_in = max((x1 - x0) / (room_in[0] - around_in), (y1 - y0) / (room_in[1] - around_in))
    strings, blank = strings_in * ft_per_in, blank_in * ft_per_in
    marked = places_of(floor) if tests is None else tests

    def draw(figure: "Figure") -> None:
        figure.set_layout_engine("none")
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        bare_axes(axes)
        axes.set(xlim=(x0 - strings, x1 + blank), ylim=(y0 - blank, y1 + strings), aspect="equal")
        _draw_zones(axes, outline, marked, ft_per_in, units)
        _draw_joints(axes, outline)
        _draw_strings(axes, outline, (x0, y0, x1, y1), STRING_GAP_IN * ft_per_in, units)
        _draw_tests(axes, marked)
        axes.plot([x0], [y0], marker="o", markersize=5, color=WORK, clip_on=False, zorder=6)

    return drawn((x1 - x0) / ft_per_in + around_in, (y1 - y0) / ft_per_in + around_in, form, draw)


def places_of(floor: Floor) -> tuple[MarkedPlace, ...]:
    """Return where the floor's readings were taken, those with a place on the plan, numbered in their order."""
    at = [(number, reading) for number, reading in enumerate(floor.readings, start=1)]
    return tuple(
        MarkedPlace(reading.place[0], reading.place[1], str(number))
        for number, reading in at
        if reading.place is not None and not isinstance(reading.place, str)
    )


def _draw_zones(
    axes: "Axes", outline: Outline, tests: Sequence[MarkedPlace], ft_per_in: float, units: str
) -> None:  # fmt: skip
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path as Line

    polygon = floor_polygon(outline)
    for part in getattr(polygon, "geoms", [polygon]):
        rings = [part.exterior, *part.interiors]
        line = Line.make_compound_path(*(Line(list(ring.coords), closed=True) for ring in rings))
        axes.add_patch(PathPatch(line, facecolor=WHITE, edgecolor=INK, linewidth=1.6, zorder=2, gid="floor"))
    for number, shape in enumerate(zone_shapes(outline)):
        inside = _free_place(shape, tests, 0.45 * ft_per_in)
        letter = zone_letter(number)
        axes.annotate(
            letter, inside, ha="center", va="bottom", fontsize=TEXT_PT * 1.44, color=WORK, weight="bold", zorder=5
        )  # fmt: skip
        axes.annotate(
            area_text(float(shape.area), units), inside, xytext=(0, -2), textcoords="offset points", ha="center",
            va="top", fontsize=TEXT_PT * 0.9, color=QUIET, zorder=5,
        )  # fmt: skip


def _free_place(shape: "Polygon", tests: Sequence[MarkedPlace], clear_ft: float) -> tuple[float, float]:
    """Return where a zone's letter stands: at its middle, or moved so far that no test mark is covered."""
    from shapely import Point

    x0, y0, x1, y1 = shape.bounds
    middle = shape.centroid if shape.contains(shape.centroid) else shape.representative_point()
    moves = [(0.0, 0.0), *((dx, dy) for dy in (-0.25, 0.25, 0.0) for dx in (0.25, -0.25, 0.0))]
    places = [(middle.x + dx * (x1 - x0), middle.y + dy * (y1 - y0)) for dx, dy in moves]
    inside = [place for place in places if shape.contains(Point(place).buffer(0.1 * clear_ft))] or places[:1]

    def clearance(place: tuple[float, float]) -> float:
        return min((math.dist(place, (test.x_ft, test.y_ft)) for test in tests), default=math.inf)

    return next((place for place in inside if clearance(place) > clear_ft), max(inside, key=clearance))


def _draw_joints(axes: "Axes", outline: Outline) -> None:
    for joint in outline.joints:
        style = JOINT_STYLES[joint.kind]
        axes.plot(*zip(joint.start, joint.end, strict=True), zorder=4, solid_capstyle="butt", **style)


def _draw_strings(
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
        fontsize=TEXT_PT * 0.9, color=INK, zorder=3, bbox=None if fits else _PLATE,
    )  # fmt: skip


def _draw_tests(axes: "Axes", tests: Sequence[MarkedPlace]) -> None:
    for test in tests:
        axes.plot([test.x_ft], [test.y_ft], marker="x", markersize=7, markeredgewidth=1.6, color=HOLD, zorder=6)
        axes.annotate(
            test.label, (test.x_ft, test.y_ft), xytext=(6, 4), textcoords="offset points", fontsize=TEXT_PT * 0.9,
            color=HOLD, bbox=_PLATE, zorder=5,
        )  # fmt: skip
