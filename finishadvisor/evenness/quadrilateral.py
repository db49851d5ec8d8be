"""Quadrilaterals in a picture: a region reduced to four sides, sides placed on the edges that are seen, their corners.

Places are x, y in pixels; 0,0 is the outer corner of the first pixel.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SAMPLES: Final = 60
REACH_PX: Final = 6.0
"""How far from a rough side its edge is looked for (our choice)."""
STEP_PX: Final = 0.5
STRAIGHT_PX: Final = 1.5
"""How far the edge may lie from a straight line; room for a lens that bends lines a little (our choice)."""
LEAST_CONTRAST: Final = 5.0
"""Color difference [CIELAB] across an edge that an untrained eye cannot miss (our choice)."""
LEAST_CLEAR_SHARE: Final = 0.7
"""Share of a side along which its edge must be seen; things may lie across the rest (our choice)."""


@dataclass(frozen=True)
class Edge:
    """One side as it is seen.

    Attributes:
        start, end: two places on the fitted line, shape (2,).
        inside, outside: typical color on either side of it, CIELAB, shape (3,).
    """

    start: Floats
    end: Floats
    inside: Floats
    outside: Floats


def as_quad(region: NDArray[np.bool_]) -> Floats | None:
    """Return the four corners, shape (4, 2), of a region's convex hull reduced to four sides, or None."""
    from scipy.ndimage import binary_erosion
    from scipy.spatial import ConvexHull, QhullError

    rows, cols = np.nonzero(region & ~binary_erosion(region))
    places = np.column_stack([cols + 0.5, rows + 0.5])
    try:
        hull = places[ConvexHull(places).vertices]
    except (QhullError, ValueError):  # fewer than three places, or all in one line
        return None
    while len(hull) > 4:
        gains = [_without_side(hull, k) for k in range(len(hull))]
        area, reduced = min(gains, key=lambda gain: gain[0])
        if not np.isfinite(area):
            return None
        hull = reduced
    return hull if len(hull) == 4 else None


def _without_side(hull: Floats, k: int) -> tuple[float, Floats]:
    """Return the area that is gained when the side after corner k is left out, and the polygon without it."""
    before, first, second, after = (hull[(k + j) % len(hull)] for j in (-1, 0, 1, 2))
    place = _meeting(before, first, after, second)
    if place is None or np.dot(place - first, first - before) < 0 or np.dot(place - second, second - after) < 0:
        return float("inf"), hull
    turned = np.roll(hull, -k, axis=0)  # the side now runs from 0 to 1
    return polygon_area(np.array([first, place, second])), np.vstack([place[None], turned[2:]])


def polygon_area(corners: Floats) -> float:
    """Return the area of a polygon [square pixels]."""
    x, y = corners.T
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2


def _meeting(a: Floats, b: Floats, c: Floats, d: Floats) -> Floats | None:
    """Return where the line through a and b meets the line through c and d; None where they run side by side."""
    across = np.column_stack([b - a, c - d])
    if abs(np.linalg.det(across)) < 1e-3 * np.linalg.norm(b - a) * np.linalg.norm(d - c):
        return None
    found: Floats = a + (b - a) * np.linalg.solve(across, c - a)[0]
    return found


def meeting_points(edges: list[Edge]) -> Floats | None:
    """Return the corners between each edge and the one before it, shape (4, 2); None where two run side by side."""
    corners = [_meeting(edges[k - 1].start, edges[k - 1].end, edges[k].start, edges[k].end) for k in range(4)]
    found = [corner for corner in corners if corner is not None]
    return np.array(found) if len(found) == 4 else None


def edge_along(lab: Floats, start: Floats, end: Floats, middle: Floats, reach_px: float = REACH_PX) -> Edge | None:
    """Return the edge that is seen along a rough side, or None where it is not clear or not straight.

    Args:
        lab: the picture in CIELAB, lightly smoothed, shape (rows, cols, 3).
        start: one end of the side.
        end: its other end.
        middle: a place inside.
        reach_px: how far from the side its edge is looked for.
    """
    along = np.linspace(0.1, 0.9, SAMPLES)
    direction = (end - start) / np.linalg.norm(end - start)
    normal = np.array([direction[1], -direction[0]])
    normal = normal if np.dot(start - middle, normal) > 0 else -normal
    offsets = np.arange(-reach_px - 2, reach_px + 2 + STEP_PX / 2, STEP_PX)
    colors = _sampled(lab, start + (end - start) * along[:, None], normal, offsets)
    gap = round(2 / STEP_PX)
    jumps = np.linalg.norm(colors[:, 2 * gap :] - colors[:, : -2 * gap], axis=2)
    best = jumps.argmax(axis=1)
    found = offsets[gap + best]
    clear = jumps.max(axis=1) >= LEAST_CONTRAST
    if clear.mean() < LEAST_CLEAR_SHARE:
        return None
    slope, level = _steady_line(along[clear], found[clear])
    near = clear & (np.abs(found - slope * along - level) <= STRAIGHT_PX)
    if near.mean() < LEAST_CLEAR_SHARE:
        return None
    slope, level = np.polyfit(along[near], found[near], 1)
    ends = [start + normal * level, end + normal * (slope + level)]
    return Edge(ends[0], ends[1], *(np.median(colors[near][:, part].reshape(-1, 3), axis=0) for part in _ends(gap)))


def _ends(gap: int) -> tuple[slice, slice]:
    return slice(0, gap // 2 + 1), slice(-gap // 2 - 1, None)


def _sampled(lab: Floats, places: Floats, normal: Floats, offsets: Floats) -> Floats:
    """Return colors across a side, shape (places, offsets, 3)."""
    from scipy.ndimage import map_coordinates

    at = places[:, None, :] + offsets[None, :, None] * normal
    rows_cols = [at[:, :, 1] - 0.5, at[:, :, 0] - 0.5]
    return np.stack([map_coordinates(lab[:, :, k], rows_cols, order=1, mode="nearest") for k in range(3)], axis=-1)


def _steady_line(along: Floats, offsets: Floats) -> tuple[float, float]:
    """Return slope and level of the line that most offsets lie on: the median of slopes between halves of the side."""
    half = len(along) // 2
    slopes = (offsets[half : 2 * half] - offsets[:half]) / (along[half : 2 * half] - along[:half])
    slope = float(np.median(slopes))
    return slope, float(np.median(offsets - slope * along))
