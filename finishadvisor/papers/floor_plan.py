"""The floor on a plan to scale, in vector: outline, dimension strings, joints, zones, batches, test places."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from finishadvisor.errors import EntryError
from finishadvisor.job.document import Floor
from finishadvisor.job.drawn import Outline
from finishadvisor.job.outline import floor_polygon
from finishadvisor.papers.batch_areas import BatchArea, Layout, batch_areas
from finishadvisor.papers.dimension_strings import STRING_GAP_PT, draw_strings
from finishadvisor.papers.figures import HOLD, INK, QUIET, WHITE, WORK
from finishadvisor.papers.plan_drawing import PT_PER_IN, SMALL_PT, PlanDrawing
from finishadvisor.papers.vector import words_wide_pt
from finishadvisor.papers.wording import area_text
from finishadvisor.works.takeoff import zone_shapes
from finishadvisor.works.zone_names import zone_letter

if TYPE_CHECKING:
    from shapely import Polygon

ROOM_IN: Final = (6.4, 3.5)
"""The most that a plan is wide and tall [in]."""
STRINGS_PT: Final = 2.9 * STRING_GAP_PT
EDGE_PT: Final = 0.4 * STRING_GAP_PT
"""Around the outline where no string stands."""
CLEAR_PT: Final = 32.0
"""How far the words of a zone keep from other marks."""
NUMBER_CLEAR_PT: Final = 22.0
"""How far the number of a batch does."""
JOINT_STYLES: Final[dict[str, tuple[str, float, tuple[float, ...]]]] = {
    "control": (INK, 0.9, (4.5, 2.7)),
    "construction": (INK, 1.1, (9.9, 2.2, 2.2, 2.2)),
    "isolation": (INK, 1.6, (1.6, 2.4)),
    "crack": (HOLD, 0.8, ()),
}
"""Color, width and dashes of each kind of line."""


@dataclass(frozen=True)
class MarkedPlace:
    """A place on the plan that is marked with a cross and a short label."""

    x_ft: float
    y_ft: float
    label: str


def floor_plan(
    floor: Floor,
    units: str,
    tests: Sequence[MarkedPlace] | None = None,
    *,
    layout: Layout | None = None,
    room_in: tuple[float, float] = ROOM_IN,
) -> bytes | None:
    """Return the plan of a floor as SVG, None where the floor has no outline that can be drawn.

    Args:
        floor: the floor.
        units: "us" or "metric", for the dimension strings.
        tests: places to mark; the floor's own readings when left out.
        layout: batches to draw where each of them goes.
        room_in: the most that the drawing may be wide and tall [in].
    """
    marked = places_of(floor) if tests is None else tests
    drawing = _begun(floor, room_in, STRINGS_PT)
    outline = floor.outline
    if drawing is None or outline is None:
        return None
    areas = _areas(drawing, floor, layout)
    _draw_joints(drawing, outline)
    draw_strings(drawing, outline, units)
    letters = _draw_zones(drawing, outline, marked, units)
    _number(drawing, areas, (*marked, *letters))
    _draw_tests(drawing, marked)
    _draw_origin(drawing)
    return drawing.svg()


def batch_plan(floor: Floor, layout: Layout, room_in: tuple[float, float]) -> bytes | None:
    """Return a small plan of a floor with its zones and batches alone (SVG), None where it cannot be drawn."""
    drawing = _begun(floor, room_in, EDGE_PT)
    outline = floor.outline
    if drawing is None or outline is None:
        return None
    areas = _areas(drawing, floor, layout)
    _draw_joints(drawing, outline)
    _number(drawing, areas, _draw_zones(drawing, outline, (), None))
    _draw_origin(drawing)
    return drawing.svg()


def places_of(floor: Floor) -> tuple[MarkedPlace, ...]:
    """Return where the floor's readings were taken, those with a place on the plan, numbered in their order."""
    at = [(number, reading) for number, reading in enumerate(floor.readings, start=1)]
    return tuple(
        MarkedPlace(reading.place[0], reading.place[1], str(number))
        for number, reading in at
        if reading.place is not None and not isinstance(reading.place, str)
    )


def _begun(floor: Floor, room_in: tuple[float, float], strings_pt: float) -> PlanDrawing | None:
    """Return the largest drawing of a floor that the room has place for, None where it has no outline to draw."""
    if floor.outline is None:
        return None
    try:
        slab = floor_polygon(floor.outline)
    except EntryError:
        return None
    x0, y0, x1, y1 = slab.bounds
    wide, high = (side * PT_PER_IN - strings_pt - EDGE_PT for side in room_in)
    drawing = PlanDrawing((x0, y0, x1, y1), min(wide / (x1 - x0), high / (y1 - y0)), (strings_pt, EDGE_PT))
    drawing.slab(slab)
    return drawing


def _draw_zones(
    drawing: PlanDrawing, outline: Outline, tests: Sequence[MarkedPlace], units: str | None
) -> list[MarkedPlace]:
    """Draw the letters of the zones, with their areas where units are given; return where they stand."""
    letters = []
    for number, shape in enumerate(zone_shapes(outline)):
        inside = _free_place(shape, tests, CLEAR_PT / drawing.scale)
        letters.append(MarkedPlace(*inside, zone_letter(number)))
        drawing.letter(inside, letters[-1].label, raised=units is not None)
        if units:
            x, y = drawing.at(inside)
            drawing.words(x, y + 2 + SMALL_PT, area_text(float(shape.area), units), SMALL_PT, QUIET, side="middle")
    return letters


def _free_place(shape: "Polygon", tests: Sequence[MarkedPlace], clear_ft: float) -> tuple[float, float]:
    """Return where a zone's letter stands: at its middle, or moved so far that no test mark is covered."""
    from shapely import Point

    x0, y0, x1, y1 = shape.bounds
    middle = shape.centroid if shape.contains(shape.centroid) else shape.representative_point()
    moves = [(dx, dy) for dy in (0.0, -0.25, 0.25) for dx in (0.0, 0.25, -0.25, 0.33, -0.33)]
    places = [(middle.x + dx * (x1 - x0), middle.y + dy * (y1 - y0)) for dx, dy in moves]
    inside = [place for place in places if shape.contains(Point(place).buffer(0.1 * clear_ft))] or places[:1]

    def clearance(place: tuple[float, float]) -> float:
        return min((math.dist(place, (test.x_ft, test.y_ft)) for test in tests), default=math.inf)

    return next((place for place in inside if clearance(place) > clear_ft), max(inside, key=clearance))


def _areas(drawing: PlanDrawing, floor: Floor, layout: Layout | None) -> list[BatchArea]:
    """Draw where each batch ends, and return what it covers."""
    areas = list(batch_areas(floor, layout, PT_PER_IN / drawing.scale)) if layout is not None else []
    for area in areas:
        for line in getattr(area.ends, "geoms", [area.ends] if area.ends is not None else []):
            drawing.run(line.coords, WORK, 0.8)
    return areas


def _number(drawing: PlanDrawing, areas: Sequence[BatchArea], marks: Sequence[MarkedPlace]) -> None:
    """Write the number of each batch, clear of the marks that stand already."""
    for area in areas:
        largest = max(getattr(area.shape, "geoms", [area.shape]), key=lambda part: float(part.area))
        drawing.framed(_free_place(largest, marks, NUMBER_CLEAR_PT / drawing.scale), area.label, WORK)


def _draw_tests(drawing: PlanDrawing, tests: Sequence[MarkedPlace]) -> None:
    """Draw each test as a cross with its label at the right, at the left where there is no room."""
    right = drawing.at((drawing.bounds[2], 0.0))[0]
    for test in tests:
        drawing.cross((test.x_ft, test.y_ft), HOLD)
        x, y = drawing.at((test.x_ft, test.y_ft))
        fits = x + 6 + words_wide_pt(test.label, SMALL_PT) < right
        place = (x + 6, y - 4) if fits else (x - 6, y - 4)
        drawing.words(*place, test.label, SMALL_PT, HOLD, side="start" if fits else "end", halo=WHITE)


def _draw_joints(drawing: PlanDrawing, outline: Outline) -> None:
    for joint in outline.joints:
        color, wide_pt, dash = JOINT_STYLES[joint.kind]
        drawing.run([joint.start, joint.end], color, wide_pt, dash=dash)


def _draw_origin(drawing: PlanDrawing) -> None:
    drawing.disc(*drawing.at(drawing.bounds[:2]), 2.4, WORK, filled=True, rim_pt=0.4)
