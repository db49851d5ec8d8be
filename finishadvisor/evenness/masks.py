"""What is not slab, or cannot be judged: each kind of cell that is left out, with its reason."""

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.marks import PhotoMarks, Polygon
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import CellLight, Grid
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
        around = _Around(inside, lab[rows, cols], de00[rows, cols], used[rows, cols])
        if inside.sum() >= 4 and (inside & far[rows, cols]).any() and around.sharp() and not around.within_a_mark():
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


@dataclass(frozen=True)
class _Around:
    """A group of cells that differ much, and what lies about it.

    Attributes:
        inside: the cells of the group, shape (rows, cols).
        lab: CIELAB of single cells, shape (rows, cols, 3).
        de00: difference from the typical shade, shape (rows, cols).
        used: True for cells that count.
    """

    inside: Mask
    lab: Array
    de00: Array
    used: Mask

    def beyond(self) -> Mask:
        """Return the cells 3 and 4 cells away."""
        from scipy.ndimage import binary_dilation

        box = np.ones((3, 3))
        far, near = (binary_dilation(self.inside, box, iterations=reach) for reach in (4, 2))
        return np.asarray(far & ~near & self.used)

    def sharp(self) -> bool:
        """Return whether most of the step to the surroundings falls within two cells of the border."""
        from scipy.ndimage import binary_dilation, binary_erosion

        box = np.ones((3, 3))
        near, beyond = binary_dilation(self.inside, box) & ~self.inside & self.used, self.beyond()
        core = binary_erosion(self.inside, box)
        core = core if core.sum() >= 4 else self.inside
        rim = core & ~binary_erosion(core, box)
        if not near.any() or not beyond.any():
            return False
        outside, middle = np.median(self.lab[beyond], axis=0), np.median(self.lab[core], axis=0)
        step = np.linalg.norm(middle - outside)
        share = np.linalg.norm(np.median(self.lab[rim], axis=0) - outside) / max(float(step), 1e-9)
        return bool(step > 0 and share > evenness_limit("object-edge-share"))

    def within_a_mark(self) -> bool:
        """Return whether a good part of the surroundings differs the same way, but less: the core of a mark.

        A thing lies on the slab and ends at its own border; where spots overlap or a patch fades out, the slab goes
        on beyond the strongest part.
        """
        beyond = self.beyond()
        if not beyond.any():
            return False
        light = self.lab[:, :, 0]
        plain = self.de00[beyond] < evenness_limit("patch-seed")
        typical = np.median(light[beyond][plain]) if plain.any() else np.median(light[beyond])
        same_way = (light[beyond] - typical) * (np.median(light[self.inside]) - typical) > 0
        return float((~plain & same_way).mean()) > evenness_limit("object-mark-share")
