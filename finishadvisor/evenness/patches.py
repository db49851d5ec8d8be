"""Regions that differ from the typical shade: where, how much, how big, what they look like."""

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.smooth import filled
from finishadvisor.evenness.words import PatchKind
from finishadvisor.records.evenness import Patch

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOST_PATCHES: Final = 200
STRAIGHT_FT: Final = 3.0
STRAIGHT_WITHIN_IN: Final = 1.5
"""How long and how straight (rms) a border must be to be that of a shadow."""
LINE_SLENDER: Final = 4.0
"""Longer over shorter axis from which a thin bent mark is a line and no part of a ring."""


@dataclass(frozen=True)
class Features:
    """What a patch looks like, in feet and CIELAB.

    Attributes:
        light: difference in L*.
        chroma: difference in chroma C*.
        area_ft2: its area.
        long_ft: longer axis of the ellipse with its moments.
        short_ft: shorter axis of that ellipse.
        thick_ft: twice the greatest distance from its border: the width of its widest part.
        solidity: its area over the area of its convex hull.
        edge_ft: width of its border, 10 to 90 %.
        at_edge: share of its outline along the slab's edge.
        edges_touched: how many sides of the slab it touches.
        ragged: outline over the outline of a disk of the same area.
    """

    light: float
    chroma: float
    area_ft2: float
    long_ft: float
    short_ft: float
    thick_ft: float
    solidity: float
    edge_ft: float
    at_edge: float
    edges_touched: int
    ragged: float


def patch_cells(de00: Array, used: Mask, grid: Grid, cell_sigma: float) -> NDArray[np.intp]:
    """Return the number of the patch that each cell belongs to, 0 for none, shape (rows, cols).

    A patch starts where the difference is plain, grows to where it fades, and must be big enough to be noticed.

    Args:
        de00: difference of the 3 in mean from the typical shade, shape (rows, cols).
        used: True for cells that count.
        grid: the cells.
        cell_sigma: standard deviation of `de00` at a cell.
    """
    from scipy.ndimage import binary_propagation, label

    known = np.where(used, np.nan_to_num(de00), 0.0)
    seed = max(evenness_limit("patch-seed"), evenness_limit("patch-peak-sigma") * cell_sigma)
    searched = known > evenness_limit("patch-grow")
    grown = binary_propagation(searched & (known > seed), np.ones((3, 3)), mask=searched)
    groups, count = label(grown & (known >= evenness_limit("patch-keep")), np.ones((3, 3)))
    grainy = cell_sigma > 0.5
    least_ft2 = evenness_limit("patch-least-grainy-ft2" if grainy else "patch-least-ft2")
    cell_ft2 = grid.width_ft * grid.length_ft / (grid.rows * grid.cols)
    sizes = np.bincount(groups.ravel(), minlength=count + 1) * cell_ft2
    sizes[0] = 0
    order = [int(n) for n in np.argsort(-sizes) if sizes[n] >= least_ft2][:MOST_PATCHES]
    numbers = np.zeros(count + 1, dtype=np.intp)
    numbers[order] = np.arange(1, len(order) + 1)
    return np.asarray(numbers[groups], dtype=np.intp)


def describe_patches(
    numbers: NDArray[np.intp], lab: Array, typical: Array, used: Mask, grid: Grid
) -> tuple[Patch, ...]:
    """Return every numbered patch, largest first."""
    from skimage.measure import regionprops

    smooth = filled(lab, used & np.isfinite(lab).all(axis=2))
    found = []
    for region in regionprops(numbers):
        features = _features(region, numbers, smooth, typical, grid)
        mean = lab[numbers == region.label].mean(axis=0)
        found.append(_patch(region, mean, typical, kind_of(features, mean - typical), grid))
    return tuple(sorted(found, key=lambda patch: -patch.area_ft2))


def has_straight_step(numbers: NDArray[np.intp], patches: tuple[Patch, ...], used: Mask, grid: Grid) -> bool:
    """Return whether the border of a large area runs straight through the slab, as a shadow of a wall or roof would.

    Args:
        numbers: the patch of each cell, shape (rows, cols).
        patches: the patches, by their number.
        used: True for cells that count.
        grid: the cells.
    """
    from scipy.ndimage import binary_dilation, binary_erosion

    large = [patch for patch in patches if patch.kind == PatchKind.LARGE_SIDE]
    for patch in large[:3]:
        row, col = grid.index_of(patch.x_ft + 1e-6, patch.y_ft + 1e-6)
        rows = slice(row, row + round(patch.length_ft * grid.rows / grid.length_ft))
        cols = slice(col, col + round(patch.width_ft * grid.cols / grid.width_ft))
        inside = numbers[rows, cols]
        number = int(np.bincount(inside[inside > 0]).argmax())
        cells = numbers == number
        border = binary_dilation(cells) & ~cells & binary_erosion(used, iterations=2)
        points = np.column_stack(np.nonzero(border)) * grid.cell_in
        if len(points) * grid.cell_in < 12 * STRAIGHT_FT:
            continue
        _, spread, _ = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)
        if spread[1] / np.sqrt(len(points)) < STRAIGHT_WITHIN_IN:
            return True
    return False


def kind_of(features: Features, difference: Array) -> PatchKind:
    """Return what a patch looks like.

    Args:
        features: its shape.
        difference: its mean CIELAB less the typical one.
    """
    pale = features.light > 0
    hue_only = abs(features.light) < 0.5 * float(np.hypot(difference[1], difference[2]))
    kind = PatchKind.PALE if pale else PatchKind.DARK
    if features.area_ft2 > 20 and features.edges_touched >= 2 and features.thick_ft > 3:
        kind = PatchKind.LARGE_SIDE
    elif features.at_edge > 0.3 and features.thick_ft <= 2.5 and features.long_ft > 2 * features.thick_ft:
        kind = PatchKind.EDGE_BAND
    elif features.long_ft > 1.0 and (features.thick_ft < 0.4 or _bends_along(features)):
        kind = PatchKind.PALE_LINE if pale else PatchKind.DARK_LINE
    elif features.solidity < 0.5 and features.thick_ft < 1.0 and features.short_ft > 1.5 and features.long_ft < 7:
        kind = PatchKind.RING
    elif features.long_ft > 4 * features.thick_ft and features.thick_ft < 1.7 and features.solidity > 0.6:
        kind = PatchKind.STRIPE
    elif hue_only:
        kind = PatchKind.HUE
    elif features.area_ft2 < 0.5 and features.solidity > 0.7:
        kind = PatchKind.SMALL_SPOT
    elif pale and features.chroma < -0.5 and features.ragged > 1.6:
        kind = PatchKind.PALE_LACE
    elif not pale and features.chroma > 0.3 and features.edge_ft > 0.4:
        kind = PatchKind.DARK_SOFT
    return kind


def _bends_along(features: Features) -> bool:
    """Return whether a patch is a line with a wide place or two, such as a faint crack, that bends but does not turn.

    A third of a ring is 3.6 times as long as it is wide, by the axes of the ellipse with its moments.
    """
    slender = features.solidity < 0.5 and features.thick_ft < 1.0
    return slender and features.long_ft > max(3.0, LINE_SLENDER * features.short_ft)


def _features(region: Any, numbers: NDArray[np.intp], lab: Array, typical: Array, grid: Grid) -> Features:
    from scipy.ndimage import distance_transform_edt

    cell_ft = grid.cell_in / 12
    cells = numbers == region.label
    padded = np.pad(region.image, 1)
    mean = lab[cells].mean(axis=0)
    top, left, bottom, right = region.bbox
    sides = (top == 0, left == 0, bottom == grid.rows, right == grid.cols)
    on_edge = sum(
        int(line.sum())
        for line, touches in zip(
            (region.image[0], region.image[:, 0], region.image[-1], region.image[:, -1]), sides, strict=True
        )
        if touches
    )
    outline_cells = max(float(region.perimeter), 4.0)
    return Features(
        light=float(mean[0] - typical[0]),
        chroma=float(np.hypot(mean[1], mean[2]) - np.hypot(typical[1], typical[2])),
        area_ft2=float(region.area) * cell_ft**2,
        long_ft=float(region.axis_major_length) * cell_ft,
        short_ft=float(region.axis_minor_length) * cell_ft,
        thick_ft=2 * float(distance_transform_edt(padded).max()) * cell_ft,
        solidity=float(region.solidity),
        edge_ft=_edge_width_ft(cells, lab, mean, typical, cell_ft),
        at_edge=on_edge / (outline_cells + on_edge),
        edges_touched=sum(sides),
        ragged=outline_cells / (2 * np.sqrt(np.pi * float(region.area))),
    )


def _edge_width_ft(cells: Mask, lab: Array, mean: Array, typical: Array, cell_ft: float) -> float:
    """Return the 10 to 90 % width of a patch's border: 0.8 of its step over the slope at the border."""
    from scipy.ndimage import binary_dilation, binary_erosion

    rim = binary_dilation(cells) & ~binary_erosion(cells)
    along, across = np.gradient(lab[:, :, 0])
    slope = float(np.percentile(np.hypot(along, across)[rim], 75))
    return float(0.8 * abs(mean[0] - typical[0]) / max(slope, 1e-3) * cell_ft)


def _patch(region: Any, mean: Array, typical: Array, kind: PatchKind, grid: Grid) -> Patch:
    top, left, bottom, right = region.bbox
    x_scale, y_scale = grid.width_ft / grid.cols, grid.length_ft / grid.rows
    difference = mean - typical
    return Patch(
        x_ft=round(left * x_scale, 3),
        y_ft=round(top * y_scale, 3),
        width_ft=round((right - left) * x_scale, 3),
        length_ft=round((bottom - top) * y_scale, 3),
        area_ft2=round(float(region.area) * x_scale * y_scale, 3),
        dL=round(float(difference[0]), 2),
        da=round(float(difference[1]), 2),
        db=round(float(difference[2]), 2),
        de00=round(float(color_difference(mean, typical)), 2),
        kind=kind.value,
        outline_ft=_outline(region.image, top, left, x_scale, y_scale),
    )


def _outline(cells: Mask, top: int, left: int, x_scale: float, y_scale: float) -> tuple[tuple[float, float], ...]:
    """Return the outer outline of a patch in feet, its corners rounded off by less than a cell."""
    from shapely import LineString
    from skimage.measure import find_contours

    contours = find_contours(np.pad(cells, 1).astype(np.float64), 0.5)
    longest = max(contours, key=len)
    corners = np.array(LineString(longest).simplify(0.6).coords)
    corners = longest if len(corners) < 4 else corners
    return tuple(
        (round(float(col - 0.5 + left) * x_scale, 2), round(float(row - 0.5 + top) * y_scale, 2))
        for row, col in corners[:-1]
    )
