"""Glare: a lighter streak along the line of sight, soft at its sides, that is mirrored light and not the slab.

It is told by its shape alone, which holds on gray slabs too. Along each line of sight a low percentile of lightness is
taken: a mark of the slab covers part of a line of sight, a mirrored window most of it.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

BIN_FT: Final = 0.25
SMOOTH_IN: Final = 4.0
SKIRT_IN: Final = 18.0
LOW_PERCENTILE: Final = 30
FEWEST_SEEN: Final = 0.4
"""Share of a line of sight that must be slab for its median to count."""


def glare_cells(lightness: Array, typical: float, used: Mask, grid: Grid, plane: Plane) -> Mask:
    """Return the cells of glare streaks.

    Args:
        lightness: L* of a mean over a few inches, shape (rows, cols).
        typical: typical L*.
        used: True for cells that count.
        grid: the cells.
        plane: the slab's plane.
    """
    bins = _sight_bins(grid, plane)
    seen = used & np.isfinite(lightness)
    if bins is None or not seen.any():
        return np.zeros_like(used)
    profile, known = _profile(lightness - typical, seen, bins)
    if known.sum() < 8:
        return np.zeros_like(used)
    streak = _streak_bins(profile)[bins] & used
    return _with_skirts(streak, lightness - typical, seen, grid) if streak.any() else streak


def _with_skirts(streak: Mask, above: Array, seen: Mask, grid: Grid) -> Mask:
    """Return a streak with the lighter cells beside it that it runs out into."""
    from scipy.ndimage import binary_dilation, binary_propagation, gaussian_filter

    smooth = gaussian_filter(np.where(seen, above, 0.0), SMOOTH_IN / grid.cell_in)
    near = binary_dilation(streak, np.ones((3, 3)), iterations=round(SKIRT_IN / grid.cell_in))
    lighter = near & seen & (smooth > 2 * evenness_limit("glare-skirt"))
    return np.asarray(binary_propagation(streak, mask=streak | lighter))


def _sight_bins(grid: Grid, plane: Plane) -> NDArray[np.intp] | None:
    """Return the number of the line of sight through each cell, or None where the view is from straight above."""
    foot = camera_foot(plane)
    if foot is None:
        return None
    x, y = grid.centers_ft()
    away_x, away_y = x[None, :] - foot[0], y[:, None] - foot[1]
    middle = np.array([plane.width_ft / 2, plane.length_ft / 2]) - foot
    distance_ft = float(np.hypot(*middle))
    turn = np.arctan2(away_y, away_x) - np.arctan2(middle[1], middle[0])
    turn = (turn + np.pi) % (2 * np.pi) - np.pi
    if np.ptp(turn) > np.pi:  # the camera stands over the slab
        return None
    return np.asarray(((turn - turn.min()) * distance_ft / BIN_FT).astype(np.intp))


def camera_foot(plane: Plane) -> Array | None:
    """Return the plan point straight below the camera, or None where the picture is taken from straight above.

    All lines that run straight up the picture meet there, for a camera that is held level.
    """
    corners = [(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9), (0.5, 0.5)]
    normals, reach = [], []
    for along, across in corners:
        place = np.array([along * plane.width_ft, across * plane.length_ft])
        sight = sight_direction(plane, float(place[0]), float(place[1]))
        normal = np.array([-sight[1], sight[0]])
        normals.append(normal)
        reach.append(float(normal @ place))
    spread = np.linalg.svd(np.array(normals), compute_uv=False)
    if spread[1] < 1e-3 * spread[0]:
        return None
    foot, *_ = np.linalg.lstsq(np.array(normals), np.array(reach), rcond=None)
    return np.asarray(foot)


def sight_direction(plane: Plane, x_ft: float, y_ft: float) -> Array:
    """Return the plan direction (unit vector) that runs straight up the picture at a plan point."""
    u, v = plane.to_pixels(np.array(x_ft), np.array(y_ft))
    x_up, y_up = plane.to_feet(float(u), float(v) - 1.0)
    direction = np.array([x_up - x_ft, y_up - y_ft])
    return np.asarray(direction / max(float(np.linalg.norm(direction)), 1e-12))


def _profile(above: Array, seen: Mask, bins: NDArray[np.intp]) -> tuple[Array, Mask]:
    """Return how much lighter than typical most of each line of sight is, and which lines are slab enough."""
    from scipy.ndimage import gaussian_filter1d

    count = int(bins.max()) + 1
    order = np.argsort(bins[seen], kind="stable")
    sorted_bins, values = bins[seen][order], above[seen][order]
    ends = np.searchsorted(sorted_bins, np.arange(count + 1))
    full = np.bincount(bins.ravel(), minlength=count)
    known = (np.diff(ends) >= FEWEST_SEEN * full) & (full > 0.5 * np.median(full))
    profile = np.zeros(count)
    for number in np.flatnonzero(known):
        profile[number] = np.percentile(values[ends[number] : ends[number + 1]], LOW_PERCENTILE)
    if known.any():
        profile = np.interp(np.arange(count), np.flatnonzero(known), profile[known])
    smooth = gaussian_filter1d(profile - np.median(profile[known]), SMOOTH_IN / 12 / BIN_FT, mode="nearest")
    return np.asarray(smooth), known


def _streak_bins(profile: Array) -> Mask:
    """Return the lines of sight under a streak: a bump that is high, soft at both sides, and neither thin nor broad.

    All that is lighter than typical about it is judged; what is left out lies above the higher of its two feet: beside
    a streak on a slab of two shades lies the paler one.
    """
    from scipy.ndimage import label

    found = np.zeros(len(profile), dtype=np.bool_)
    skirt = evenness_limit("glare-skirt")
    groups, count = label(profile > skirt)
    for number in range(1, count + 1):
        cells = np.flatnonzero(groups == number)
        peak = int(cells[np.argmax(profile[cells])])
        high = float(profile[peak])
        wide_ft = float((profile[cells] > high / 2).sum()) * BIN_FT
        steep = float(np.abs(np.gradient(profile))[cells].max()) / (12 * BIN_FT)
        soft = 0.8 * high / max(steep, 1e-6) > evenness_limit("glare-edge-in")
        ends_inside = profile[cells[0]] < 0.6 * high and profile[cells[-1]] < 0.6 * high
        broad = wide_ft > evenness_limit("glare-widest-ft")
        if high > evenness_limit("glare-lighter") and soft and not broad and ends_inside:
            rise = min(high, prominence(profile, peak))
            found[_around(peak, profile > high - rise + skirt)] = True
    return found


def prominence(profile: Array, peak: int) -> float:
    """Return how far a peak rises above the higher of its two feet.

    A foot is the lowest place on one side before the profile is higher than the peak or ends. `scipy.signal` has the
    same, but loading it takes longer than measuring a photo.
    """
    higher = np.flatnonzero(profile > profile[peak])
    after = np.searchsorted(higher, peak)
    left = profile[higher[after - 1] + 1 if after > 0 else 0 : peak + 1]
    right = profile[peak : higher[after] if after < len(higher) else len(profile)]
    return float(profile[peak] - max(left.min(), right.min()))


def _around(peak: int, above: Mask) -> NDArray[np.intp]:
    """Return the unbroken run of true places around a peak."""
    below = np.flatnonzero(~above)
    right = np.searchsorted(below, peak)
    start = below[right - 1] + 1 if right > 0 else 0
    return np.arange(start, below[right] if right < len(below) else len(above))
