"""Sun on the slab: a cast shadow, or dappled light through leaves, found and taken out.

Sunlight is yellow and skylight blue, so a shadow is darker *and* bluer than the sunlit slab, in one and the same step
all along its border. A border between two loads is not.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import log_light
from finishadvisor.evenness.dapple import dappled_light
from finishadvisor.evenness.light import Light
from finishadvisor.evenness.light_fit import ROUGH_ROUNDS, fit_light
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.separate import MEDIUM, Blocks, blocks_of, merged_blocks
from finishadvisor.evenness.smooth import filled, two_level_cut

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

SEEN_ON_IN: Final = 2.0
RING_IN: Final = 12.0
PIECE_RING: Final = 5
"""Blocks around a piece of sun or shade that it is compared with."""


@dataclass(frozen=True)
class SunPattern:
    """What sun and shade add to the log light of each cell.

    Attributes:
        dappled: True for dappled light, False for a cast shadow.
        field: log brightness, ln R/G, ln B/G of the pattern, shape (rows, cols, 3).
        border: cells along the shadow's border that cannot be judged, shape (rows, cols).
        error: standard deviation of the pattern's log brightness, shape (rows, cols).
    """

    dappled: bool
    field: Array
    border: Mask
    error: Array


def find_sun_pattern(rgb: Array, used: Mask, grid: Grid, plane: Plane) -> SunPattern | None:
    """Return the pattern of sun and shade on the slab, or None where the photo shows none.

    Args:
        rgb: linear light of the cells, shape (rows, cols, 3).
        used: True for cells that count.
        grid: the cells.
        plane: the slab's plane.
    """
    fine = merged_blocks(rgb, used, grid, max(1, round(SEEN_ON_IN / grid.cell_in)))
    coarse = blocks_of(rgb, used, grid)
    light = fit_light(coarse.balance, coarse.used, coarse.grid, plane, MEDIUM, rounds=ROUGH_ROUNDS)
    left = _residual(fine, light, plane)
    step = _two_levels(left, fine.used)
    if step is None:
        return None
    shaded, size = step
    border = _border(shaded, 2) & fine.used
    if _between_share(left[:, :, 0], shaded, size, fine.used) >= evenness_limit("sun-dapple-share"):
        field, error = dappled_light(log_light(rgb) - light.over(plane, grid), used, grid.cell_in)
        return SunPattern(True, field, np.zeros_like(used), error)
    offset = _offset(left, shaded, border, fine)
    evened = fine.balance - shaded[:, :, None] * offset
    calm = _refit(evened, fine, plane, border)
    offset = offset + _offset(calm, shaded, border, fine)
    pattern = _spread_out(shaded[:, :, None] * offset, fine, grid)
    blurred = _spread_out(border[:, :, None].astype(np.float64), fine, grid)[:, :, 0] > 0
    return SunPattern(False, pattern, blurred, np.zeros(used.shape))


def _residual(fine: Blocks, light: Light, plane: Plane) -> Array:
    """Return log light less a field, medians over 3 x 3 blocks, shape (rows, cols, 3)."""
    from scipy.ndimage import median_filter

    left = filled(fine.balance - light.over(plane, fine.grid), fine.used)
    return np.stack([median_filter(left[:, :, k], 3, mode="nearest") for k in range(3)], axis=2)


def _two_levels(left: Array, used: Mask) -> tuple[Mask, float] | None:
    """Return the shaded blocks and the step in log brightness, or None where it is no step of sun to shade."""
    brightness = left[:, :, 0][used]
    if brightness.size < 50 or np.ptp(brightness) < 0.1:
        return None
    cut = two_level_cut(brightness)
    dark = brightness < cut
    share = float(dark.mean())
    if not 0.01 < share < 0.99:
        return None
    between = share * (1 - share) * (brightness[dark].mean() - brightness[~dark].mean()) ** 2
    if between / max(float(brightness.var()), 1e-12) < evenness_limit("sun-two-levels"):
        return None
    shaded = left[:, :, 0] < cut
    smaller = shaded if share < 0.5 else ~shaded
    kept = _pieces_of_sun_or_shade(left, smaller, used, is_shade=share < 0.5)
    if not kept.any():
        return None
    shaded = kept if share < 0.5 else ~kept
    levels = [np.median(left[used & side], axis=0) for side in (~shaded, shaded)]
    return shaded, float(levels[0][0] - levels[1][0])


def _pieces_of_sun_or_shade(left: Array, smaller: Mask, used: Mask, *, is_shade: bool) -> Mask:
    """Return those pieces of the smaller level that differ from their surroundings as sun and shade do.

    Args:
        left: log light less a field, shape (rows, cols, 3).
        smaller: blocks of the smaller of the two levels.
        used: True for blocks that count.
        is_shade: True where the smaller level is the darker one.
    """
    from scipy.ndimage import binary_dilation, binary_erosion, find_objects, label

    groups, _ = label(smaller, np.ones((3, 3)))
    kept = np.zeros_like(smaller)
    for number, box in enumerate(find_objects(groups), start=1):
        rows = slice(max(box[0].start - PIECE_RING, 0), box[0].stop + PIECE_RING)
        cols = slice(max(box[1].start - PIECE_RING, 0), box[1].stop + PIECE_RING)
        piece, around = groups[rows, cols] == number, used[rows, cols]
        core = binary_erosion(piece, np.ones((3, 3))) & around
        core = core if core.sum() >= 6 else piece & around
        ring = binary_dilation(piece, np.ones((3, 3)), iterations=PIECE_RING)
        ring &= ~binary_dilation(piece, np.ones((3, 3)), iterations=2) & ~smaller[rows, cols] & around
        if core.sum() < 4 or ring.sum() < 4:
            continue
        step = np.median(left[rows, cols][ring], axis=0) - np.median(left[rows, cols][core], axis=0)
        large = float(piece.mean()) * piece.size / used.size > evenness_limit("sun-any-least-share")
        if _is_sun_to_shade(step if is_shade else -step, large=large):
            kept |= groups == number
    return kept


def _is_sun_to_shade(step: Array, *, large: bool) -> bool:
    """Return whether a step in log brightness, ln R/G and ln B/G is one from shade to sun.

    Args:
        step: sunny less shaded side, shape (3,).
        large: whether the piece is too large to be a thing lying there.
    """
    bluer = (step[2] - step[1]) / max(step[0], 1e-6)
    red_over_blue = step[1] / max(-step[2], 1e-6)
    if bluer < -evenness_limit("sun-blue-most"):
        return False
    if large and (step[0] > evenness_limit("sun-step-any") or _is_sun_near_white(step)):
        return True
    if not evenness_limit("sun-red-least") < red_over_blue < evenness_limit("sun-red-most"):
        return False
    clear = step[0] > evenness_limit("sun-step-clear") and bluer < -evenness_limit("sun-blue-clear")
    faint = step[0] > evenness_limit("sun-step-faint") and bluer < -evenness_limit("sun-blue-faint")
    return bool(clear or faint)


def _is_sun_near_white(step: Array) -> bool:
    """Return whether a step is one from shade to sun so bright that the camera holds back red, its brightest channel.

    Red and blue then both fall against green. Where a slab's own shade is lighter, dry, salty or short of pigment, it
    is grayer: of a warm slab red falls and blue rises.
    """
    return bool(
        step[0] > evenness_limit("sun-step-clear")
        and step[1] < 0
        and -step[2] > evenness_limit("sun-blue-clear") * step[0]
    )


def _between_share(brightness: Array, shaded: Mask, step: float, used: Mask) -> float:
    """Return the share of blocks whose brightness lies in the middle third between shade and sun, or near a border."""
    levels = np.median(brightness[shaded & used]), np.median(brightness[~shaded & used])
    relative = (brightness - levels[0]) / max(levels[1] - levels[0], 1e-6)
    middle = (relative > 1 / 4) & (relative < 3 / 4)
    return float((middle | _border(shaded, 1))[used].mean())


def _border(shaded: Mask, reach: int) -> Mask:
    from scipy.ndimage import binary_dilation, binary_erosion

    box = np.ones((3, 3))
    grown = binary_dilation(shaded, box, iterations=reach)
    return np.asarray(grown & ~binary_erosion(shaded, box, iterations=reach, border_value=1))


def _offset(left: Array, shaded: Mask, border: Mask, fine: Blocks) -> Array:
    """Return how much less light the shade has: medians over a ring along the border, shade less sun."""
    from scipy.ndimage import binary_dilation

    reach = max(2, round(RING_IN / fine.grid.cell_in))
    ring = binary_dilation(border, np.ones((3, 3)), iterations=reach) & ~border & fine.used
    lit, shade = ring & ~shaded, ring & shaded
    if lit.sum() < 10 or shade.sum() < 10:
        lit, shade = fine.used & ~shaded & ~border, fine.used & shaded & ~border
    if not lit.any() or not shade.any():
        return np.zeros(3)
    return np.asarray(np.median(left[shade], axis=0) - np.median(left[lit], axis=0))


def _refit(balance: Array, fine: Blocks, plane: Plane, border: Mask) -> Array:
    """Return what is left of evened blocks after a fresh cubic field."""
    light = fit_light(balance, fine.used & ~border, fine.grid, plane, MEDIUM)
    return np.asarray(balance - light.over(plane, fine.grid))


def _spread_out(values: Array, fine: Blocks, grid: Grid) -> Array:
    """Return block values on the cells, shape (rows, cols, channels)."""
    whole = np.repeat(np.repeat(values, fine.size, axis=0), fine.size, axis=1)
    rows, cols = max(0, grid.rows - whole.shape[0]), max(0, grid.cols - whole.shape[1])
    return np.pad(whole, ((0, rows), (0, cols), (0, 0)), mode="edge")
