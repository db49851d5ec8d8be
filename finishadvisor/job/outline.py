"""The shape of a floor on the plan: its polygon, area, edge and joints, and what can be wrong with it.

The geometry library is imported only for shapes that need it: one whose walls all run along x or y does not.
"""

import re
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Final

from finishadvisor.errors import EntryError
from finishadvisor.job.drawn import Outline, Rectangle
from finishadvisor.job.entry_types import Point
from finishadvisor.job.lengths import write_length
from finishadvisor.job.straight import StraightFloor, straight_floor

if TYPE_CHECKING:
    from shapely import MultiPolygon, Polygon

_SLACK_FT: Final = 0.02
"""A quarter inch: plans are typed from a tape, so that lines may miss each other by as much."""
_PLACE = re.compile(r"\[(\S+) (\S+)\]")


@cache
def floor_polygon(outline: Outline) -> "Polygon | MultiPolygon":
    """Return the floor as a polygon in feet: rectangles and polygons joined, cut-outs taken away.

    Raises:
        EntryError: a polygon crosses or touches itself, a cut-out lies outside, or nothing is left.
    """
    return _checked_polygon(outline, metric=False)


def area_ft2(outline: Outline) -> float:
    """Return the floor's area without its steps [ft²].

    Raises:
        EntryError: the outline cannot be used, as in `floor_polygon`.
    """
    straight = _straight(outline)
    return straight.area_ft2 if straight else float(floor_polygon(outline).area)


def perimeter_ft(outline: Outline) -> float:
    """Return the length of every edge of the floor [ft], those of cut-outs with it.

    Raises:
        EntryError: the outline cannot be used, as in `floor_polygon`.
    """
    straight = _straight(outline)
    return straight.length_ft if straight else float(floor_polygon(outline).length)


def edge_ft(outline: Outline) -> float:
    """Return the length of edge that is worked by hand [ft]: as stated, else the whole perimeter.

    Raises:
        EntryError: the outline cannot be used, as in `floor_polygon`.
    """
    return perimeter_ft(outline) if outline.edge is None else outline.edge


def steps_area_ft2(outline: Outline) -> float:
    """Return the area of treads and risers of all steps [ft²]."""
    return sum(steps.count * steps.width * (steps.tread + steps.riser) for steps in outline.steps)


def check_outline(outline: Outline, *, metric: bool = False) -> None:
    """Refuse an outline that is no floor.

    Args:
        outline: the shape as the job states it.
        metric: whether places are named in meters.

    Raises:
        EntryError: there is no shape; a polygon crosses or touches itself; a cut-out or a joint lies outside; a joint
            has no length; nothing is left.
    """
    if not (outline.rectangles or outline.polygons):
        raise EntryError(
            "no rectangle and no polygon is given. Add [[floor.outline.rectangle]] with its sides x and y."
        )
    for number, joint in enumerate(outline.joints, start=1):
        if joint.start == joint.end:
            raise EntryError(f"joint {number} starts and ends at {write_place(joint.start, metric)}. Correct one end.")
    if _straight(outline) is None:
        _checked_polygon(outline, metric=metric)
    outside = points_outside(outline, [end for joint in outline.joints for end in (joint.start, joint.end)])
    for number, joint in enumerate(outline.joints, start=1):
        if outside & {joint.start, joint.end}:
            raise EntryError(
                f"joint {number}, from {write_place(joint.start, metric)} to {write_place(joint.end, metric)}, "
                "leaves the floor. Correct its ends, or the outline."
            )


def points_outside(outline: Outline, points: Sequence[Point]) -> frozenset[Point]:
    """Return the points that lie neither in the floor nor on its edge.

    Raises:
        EntryError: the outline cannot be used, as in `floor_polygon`.
    """
    straight = _straight(outline)
    if straight is not None:
        return frozenset(point for point in points if not straight.covers(point, _SLACK_FT))
    if not points:
        return frozenset()
    from shapely import Point as PlanPoint
    from shapely import prepare

    floor = floor_polygon(outline).buffer(_SLACK_FT)
    prepare(floor)
    return frozenset(point for point in points if not floor.covers(PlanPoint(point)))


def write_place(point: Point, metric: bool) -> str:
    """Return a place on the plan in words: `x 12' 6", y 3'`."""
    x, y = (write_length(place, metric=metric) for place in point)
    return f"x {x}, y {y}"


@cache
def _straight(outline: Outline) -> StraightFloor | None:
    """Return the floor where it is in one piece and all its walls run along x or y, away from one another."""
    rings = [*map(_corners, outline.rectangles), *outline.polygons]
    return straight_floor(rings[0], outline.cut_outs, 2 * _SLACK_FT) if len(rings) == 1 else None


def _corners(rectangle: Rectangle) -> tuple[Point, ...]:
    (x, y), width, length = rectangle.corner, rectangle.x, rectangle.y
    return (x, y), (x + width, y), (x + width, y + length), (x, y + length)


def _checked_polygon(outline: Outline, *, metric: bool) -> "Polygon | MultiPolygon":
    """Return the floor's polygon.

    Raises:
        EntryError: as `floor_polygon` says.
    """
    from shapely import MultiPolygon, Polygon, box, union_all

    parts = [
        box(
            rectangle.corner[0],
            rectangle.corner[1],
            rectangle.corner[0] + rectangle.x,
            rectangle.corner[1] + rectangle.y,
        )
        for rectangle in outline.rectangles
    ]
    parts += [_ring(points, f"polygon {n}", metric) for n, points in enumerate(outline.polygons, start=1)]
    whole = union_all(parts)
    holes = [_ring(points, f"cut-out {n}", metric) for n, points in enumerate(outline.cut_outs, start=1)]
    around = whole.buffer(_SLACK_FT)
    for number, hole in enumerate(holes, start=1):
        if not around.covers(hole):
            beyond = hole.difference(around).representative_point()
            raise EntryError(
                f"cut-out {number} lies outside the floor near {write_place((beyond.x, beyond.y), metric)}. "
                "Keep a cut-out inside the floor, or correct the outline."
            )
    floor = whole.difference(union_all(holes)) if holes else whole
    if not isinstance(floor, Polygon | MultiPolygon) or floor.area < _SLACK_FT:
        raise EntryError("nothing is left of the floor after the cut-outs. Make them smaller, or correct the outline.")
    return floor


def _ring(points: tuple[Point, ...], called: str, metric: bool) -> "Polygon":
    """Return one closed polygon.

    Raises:
        EntryError: it crosses or touches itself, or has no area.
    """
    from shapely import Polygon
    from shapely.validation import explain_validity

    polygon = Polygon(points)
    reason = explain_validity(polygon)
    found = _PLACE.search(reason)
    if found:
        near = write_place((float(found[1]), float(found[2])), metric)
        raise EntryError(f"{called} crosses or touches itself near {near}. List its corners in order, once around.")
    if not polygon.is_valid or polygon.area < _SLACK_FT:
        raise EntryError(f"{called} has no area. List at least three corners that are not in one line, in order.")
    return polygon
