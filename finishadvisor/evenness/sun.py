"""Sun on the slab: a cast shadow, or dappled light through leaves, found and taken out.

Sunlight is yellow and skylight blue, so a shadow is darker *and* bluer than the sunlit slab, in one and the same step
all along its border. A border between two loads is not.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import light_from_log, log_light
from finishadvisor.evenness.light import Light
from finishadvisor.evenness.light_fit import ROUGH_ROUNDS, fit_light
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.separate import MEDIUM, Blocks, blocks_of, merged_blocks
from finishadvisor.evenness.smooth import filled, guided_mean, masked_mean, robust_sd, two_level_cut

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

SEEN_ON_IN: Final = 2.0
RING_IN: Final = 12.0
PIECE_RING: Final = 5
"""Blocks around a piece of sun or shade that it is compared with."""
END_SHARE: Final = 8.0
"""Percent of the cells whose median is taken for full shade and for full sun in dappled light."""
SUN_STEPS: Final = np.linspace(-0.05, 1.1, 24)
COLOR_WINDOW_IN: Final = 7.0
GUIDE_NOISE: Final = 0.1
FEWEST_AT_STEP: Final = 40
BRIGHTNESS_SPREAD: Final = 0.2
COLOR_SPREAD: Final = (0.04, 0.06)
"""Expected spreads of the slab itself in dappled light: log brightness, ln R/G, ln B/G."""


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
        field, error = _dapple(log_light(rgb) - light.over(plane, grid), used, grid.cell_in)
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


def _dapple(left: Array, used: Mask, cell_in: float) -> tuple[Array, Array]:
    """Return the log light of dappled sun and its error: each cell is the slab in a mixture of full shade and sun.

    The share of sun is the one that leaves the slab's own color unchanged and its brightness nearly so.
    """
    light = light_from_log(left)
    smooth = filled(masked_mean(light, used, 3), used & np.isfinite(masked_mean(light[:, :, 0], used, 3)))
    bright = left[:, :, 0]
    low, high = np.percentile(bright[used], [END_SHARE, 100 - END_SHARE])
    shade = np.median(smooth[used & (bright <= low)], axis=0)
    sun = np.median(smooth[used & (bright >= high)], axis=0)
    seen = log_light(smooth)
    window = 2 * round(COLOR_WINDOW_IN / 2 / cell_in) + 1
    for channel in (1, 2):
        seen[:, :, channel] = guided_mean(seen[:, :, channel], seen[:, :, 0], used, window, GUIDE_NOISE)
    best, step = np.full(used.shape, np.inf), np.zeros(used.shape, dtype=np.intp)
    mixtures = np.stack([log_light(np.maximum(shade + part * (sun - shade), 1e-4)) for part in SUN_STEPS])
    for number, mixed in enumerate(mixtures):
        off = seen - mixed
        size = np.abs(off[:, :, 0]) / BRIGHTNESS_SPREAD
        cost = np.where(size < 1, size**2 / 2, size - 0.5)
        cost = cost + (off[:, :, 1] / COLOR_SPREAD[0]) ** 2 + (off[:, :, 2] / COLOR_SPREAD[1]) ** 2
        better = cost < best
        best = np.where(better, cost, best)
        step[better] = number
    off = seen - mixtures[step]
    return mixtures[step] + _by_step(off, step, used), _mixture_error(mixtures, off[used])[step]


def _mixture_error(mixtures: Array, off: Array) -> Array:
    """Return the standard deviation of log brightness at each share of sun, shape (steps,).

    What brightness and color leave unexplained is noise to the share of sun that was read from them.

    Args:
        mixtures: log light at each share of sun, shape (steps, 3).
        off: what the chosen shares leave, shape (cells, 3): three values less the one share fitted to them.
    """
    spread = np.array([max(robust_sd(off[:, k]), 1e-3) for k in range(3)]) * np.sqrt(3 / 2)
    slope = np.gradient(mixtures, axis=0)
    return np.asarray(np.abs(slope[:, 0]) / np.sqrt(((slope / spread) ** 2).sum(axis=1)))


def _by_step(off: Array, step: NDArray[np.intp], used: Mask) -> Array:
    """Return what is left of the light at each share of sun: the slab's shade knows nothing of where the sun fell.

    Args:
        off: log light less the mixture, shape (rows, cols, 3).
        step: number of the share of sun of each cell, shape (rows, cols).
        used: True for cells that count.
    """
    from scipy.ndimage import gaussian_filter1d

    table, known = np.zeros((len(SUN_STEPS), 3)), np.zeros(len(SUN_STEPS), dtype=np.bool_)
    for number in range(len(SUN_STEPS)):
        cells = used & (step == number)
        if cells.sum() >= FEWEST_AT_STEP:
            table[number], known[number] = np.median(off[cells], axis=0), True
    if not known.any():
        return np.zeros_like(off)
    numbers = np.arange(len(SUN_STEPS))
    filled_in = np.column_stack([np.interp(numbers, numbers[known], table[known, k]) for k in range(3)])
    return np.asarray(gaussian_filter1d(filled_in, 1.0, axis=0, mode="nearest")[step])
