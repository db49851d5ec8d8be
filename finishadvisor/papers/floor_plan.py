"""The floor on a plan to scale, in vector: outline, dimension strings, joints, zones, batches, test places."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from finishadvisor.errors import EntryError
from finishadvisor.job.document import Floor
from finishadvisor.job.drawn import Outline
from finishadvisor.job.outline import floor_polygon
from finishadvisor.papers.batch_areas import Layout, batch_areas
from finishadvisor.papers.dimension_strings import PLATE, STRING_GAP_IN, draw_strings
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
EDGE_IN: Final = 0.4 * STRING_GAP_IN
"""Around the outline where no string stands."""
CLEAR_IN: Final = 0.45
"""How far the words of a zone keep from other marks."""
_PILL: Final[dict[str, Any]] = {"facecolor": WHITE, "edgecolor": WORK, "linewidth": 0.7, "boxstyle": "round,pad=0.3"}
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
    layout: Layout | None = None,
    room_in: tuple[float, float] = ROOM_IN,
) -> bytes | None:
    """Return the plan of a floor as a file, None where the floor has no outline that can be drawn.

    Args:
        floor: the floor.
        units: "us" or "metric", for the dimension strings.
        form: kind of file.
        tests: places to mark; the floor's own readings when left out.
        layout: batches to draw where each of them goes.
        room_in: the most that the drawing may be wide and tall [in].
    """
    marked = places_of(floor) if tests is None else tests
    frame = _frame(floor, room_in, 2.9 * STRING_GAP_IN)
    outline = floor.outline
    if frame is None or outline is None:
        return None

    def draw(figure: "Figure") -> None:
        axes = frame.axes(figure)
        letters = _draw_zones(axes, outline, marked, frame.ft_per_in, units)
        _draw_joints(axes, outline)
        draw_strings(axes, outline, frame.bounds, STRING_GAP_IN * frame.ft_per_in, units)
        _draw_batches(axes, floor, layout, (*marked, *letters), frame.ft_per_in)
        _draw_tests(axes, marked)
        axes.plot(*frame.bounds[:2], marker="o", markersize=5, color=WORK, clip_on=False, zorder=6)

    return drawn(*frame.size_in, form, draw)


def batch_plan(floor: Floor, layout: Layout, room_in: tuple[float, float]) -> bytes | None:
    """Return a small plan of a floor with its zones and batches alone (SVG), None where it cannot be drawn."""
    frame = _frame(floor, room_in, EDGE_IN)
    outline = floor.outline
    if frame is None or outline is None:
        return None

    def draw(figure: "Figure") -> None:
        axes = frame.axes(figure)
        letters = _draw_zones(axes, outline, (), frame.ft_per_in, None)
        _draw_joints(axes, outline)
        _draw_batches(axes, floor, layout, letters, frame.ft_per_in)
        axes.plot(*frame.bounds[:2], marker="o", markersize=4, color=WORK, clip_on=False, zorder=6)

    return drawn(*frame.size_in, "svg", draw)


@dataclass(frozen=True)
class _Frame:
    """A drawing to scale: the floor's bounds, what an inch stands for, the room around the floor and the size [in]."""

    bounds: tuple[float, float, float, float]
    ft_per_in: float
    strings_in: float
    size_in: tuple[float, float]

    def axes(self, figure: "Figure") -> "Axes":
        """Return axes over the whole figure, in feet, with room for strings at the left and on top."""
        x0, y0, x1, y1 = self.bounds
        strings, blank = self.strings_in * self.ft_per_in, EDGE_IN * self.ft_per_in
        figure.set_layout_engine("none")
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        bare_axes(axes)
        axes.set(xlim=(x0 - strings, x1 + blank), ylim=(y0 - blank, y1 + strings), aspect="equal")
        return axes


def _frame(floor: Floor, room_in: tuple[float, float], strings_in: float) -> _Frame | None:
    """Return the largest drawing of a floor that the room has place for, None where it has no outline to draw."""
    if floor.outline is None:
        return None
    try:
        bounds = floor_polygon(floor.outline).bounds
    except EntryError:
        return None
    around_in = strings_in + EDGE_IN
    wide, tall = bounds[2] - bounds[0], bounds[3] - bounds[1]
    ft_per_in = max(wide / (room_in[0] - around_in), tall / (room_in[1] - around_in))
    size_in = (wide / ft_per_in + around_in, tall / ft_per_in + around_in)
    return _Frame(bounds, ft_per_in, strings_in, size_in)


def places_of(floor: Floor) -> tuple[MarkedPlace, ...]:
    """Return where the floor's readings were taken, those with a place on the plan, numbered in their order."""
    at = [(number, reading) for number, reading in enumerate(floor.readings, start=1)]
    return tuple(
        MarkedPlace(reading.place[0], reading.place[1], str(number))
        for number, reading in at
        if reading.place is not None and not isinstance(reading.place, str)
    )


def _draw_zones(
    axes: "Axes", outline: Outline, tests: Sequence[MarkedPlace], ft_per_in: float, units: str | None
) -> list[MarkedPlace]:  # fmt: skip
    """Draw the outline and the letters of its zones, with their areas where units are given; return their places."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path as Line

    polygon = floor_polygon(outline)
    for part in getattr(polygon, "geoms", [polygon]):
        rings = [part.exterior, *part.interiors]
        line = Line.make_compound_path(*(Line(list(ring.coords), closed=True) for ring in rings))
        axes.add_patch(PathPatch(line, facecolor=WHITE, edgecolor=INK, linewidth=1.6, zorder=2, gid="floor"))
    letters = []
    for number, shape in enumerate(zone_shapes(outline)):
        inside = _free_place(shape, tests, CLEAR_IN * ft_per_in)
        letters.append(MarkedPlace(*inside, zone_letter(number)))
        axes.annotate(
            letters[-1].label, inside, ha="center", va="bottom" if units else "center", fontsize=TEXT_PT * 1.44,
            color=WORK, weight="bold", bbox=PLATE, zorder=5,
        )  # fmt: skip
        if units:
            axes.annotate(
                area_text(float(shape.area), units), inside, xytext=(0, -2), textcoords="offset points", ha="center",
                va="top", fontsize=TEXT_PT * 0.9, color=QUIET, zorder=5,
            )  # fmt: skip
    return letters


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


def _draw_batches(
    axes: "Axes", floor: Floor, layout: Layout | None, marks: Sequence[MarkedPlace], ft_per_in: float
) -> None:  # fmt: skip
    """Draw where each batch ends, and its number clear of the marks that stand already."""
    if layout is None:
        return
    for area in batch_areas(floor, layout, ft_per_in):
        for line in getattr(area.ends, "geoms", [area.ends] if area.ends is not None else []):
            axes.plot(*line.xy, color=WORK, linewidth=0.8, zorder=3, solid_capstyle="butt")
        largest = max(getattr(area.shape, "geoms", [area.shape]), key=lambda part: float(part.area))
        axes.annotate(
            area.label, _free_place(largest, marks, CLEAR_IN * ft_per_in), ha="center", va="center",
            fontsize=TEXT_PT * 0.9, color=WORK, bbox=_PILL, zorder=5,
        )  # fmt: skip


def _draw_joints(axes: "Axes", outline: Outline) -> None:
    for joint in outline.joints:
        style = JOINT_STYLES[joint.kind]
        axes.plot(*zip(joint.start, joint.end, strict=True), zorder=4, solid_capstyle="butt", **style)


def _draw_tests(axes: "Axes", tests: Sequence[MarkedPlace]) -> None:
    for test in tests:
        axes.plot([test.x_ft], [test.y_ft], marker="x", markersize=7, markeredgewidth=1.6, color=HOLD, zorder=6)
        axes.annotate(
            test.label, (test.x_ft, test.y_ft), xytext=(6, 4), textcoords="offset points", fontsize=TEXT_PT * 0.9,
            color=HOLD, bbox=PLATE, zorder=5,
        )  # fmt: skip
