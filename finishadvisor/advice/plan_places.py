"""Where things lie on the floor plan: lines, outlines, and how near they run to one another, in feet."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from finishadvisor.job.document import Photo
from finishadvisor.job.drawn import Outline
from finishadvisor.job.entry_types import Point

Line = tuple[Point, ...]

_STEP_FT: Final = 0.5
"""Lines are looked at in pieces of half a foot."""


def on_plan(point: Point, photo: Photo | None) -> Point:
    """Return a point of a photo's slab on the plan; a photo without a place starts at the plan's origin."""
    if photo is None:
        return point
    turn = math.radians(photo.turned_deg)
    x, y = point
    origin_x, origin_y = photo.origin_on_plan or (0.0, 0.0)
    return (
        origin_x + x * math.cos(turn) - y * math.sin(turn),
        origin_y + x * math.sin(turn) + y * math.cos(turn),
    )


def share_near(line: Sequence[Point], others: Sequence[Sequence[Point]], reach_ft: float) -> float:
    """Return the share of a line that runs within reach of other lines, 0 to 1."""
    points = [point for start, end in pairwise(line) for point in _along(start, end)]
    sides = [side for other in others for side in pairwise(other)]
    near = sum(any(_distance_ft(point, *side) <= reach_ft for side in sides) for point in points)
    return near / len(points) if points else 0.0


def closed(outline: Sequence[Point]) -> Line:
    """Return an outline as a line that comes back to its first point."""
    return (*outline, outline[0])


def reaches(outline: Sequence[Point], point: Point, reach_ft: float) -> bool:
    """Return whether a point lies inside an outline or within reach of it."""
    near = any(_distance_ft(point, *side) <= reach_ft for side in pairwise(closed(outline)))
    return near or is_inside(outline, point)


def is_inside(outline: Sequence[Point], point: Point) -> bool:
    """Return whether a point lies inside an outline: a ray from it crosses the outline an odd number of times."""
    x, y = point
    crossings = [
        (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1)
        for (x1, y1), (x2, y2) in pairwise(closed(outline))
    ]
    return sum(crossings) % 2 == 1


def edges_of(outline: Outline) -> tuple[Line, ...]:
    """Return the edges of a floor, those of its cut-outs with them.

    Raises:
        EntryError: the outline cannot be used.
    """
    if len(outline.rectangles) == 1 and not (outline.polygons or outline.cut_outs):
        (one,) = outline.rectangles
        x, y = one.corner
        return (closed(((x, y), (x + one.x, y), (x + one.x, y + one.y), (x, y + one.y))),)
    from finishadvisor.job.outline import floor_polygon

    shape = floor_polygon(outline)
    parts = getattr(shape, "geoms", [shape])
    return tuple(
        tuple((float(x), float(y)) for x, y in ring.coords)
        for part in parts
        for ring in (part.exterior, *part.interiors)
    )


def _along(start: Point, end: Point) -> Iterator[Point]:
    count = max(1, math.ceil(math.dist(start, end) / _STEP_FT))
    for n in range(count):
        part = (n + 0.5) / count
        yield start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def _distance_ft(point: Point, start: Point, end: Point) -> float:
    """Return the distance of a point from a straight line between two points."""
    along = (end[0] - start[0], end[1] - start[1])
    length2 = along[0] ** 2 + along[1] ** 2
    part = 0.0
    if length2:
        dot = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
        part = min(1.0, max(0.0, dot / length2))
    return math.dist(point, (start[0] + part * along[0], start[1] + part * along[1]))
