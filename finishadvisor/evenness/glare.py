"""Glare: a lighter streak along the line of sight, soft at its sides, that is mirrored light and not the slab."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.smooth import filled

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

GROWN_BY_IN: Final = 12.0
"""The streak's skirts reach beyond what stands out."""


def glare_cells(lightness: Array, typical: float, used: Mask, grid: Grid, plane: Plane) -> Mask:
    """Return the cells of glare streaks.

    A streak is told by its shape alone, which holds on gray slabs too: lighter, long, soft at its sides, and pointing
    at the camera.

    Args:
        lightness: L* of a mean over a few inches, shape (rows, cols).
        typical: typical L*.
        used: True for cells that count.
        grid: the cells.
        plane: the slab's plane.
    """
    from scipy.ndimage import binary_dilation, find_objects, gaussian_filter, label

    smooth = gaussian_filter(filled(np.nan_to_num(lightness), used & np.isfinite(lightness)), 4 / grid.cell_in)
    groups, count = label(smooth - typical > evenness_limit("glare-lighter"))
    if count == 0:
        return np.zeros_like(used)
    slope = np.hypot(*np.gradient(smooth)) / grid.cell_in
    found = np.zeros_like(used)
    for number, box in enumerate(find_objects(groups), start=1):
        cells = groups[box] == number
        if cells.sum() < evenness_limit("glare-least-share") * used.size:
            continue
        rows, cols = np.nonzero(cells)
        rows, cols = rows + box[0].start, cols + box[1].start
        if _points_at_camera(rows, cols, grid, plane) and _is_soft(smooth[rows, cols] - typical, slope[rows, cols]):
            found[rows, cols] = True
    if not found.any():
        return found
    reach = round(GROWN_BY_IN / grid.cell_in)
    return np.asarray(binary_dilation(found, np.ones((3, 3)), iterations=reach) & used)


def _points_at_camera(rows: NDArray[np.intp], cols: NDArray[np.intp], grid: Grid, plane: Plane) -> bool:
    """Return whether cells form a long shape along the line of sight."""
    points = np.column_stack([cols * grid.width_ft / grid.cols, rows * grid.length_ft / grid.rows])
    middle = points.mean(axis=0)
    _, spread, axes = np.linalg.svd(points - middle, full_matrices=False)
    if spread[0] < evenness_limit("glare-elongation") * max(spread[1], 1e-9):
        return False
    sight = sight_direction(plane, float(middle[0]), float(middle[1]))
    between_deg = np.degrees(np.arccos(np.clip(abs(float(axes[0] @ sight)), 0, 1)))
    return bool(between_deg < evenness_limit("glare-angle-deg"))


def sight_direction(plane: Plane, x_ft: float, y_ft: float) -> Array:
    """Return the plan direction (unit vector) that runs straight up the picture at a plan point."""
    u, v = plane.to_pixels(np.array(x_ft), np.array(y_ft))
    x_up, y_up = plane.to_feet(float(u), float(v) - 1.0)
    direction = np.array([x_up - x_ft, y_up - y_ft])
    return np.asarray(direction / max(float(np.linalg.norm(direction)), 1e-12))


def _is_soft(above: Array, slope: Array) -> bool:
    """Return whether a shape's sides fade over more than a mark's would: 0.8 of its height over its steep slope."""
    height = float(np.percentile(above, 95))
    return bool(0.8 * height / max(float(np.percentile(slope, 90)), 1e-6) > evenness_limit("glare-edge-in"))
