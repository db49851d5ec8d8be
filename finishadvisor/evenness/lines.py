"""Joints and cracks: thin dark lines that are straight, or nearly black inside.

Thin dark lines that curve or branch and keep most of the slab's light (trowel arcs, wrinkles of a sheet) are marks of
the slab and stay.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.sample import CellLight, Grid
from finishadvisor.evenness.smooth import filled, median_of_medians, robust_sd

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOST_JOINTS: Final = 16
ANGLES: Final = np.linspace(-np.pi / 2, np.pi / 2, 360, endpoint=False)
SMOOTH_ALONG: Final = 15
"""Cells over which a joint's darkness is averaged along it."""


def joint_and_crack_cells(brightness: Array, light: CellLight, used: Mask, grid: Grid) -> Mask:
    """Return cells of joints and cracks.

    Args:
        brightness: log brightness, shape (rows, cols).
        light: the light of the cells.
        used: True for cells that count.
        grid: the cells.
    """
    from scipy.ndimage import binary_dilation, binary_opening

    depth = brightness - median_of_medians(filled(brightness, used), 7)
    dark = used & (depth < -evenness_limit("line-depth-sd") * max(robust_sd(depth[used]), 0.004))
    thin = dark & ~binary_opening(dark, np.ones((3, 3)))
    joints = _joint_cells(thin, np.where(used, depth, 0.0), grid)
    cracks = _crack_cells(thin & ~joints, light.darkest) | _gaping_cells(brightness, used, grid)
    return np.asarray(binary_dilation(joints | cracks, np.ones((3, 3))) & used)


def _joint_cells(thin: Mask, depth: Array, grid: Grid) -> Mask:
    """Return the cells of straight lines among thin dark ones, as far as they stay darker than their sides."""
    found, left = np.zeros_like(thin), thin.copy()
    shortest = min(evenness_limit("joint-least-ft") * 12 / grid.cell_in, min(thin.shape) / 2)
    for _ in range(MOST_JOINTS):
        if left.sum() < shortest / 2:
            break
        line = _cells_along(*_fullest_line(left), thin.shape)
        hit, near = _dark_stretch(line, left, depth, shortest)
        left[near] = False
        if len(hit) == 0:
            break
        found[hit[:, 0], hit[:, 1]] = True
    return found


def _fullest_line(cells: Mask) -> tuple[float, int]:
    """Return angle and distance of the straight line through most cells: x cos(angle) + y sin(angle) = distance.

    Source: Duda and Hart 1972, Communications of the ACM 15(1).
    """
    row, col = np.nonzero(cells)
    reach = sum(cells.shape)
    distance = np.round(np.outer(np.cos(ANGLES), col) + np.outer(np.sin(ANGLES), row)).astype(np.intp) + reach
    width = 2 * reach + 1
    votes = np.bincount((distance + width * np.arange(len(ANGLES))[:, None]).ravel(), minlength=width * len(ANGLES))
    angle, place = divmod(int(np.argmax(votes)), width)
    return float(ANGLES[angle]), place - reach


def _cells_along(angle: float, distance: float, shape: tuple[int, ...]) -> NDArray[np.intp]:
    """Return rows and columns of the line x cos(angle) + y sin(angle) = distance across a grid, shape (n, 2)."""
    steps = np.arange(-sum(shape), sum(shape))
    col = distance * np.cos(angle) - steps * np.sin(angle)
    row = distance * np.sin(angle) + steps * np.cos(angle)
    cells = np.round(np.column_stack([row, col])).astype(np.intp)
    return cells[((cells >= 0) & (cells < np.array(shape))).all(axis=1)]


def _dark_stretch(line: NDArray[np.intp], thin: Mask, depth: Array, shortest: float) -> tuple[NDArray[np.intp], Mask]:
    """Return the cells of a line where it is dark along a good stretch, and all thin cells beside the line."""
    from scipy.ndimage import binary_dilation, minimum_filter, uniform_filter1d

    on_line = np.zeros_like(thin)
    on_line[line[:, 0], line[:, 1]] = True
    beside = binary_dilation(on_line, np.ones((3, 3)))
    near = beside & thin
    share = uniform_filter1d(
        binary_dilation(near, np.ones((3, 3)))[line[:, 0], line[:, 1]].astype(np.float64), SMOOTH_ALONG, mode="nearest"
    )
    if not (share > 0.6).any():
        return line[:0], near
    lowest = minimum_filter(depth, 3)
    plain, deep = float(np.median(lowest)), float(np.median(depth[near]))
    darkness = uniform_filter1d(lowest[line[:, 0], line[:, 1]], SMOOTH_ALONG, mode="nearest")
    good = (share > 0.6) | (darkness < plain + 0.4 * (deep - plain))
    plainly = int((share > 0.6).sum())
    if plainly < shortest or plainly < evenness_limit("joint-dark-share") * good.sum():
        return line[:0], near
    return line[good], near


def _crack_cells(thin: Mask, darkest: Array) -> Mask:
    """Return thin dark cells whose darkest points are nearly black, whatever way they run."""
    from scipy.ndimage import binary_dilation, find_objects, label

    groups, _ = label(binary_dilation(thin, np.ones((3, 3))))
    groups = np.where(thin, groups, 0)
    chosen = np.zeros_like(thin)
    for number, box in enumerate(find_objects(groups), start=1):
        if box is None:
            continue
        cells = groups[box] == number
        if cells.sum() >= 4 and float(np.median(darkest[box][cells])) < evenness_limit("crack-depth"):
            chosen[box] |= cells
    return chosen


def _gaping_cells(brightness: Array, used: Mask, grid: Grid) -> Mask:
    """Return cells of open joints and cracks, several cells wide: deep, long and narrow."""
    from scipy.ndimage import distance_transform_edt, find_objects, label

    coarse = filled(brightness, used)[::3, ::3]
    around = np.repeat(np.repeat(median_of_medians(coarse, 9), 3, axis=0), 3, axis=1)
    deep = used & (brightness - around[: used.shape[0], : used.shape[1]] < -evenness_limit("gape-depth"))
    groups, _ = label(deep, np.ones((3, 3)))
    widest = evenness_limit("gape-widest-in") / grid.cell_in
    chosen = np.zeros_like(used)
    for number, box in enumerate(find_objects(groups), start=1):
        cells = groups[box] == number
        thick = 2 * float(distance_transform_edt(np.pad(cells, 1)).max())
        long = max(cells.shape)
        if long > 12 and cells.sum() < 0.25 * long**2 and thick < min(0.3 * long, widest):
            chosen[box] |= cells
    return chosen
