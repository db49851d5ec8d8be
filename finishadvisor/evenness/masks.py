"""What is not slab, or cannot be judged: each kind of cell that is left out, with its reason."""

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.marks import PhotoMarks, Polygon
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import CellLight, Grid
from finishadvisor.evenness.smooth import filled, robust_sd
from finishadvisor.evenness.words import Masked

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


STRIP_CELLS: Final = 5
RIM_PX: Final = 2.5
"""A corner tapped with care is within two pixels."""


@dataclass
class Masks:
    """Reasons by cell; a cell keeps the first reason that it was given.

    Attributes:
        reasons: the cells of each reason, no cell twice, shape (rows, cols) each.
        used: True for cells with no reason, shape (rows, cols).
    """

    used: Mask
    reasons: dict[Masked, Mask] = field(default_factory=dict)

    def leave_out(self, reason: Masked, cells: Mask) -> None:
        """Leave cells out for a reason."""
        new = cells & self.used
        if new.any():
            self.reasons[reason] = self.reasons.get(reason, np.zeros_like(new)) | new
            self.used = self.used & ~new

    def shares(self) -> dict[str, float]:
        """Return the share of all cells by reason."""
        return {reason.value: float(cells.mean()) for reason, cells in self.reasons.items()}


def first_masks(light: CellLight, marks: PhotoMarks, plane: Plane, grid: Grid) -> Masks:
    """Return what is left out before any light is fitted."""
    masks = Masks(np.ones((grid.rows, grid.cols), dtype=np.bool_))
    masks.leave_out(Masked.OUT_OF_FRAME, ~light.in_frame)
    masks.leave_out(Masked.UNRESOLVED, ~(light.px_per_in[:, :, 0] >= evenness_limit("gate-scale-cell")))
    for polygon in marks.leave_out:
        masks.leave_out(Masked.LEFT_OUT, polygon_cells(polygon, plane, grid))
    for polygon in marks.wet:
        masks.leave_out(Masked.WET, polygon_cells(polygon, plane, grid))
    for pixel, _ in marks.sheets:
        masks.leave_out(Masked.CARD, card_cells(plane.to_feet(*pixel), grid))
    if marks.corners is not None:
        masks.leave_out(Masked.RIM, rim_cells(light, grid))
    masks.leave_out(Masked.BLOWN_OUT, light.blown >= 0.1)
    masks.leave_out(Masked.BLACK, light.black >= 0.5)
    return masks


def rim_cells(light: CellLight, grid: Grid) -> Mask:
    """Return cells along the slab's outline where a corner marked a little off lets the surroundings in."""
    x, y = grid.centers_ft()
    distance_in = 12 * np.minimum(np.minimum(x, grid.width_ft - x)[None, :], np.minimum(y, grid.length_ft - y)[:, None])
    return np.asarray(distance_in * np.nan_to_num(light.px_per_in[:, :, 0]) < RIM_PX)


def polygon_cells(polygon: Polygon, plane: Plane, grid: Grid) -> Mask:
    """Return the cells whose center lies in a polygon of the photo."""
    from skimage.measure import points_in_poly

    x, y = grid.centers_ft()
    u, v = plane.to_pixels(*np.broadcast_arrays(x[None, :], y[:, None]))
    inside = points_in_poly(np.column_stack([u.ravel(), v.ravel()]), np.array(polygon, dtype=np.float64))
    return np.asarray(inside, dtype=np.bool_).reshape(grid.rows, grid.cols)


def card_cells(place_ft: tuple[float, float], grid: Grid) -> Mask:
    """Return the cells in a square around a card."""
    x, y = grid.centers_ft()
    half_ft = evenness_limit("card-half-width-ft")
    return (np.abs(x - place_ft[0]) <= half_ft)[None, :] & (np.abs(y - place_ft[1]) <= half_ft)[:, None]


def joint_and_crack_cells(brightness: Array, light: CellLight, used: Mask, grid: Grid) -> Mask:
    """Return cells of joints and cracks: thin dark lines that are straight, or nearly black inside.

    Thin dark lines that curve or branch and keep most of the slab's light (trowel arcs, wrinkles of a sheet) are marks
    of the slab and stay.

    Args:
        brightness: log brightness, shape (rows, cols).
        light: the light of the cells.
        used: True for cells that count.
        grid: the cells.
    """
    from scipy.ndimage import binary_dilation, binary_opening, find_objects, label, median_filter

    depth = brightness - median_filter(filled(brightness, used), 7, mode="nearest")
    dark = used & (depth < -evenness_limit("line-depth-sd") * max(robust_sd(depth[used]), 0.004))
    thin = dark & ~binary_opening(dark, np.ones((3, 3)))
    groups, _ = label(binary_dilation(thin, np.ones((3, 3))))
    groups = np.where(thin, groups, 0)
    chosen = _gaping_cells(brightness, used)
    for number, box in enumerate(find_objects(groups), start=1):
        if box is None:
            continue
        rows, cols = np.nonzero(groups[box] == number)
        rows, cols = rows + box[0].start, cols + box[1].start
        if rows.size >= 4 and _is_joint_or_crack(rows, cols, light.darkest[rows, cols], grid):
            chosen[rows, cols] = True
            if _is_straight(rows, cols, grid):
                chosen |= _along_line(rows, cols, depth, used)
    return np.asarray(binary_dilation(chosen, np.ones((3, 3))) & used)


def _gaping_cells(brightness: Array, used: Mask) -> Mask:
    """Return cells of open joints and cracks, several cells wide: deep, long and narrow."""
    from scipy.ndimage import distance_transform_edt, find_objects, label, median_filter

    coarse = filled(brightness, used)[::2, ::2]
    around = np.repeat(np.repeat(median_filter(coarse, 13, mode="nearest"), 2, axis=0), 2, axis=1)
    deep = used & (brightness - around[: used.shape[0], : used.shape[1]] < -evenness_limit("gape-depth"))
    groups, _ = label(deep, np.ones((3, 3)))
    chosen = np.zeros_like(used)
    for number, box in enumerate(find_objects(groups), start=1):
        cells = groups[box] == number
        thick = 2 * float(distance_transform_edt(np.pad(cells, 1)).max())
        if max(cells.shape) > 12 and cells.sum() < 0.25 * max(cells.shape) ** 2 and thick < 0.3 * max(cells.shape):
            chosen[box] |= cells
    return chosen


def _is_joint_or_crack(rows: NDArray[np.intp], cols: NDArray[np.intp], darkest: Array, grid: Grid) -> bool:
    return _is_straight(rows, cols, grid) or float(np.median(darkest)) < evenness_limit("crack-depth")


def _along_line(rows: NDArray[np.intp], cols: NDArray[np.intp], depth: Array, used: Mask) -> Mask:
    """Return the cells along a joint's straight line, all across the slab, as far as it stays darker than its sides."""
    from scipy.ndimage import minimum_filter, uniform_filter1d

    middle = np.array([rows.mean(), cols.mean()])
    _, _, axes = np.linalg.svd(np.column_stack([rows, cols]) - middle, full_matrices=False)
    steps = np.arange(-sum(used.shape), sum(used.shape))
    places = np.round(middle + steps[:, None] * axes[0]).astype(np.intp)
    inside = ((places >= 0) & (places < np.array(used.shape))).all(axis=1)
    places = places[inside]
    found = np.zeros_like(used)
    if len(places) < 3:
        return found
    lowest = minimum_filter(np.where(used, depth, 0.0), 3)[places[:, 0], places[:, 1]]
    plain = float(np.median(minimum_filter(np.where(used, depth, 0.0), 3)))
    dark = uniform_filter1d(lowest, 15, mode="nearest") < plain + 0.35 * (float(np.median(depth[rows, cols])) - plain)
    found[places[dark, 0], places[dark, 1]] = True
    return found


def _is_straight(rows: NDArray[np.intp], cols: NDArray[np.intp], grid: Grid) -> bool:
    points = np.column_stack([cols, rows]) * grid.cell_in
    centered = points - points.mean(axis=0)
    _, spread, _ = np.linalg.svd(centered, full_matrices=False)
    along_in, across_in = spread / np.sqrt(len(points))
    length_ft = along_in * np.sqrt(12) / 12
    return bool(length_ft >= evenness_limit("line-straight-ft") and across_in <= evenness_limit("line-straight-in"))


def object_cells(de00: Array, lab: Array, used: Mask) -> tuple[Mask, Mask]:
    """Return cells of things lying on the slab: far from its shade, with a sharp border; and of strips along the rim.

    A strip of other shade right along the outline is what lies around the slab, seen past a corner marked a little off.

    Args:
        de00: difference of single cells from the typical shade, shape (rows, cols).
        lab: CIELAB of single cells, shape (rows, cols, 3).
        used: True for cells that count.
    """
    from scipy.ndimage import find_objects, label

    far = used & (de00 > evenness_limit("object-de00"))
    groups, _ = label(far | (used & (de00 > 0.6 * evenness_limit("object-de00"))), np.ones((3, 3)))
    chosen, strips = np.zeros_like(used), np.zeros_like(used)
    for number, box in enumerate(find_objects(groups), start=1):
        if _is_strip(box, used.shape) and (groups[box] == number).any():
            strips[box] |= groups[box] == number
            continue
        rows = slice(max(box[0].start - 4, 0), box[0].stop + 4)
        cols = slice(max(box[1].start - 4, 0), box[1].stop + 4)
        inside = groups[rows, cols] == number
        if inside.sum() >= 4 and (inside & far[rows, cols]).any() and _sharp(inside, lab[rows, cols], used[rows, cols]):
            chosen[rows, cols] |= inside
    if chosen.mean() > evenness_limit("object-most-share"):
        chosen = np.zeros_like(used)
    return _grown(chosen, used), _grown(strips, used)


def _grown(cells: Mask, used: Mask) -> Mask:
    from scipy.ndimage import binary_dilation

    return np.asarray(binary_dilation(cells, np.ones((3, 3)), iterations=2) & used) if cells.any() else cells


def _is_strip(box: tuple[slice, slice], shape: tuple[int, ...]) -> bool:
    """Return whether a box is a thin strip within a few cells of the slab's outline."""
    for axis, cells in enumerate(box):
        thin = cells.stop - cells.start <= STRIP_CELLS
        if thin and (cells.start <= STRIP_CELLS or cells.stop >= shape[axis] - STRIP_CELLS):
            return True
    return False


def _sharp(inside: Mask, lab: Array, used: Mask) -> bool:
    """Return whether most of the step to the surroundings falls within two cells of the border."""
    from scipy.ndimage import binary_dilation, binary_erosion

    box = np.ones((3, 3))
    near = binary_dilation(inside, box) & ~inside & used
    beyond = binary_dilation(inside, box, iterations=4) & ~binary_dilation(inside, box, iterations=2) & used
    core = binary_erosion(inside, box)
    core = core if core.sum() >= 4 else inside
    if not near.any() or not beyond.any():
        return False
    outside, middle = np.median(lab[beyond], axis=0), np.median(lab[core], axis=0)
    rim = np.median(lab[inside & ~binary_erosion(inside, box)], axis=0)
    step = np.linalg.norm(middle - outside)
    return bool(step > 0 and np.linalg.norm(rim - outside) / step > evenness_limit("object-edge-share"))
