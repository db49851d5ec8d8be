"""What the user marked on a photo, checked: corners or known points, size, cards, polygons."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from finishadvisor.errors import UsageError

Pixel = tuple[float, float]
Polygon = tuple[Pixel, ...]
KnownPoint = tuple[Pixel, tuple[float, float]]


LEAST_SIDE_FT: Final = 0.5
"""A sample panel; less holds too few 1 in cells."""


@dataclass(frozen=True)
class PhotoMarks:
    """Marks on one photo, in pixels of the upright picture; 0,0 is the outer corner of the first pixel.

    Attributes:
        corners: the slab's origin corner, then along its first side, the opposite corner, along its second side.
        points: pixels whose places on the slab are known, feet from the origin corner; four or more.
        size_ft: first side and second side. With neither corners nor points the frame is the slab.
        sheets: pixels of neutral cards or sheets with their reflectance, 0 to 1.
        leave_out: polygons that are not slab.
        wet: polygons of patches that were wetted on purpose.
    """

    corners: tuple[Pixel, Pixel, Pixel, Pixel] | None = None
    points: tuple[KnownPoint, ...] = ()
    size_ft: tuple[float, float] | None = None
    sheets: tuple[tuple[Pixel, float], ...] = ()
    leave_out: tuple[Polygon, ...] = ()
    wet: tuple[Polygon, ...] = ()


def check_marks(marks: PhotoMarks, width_px: int, height_px: int) -> None:
    """Refuse marks that cannot be meant.

    Raises:
        UsageError: no size, a zero size, too few points, corners crossed or outside the frame, a polygon of two
            pixels, a card outside the frame or with an impossible reflectance.
    """
    _check_size(marks)
    _check_places(marks)
    if marks.corners is not None:
        _check_corners(marks.corners, width_px, height_px)
    for (x, y), reflectance in marks.sheets:
        if not (0 <= x <= width_px and 0 <= y <= height_px):
            raise UsageError(f"The card at {x:g},{y:g} is outside the photo ({width_px} x {height_px} pixels).")
        if not 0 < reflectance < 1:
            raise UsageError(
                f"A card's reflectance is {reflectance:g}; it must lie between 0 and 1: 0.18 for a gray card, "
                "0.85 for white paper."
            )
    for polygon in (*marks.leave_out, *marks.wet):
        if len(polygon) < 3 or not all(math.isfinite(value) for pixel in polygon for value in pixel):
            raise UsageError(f"A polygon has {len(polygon)} usable corners; it needs 3 or more, each as x,y.")
        _check_in_frame(polygon, width_px, height_px)


def _check_in_frame(polygon: Polygon, width_px: int, height_px: int) -> None:
    """Refuse an area that lies outside the photo altogether; one that reaches over its edge is cut off there.

    Raises:
        UsageError: it lies outside.
    """
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    if max(xs) <= 0 or min(xs) >= width_px or max(ys) <= 0 or min(ys) >= height_px:
        x, y = polygon[0]
        raise UsageError(
            f"The area that begins at {x:g},{y:g} is outside the photo ({width_px} x {height_px} pixels). "
            "Give its corners in pixels of this photo."
        )


def _check_size(marks: PhotoMarks) -> None:
    if marks.size_ft is None:
        if marks.points:
            return
        what = "The corners need the slab's size" if marks.corners else "The slab's size is missing"
        raise UsageError(f'{what}: first side x second side, for example --size "20ft x 15ft".')
    for side_ft in marks.size_ft:
        if not (math.isfinite(side_ft) and 0 < side_ft <= 1000):
            raise UsageError(f"A side of the slab is {side_ft:g} ft; it must be more than 0 and at most 1000 ft.")
        if side_ft < LEAST_SIDE_FT:
            raise UsageError(
                f"A side of the slab is {side_ft:g} ft; shade needs {LEAST_SIDE_FT:g} ft or more to be judged. "
                "Check the unit."
            )


def _check_places(marks: PhotoMarks) -> None:
    if not marks.points:
        return
    if marks.corners is not None:
        raise UsageError("Give either the four corners or known points, not both.")
    if len(marks.points) < 4:
        raise UsageError(f"{len(marks.points)} known points are given; at least 4 are needed, no 3 of them in a line.")


def _check_corners(corners: tuple[Pixel, ...], width_px: int, height_px: int) -> None:
    for x, y in corners:
        if not (0 <= x <= width_px and 0 <= y <= height_px):
            raise UsageError(
                f"The corner {x:g},{y:g} is outside the photo ({width_px} x {height_px} pixels). "
                "Where a corner is out of the frame, give known points instead."
            )
    turns = []
    ring = (*corners, *corners[:2])
    for (ax, ay), (bx, by), (cx, cy) in zip(ring, ring[1:], ring[2:], strict=False):
        turns.append((bx - ax) * (cy - by) - (by - ay) * (cx - bx))
    shortest_px = min(math.dist(a, b) for a, b in pairwise(ring[:5]))
    if shortest_px < 2 or not (all(turn > 0 for turn in turns) or all(turn < 0 for turn in turns)):
        raise UsageError(
            "The corners cross over or lie in one line. Give them in order around the slab: origin, along the first "
            "side, opposite, along the second side."
        )
