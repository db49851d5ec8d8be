"""Dappled light: sun through leaves, whose share is read cell by cell from color and brightness and taken out."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.color import light_from_log, log_light
from finishadvisor.evenness.smooth import filled, guided_mean, masked_mean, robust_sd

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

END_SHARE: Final = 8.0
"""Percent of the cells whose median is taken for full shade and for full sun in dappled light."""
SUN_STEPS: Final = np.linspace(-0.05, 1.1, 24)
COLOR_WINDOW_IN: Final = 7.0
GUIDE_NOISE: Final = 0.1
FEWEST_AT_STEP: Final = 40
BRIGHTNESS_SPREAD: Final = 0.2
COLOR_SPREAD: Final = (0.04, 0.06)
"""Expected spreads of the slab itself in dappled light: log brightness, ln R/G, ln B/G."""
DETAIL_REACH_IN: Final = 6.0
DETAIL_SPREAD: Final = 0.03
"""Expected spread of the log brightness of the slab about its mean over DETAIL_REACH_IN: some 0.7 L*."""


def dappled_light(left: Array, used: Mask, cell_in: float) -> tuple[Array, Array]:
    """Return the log light of dappled sun and its error: each cell is the slab in a mixture of full shade and sun.

    The share of sun is the one that leaves the slab's own color unchanged and its brightness nearly so.

    Args:
        left: log light less a rough field, shape (rows, cols, 3).
        used: True for cells that count.
        cell_in: side of a cell [in].

    Returns:
        The log light of shape (rows, cols, 3), and the standard deviation of its brightness, shape (rows, cols).
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
    field, error = mixtures[step] + _by_step(off, step, used), _mixture_error(mixtures, off[used])[step]
    return field + _not_believed(left - field, error, used, cell_in), error


def _not_believed(shade: Array, error: Array, used: Mask, cell_in: float) -> Array:
    """Return what of a slab's shade under dappled light is rather light, shape (rows, cols, 3).

    A slab differs little from its mean over half a foot; the share of sun is read with a larger error. So the shade is
    taken as that mean, surer cells weighing more, and of the rest as much as is likelier slab than error: the mean of
    a normal posterior. Color errs with brightness, less by its spread.

    Args:
        shade: log light less the mixture of shade and sun, shape (rows, cols, 3).
        error: standard deviation of the mixture's log brightness, shape (rows, cols).
        used: True for cells that count.
        cell_in: side of a cell [in].
    """
    from scipy.ndimage import gaussian_filter

    reach = DETAIL_REACH_IN / cell_in
    weight = np.where(used, 1 / (error**2 + DETAIL_SPREAD**2), 0.0)
    total = np.maximum(gaussian_filter(weight, reach), 1e-9)
    mean = np.stack([gaussian_filter(weight * np.where(used, shade[:, :, k], 0.0), reach) for k in range(3)], axis=2)
    rest = np.where(used[:, :, None], shade - mean / total[:, :, None], 0.0)
    return np.asarray(rest * (error**2 / (error**2 + DETAIL_SPREAD**2))[:, :, None])


def _mixture_error(mixtures: Array, off: Array) -> Array:
    """Return the standard deviation of log brightness at each share of sun, shape (steps,).

    What brightness and color leave unexplained is noise to the share of sun that was read from them.

    Args:
        mixtures: log light at each share of sun, shape (steps, 3).
        off: what the chosen shares leave, shape (cells, 3): three values less the one share fitted to them.
    """
    spread = np.array([max(robust_sd(off[:, k]), 1e-3) for k in range(3)]) * np.sqrt(3 / 2)
    slope = np.gradient(mixtures, axis=0)
    return np.asarray(np.abs(slope[:, 0]) / np.maximum(np.sqrt(((slope / spread) ** 2).sum(axis=1)), 1e-9))


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
