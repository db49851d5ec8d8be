"""Corners and cards found in a photo, to be proposed and checked by a person; none rather than a doubtful one."""

from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.quadrilateral import Edge, as_quad, edge_along, meeting_points, polygon_area

Floats = NDArray[np.float64]
Corners = tuple[tuple[float, float], ...]

WORKING_SIDE_PX: Final = 480
"""Longest side of the copy that is searched: a saw-cut joint is then about a pixel wide (our choice)."""
JOINT_PX: Final = 7
"""Median filter that takes joints, cracks and hoses away and leaves the sides of the slab (our choice)."""
TOLERANCES: Final = (0.7, 1.0, 1.5, 2.25, 3.4, 5.0)
"""Color steps [CIELAB units a pixel of the copy] at which the slab may end, each half as much again (our choice)."""
STABLE_SHARE: Final = 0.01
"""How far corners may move between neighboring tolerances, as a share of the picture's diagonal (our choice)."""
LEAST_AREA: Final = 0.15
MOST_AREA: Final = 0.95
"""Share of the frame that a slab takes (our choice)."""
LEAST_FILLED: Final = 0.85
"""Share of the quadrilateral that must be of like color; things that lie across a side take the rest (our choice)."""
LIGHT_RED_GREEN: Final = 6.0
LIGHT_YELLOW_BLUE: Final = 25.0
"""Hue differences [CIELAB] within which a side may be the edge of a shadow instead: sky light is bluer than sunlight by
up to some 20 units of b* on light gray, and hardly redder or greener (our choice, on the safe side)."""
ONE_GROUND: Final = 10.0
"""Color difference [CIELAB] between the surroundings of four sides that may be one ground (our choice)."""

SHORTEST_LENS, LONGEST_LENS = 22 / 36, 60 / 36
"""Focal lengths of a phone's main camera, and of lenses up to a little beyond the usual, over the picture's long side:
22 mm to 60 mm on a frame of 36 mm (our choice)."""


def propose_corners(rgb: NDArray[np.uint8]) -> Corners | None:
    """Return the four corners of the slab, where they can be told.

    Args:
        rgb: sRGB codes, shape (rows, cols, 3), row 0 on top.

    Returns:
        Pixels of the picture given, 0,0 the outer corner of its first pixel: near left, near right, far right, far
        left, each x, y. None where there is any doubt.
    """
    from scipy.ndimage import gaussian_filter

    lab, scale = working_copy(rgb, WORKING_SIDE_PX)
    smooth = gaussian_filter(lab, (0.7, 0.7, 0))
    steps = color_steps(without_joints(lab))
    found = [_slab_at(smooth, steps, tolerance) for tolerance in TOLERANCES]
    within = STABLE_SHARE * float(np.hypot(*lab.shape[:2]))
    for first, second in pairwise(found):
        if first is not None and second is not None and np.linalg.norm(first - second, axis=1).max() <= within:
            return tuple((float(x), float(y)) for x, y in second / scale)
    return None


def working_copy(rgb: NDArray[np.uint8], side_px: int) -> tuple[Floats, float]:
    """Return a smaller copy in CIELAB, shape (rows, cols, 3), and its scale."""
    from PIL import Image
    from skimage.color import rgb2lab

    rows, cols = rgb.shape[:2]
    scale = min(1.0, side_px / max(rows, cols))
    size = (max(1, round(cols * scale)), max(1, round(rows * scale)))
    small = Image.fromarray(np.ascontiguousarray(rgb)).resize(size, Image.Resampling.BOX)
    return np.asarray(rgb2lab(np.asarray(small)), dtype=np.float64), scale


def without_joints(lab: Floats) -> Floats:
    """Return a picture without its thin lines."""
    from scipy.ndimage import median_filter

    return np.stack([median_filter(lab[:, :, k], JOINT_PX) for k in range(3)], axis=-1)


def color_steps(lab: Floats) -> Floats:
    """Return how fast the color changes [CIELAB units a pixel], shape (rows, cols)."""
    from scipy.ndimage import gaussian_gradient_magnitude

    steps: Floats = np.sqrt(sum(gaussian_gradient_magnitude(lab[:, :, k], 1.0) ** 2 for k in range(3)))
    return steps


def _slab_at(smooth: Floats, steps: Floats, tolerance: float) -> Floats | None:
    """Return the slab's corners with one tolerance, near left first, shape (4, 2), or None."""
    region = _like_color_in_front(steps <= tolerance)
    rough = None if region is None else as_quad(region)
    if region is None or rough is None or region.sum() < LEAST_FILLED * polygon_area(rough):
        return None
    middle = rough.mean(axis=0)
    edges = [edge_along(smooth, rough[k], rough[(k + 1) % 4], middle) for k in range(4)]
    seen = [edge for edge in edges if edge is not None]
    corners = meeting_points(seen) if len(seen) == 4 else None
    if corners is None or not _can_be_slab(corners, steps.shape):
        return None
    is_sure = _no_shadow(seen) or (_one_ground(seen) and _fits_a_lens(corners, steps.shape))
    return _near_left_first(corners) if is_sure else None


def _like_color_in_front(calm: NDArray[np.bool_]) -> NDArray[np.bool_] | None:
    """Return the region of like color around the lower middle, holes filled; None where it runs out of the frame."""
    from scipy.ndimage import binary_dilation, binary_fill_holes, binary_opening, label

    rows, cols = calm.shape
    parts, _ = label(binary_opening(calm, iterations=2))
    counts = np.bincount(parts[int(rows * 0.45) : int(rows * 0.8), int(cols * 0.3) : int(cols * 0.7)].ravel())
    if counts[1:].sum() == 0:
        return None
    filled = binary_fill_holes(binary_dilation(parts == 1 + int(counts[1:].argmax()), iterations=2))
    frame = np.concatenate([filled[0], filled[-1], filled[:, 0], filled[:, -1]])
    return None if frame.any() else np.asarray(filled, dtype=bool)


def _no_shadow(edges: list[Edge]) -> bool:
    """Tell whether no side can be the edge of a shadow: another material lies beyond each."""
    return not any(_may_be_shadow(edge.inside, edge.outside) for edge in edges)


def _one_ground(edges: list[Edge]) -> bool:
    """Tell whether the same lies beyond all sides; no shadow does that, unless the ground looks like slab in shade."""
    beyond = np.array([edge.outside for edge in edges])
    return float(np.linalg.norm(beyond[:, None] - beyond[None], axis=2).max()) <= ONE_GROUND


def _fits_a_lens(corners: Floats, shape: tuple[int, ...]) -> bool:
    """Tell whether a usual lens shows a rectangle with these corners; one that a shadow cuts short seldom fits.

    The vanishing points of its sides and the middle of an uncropped picture give the focal length; where a side runs
    across the picture it is not given, and nothing is sure.

    Source: Hartley and Zisserman, Multiple View Geometry, 8.8 (from memory).
    """
    around = np.column_stack([corners - np.array(shape[1::-1]) / 2, np.ones(4)])
    sides = [np.cross(around[k], around[(k + 1) % 4]) for k in range(4)]
    first, second = np.cross(sides[0], sides[2]), np.cross(sides[1], sides[3])
    if first[2] * second[2] == 0:
        return False
    square = -float(np.dot(first[:2], second[:2]) / (first[2] * second[2])) / max(shape[:2]) ** 2
    return SHORTEST_LENS**2 <= square <= LONGEST_LENS**2


def _may_be_shadow(inside: Floats, outside: Floats) -> bool:
    """Tell whether the two colors may be one material in sunlight and in sky light.

    More light multiplies the tristimulus values by k, hence L* + 16, a* and b* by the cube root of k.
    """
    as_lit = outside * (inside[0] + 16) / (outside[0] + 16)
    red_green, yellow_blue = np.abs(as_lit - inside)[1:]
    return bool(red_green <= LIGHT_RED_GREEN and yellow_blue <= LIGHT_YELLOW_BLUE)


def _can_be_slab(corners: Floats, shape: tuple[int, ...]) -> bool:
    """Tell whether the corners go around once, lie in the frame, and take a fair share of it."""
    sides = np.roll(corners, -1, axis=0) - corners
    after = np.roll(sides, -1, axis=0)
    turns = sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0]
    size = np.array(shape[1::-1])
    share = polygon_area(corners) / float(size.prod())
    convex = bool((turns > 0).all() or (turns < 0).all())
    return convex and bool((corners > 0).all() and (corners < size).all()) and LEAST_AREA <= share <= MOST_AREA


def _near_left_first(corners: Floats) -> Floats:
    """Return corners from near left by near right: the side that lies lowest in the picture comes first."""
    lowest = int(np.argmax([corners[k][1] + corners[(k + 1) % 4][1] for k in range(4)]))
    first, second = lowest, (lowest + 1) % 4
    if corners[first][0] <= corners[second][0]:
        return np.roll(corners, -first, axis=0)
    return np.roll(corners[::-1], second - 3, axis=0)
