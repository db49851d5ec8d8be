"""Means and medians over cells that leave masked cells out."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


def masked_mean(values: Array, used: Mask, window: int) -> Array:
    """Return the mean over a square window of the used cells in it.

    Args:
        values: shape (rows, cols) or (rows, cols, channels).
        used: True for cells that count, shape (rows, cols).
        window: side of the window in cells, odd.

    Returns:
        Means in the shape of `values`; not a number where fewer than a third of the window is used.
    """
    from scipy.ndimage import uniform_filter

    if values.ndim == 3:
        return np.stack([masked_mean(values[:, :, k], used, window) for k in range(values.shape[2])], axis=2)
    share = uniform_filter(used.astype(np.float64), window, mode="nearest")
    total = uniform_filter(np.where(used, values, 0.0), window, mode="nearest")
    return np.where(share > 1 / 3, total / np.maximum(share, 1e-9), np.nan)


def median_of_medians(values: Array, window: int) -> Array:
    """Return the median of the medians of each row of a square window: as blind to thin lines as the whole median.

    Args:
        values: finite, shape (rows, cols).
        window: side of the window in cells, odd.
    """
    from scipy.ndimage import median_filter

    return np.asarray(median_filter(median_filter(values, (1, window), mode="nearest"), (window, 1), mode="nearest"))


def guided_mean(values: Array, guide: Array, used: Mask, window: int, noise: float) -> Array:
    """Return a wide mean that keeps the edges which the values share with a guide.

    In each window the values are taken as a straight line of the guide; the lines of all windows over a cell are
    averaged. Where the guide is flat this is a plain mean.

    Args:
        values: shape (rows, cols).
        guide: shape (rows, cols).
        used: True for cells that count.
        window: side of the window in cells, odd.
        noise: standard deviation of the guide that is not an edge.

    Source: He, Sun and Tang 2013, Guided image filtering, IEEE TPAMI 35(6), equations 5, 6 and 8.
    """
    from scipy.ndimage import uniform_filter

    def mean(field: Array) -> Array:
        return np.asarray(uniform_filter(np.where(used, field, 0.0), window, mode="nearest") / share)

    share = np.maximum(uniform_filter(used.astype(np.float64), window, mode="nearest"), 1e-9)
    guide, values = np.nan_to_num(guide), np.nan_to_num(values)
    guide_mean, value_mean = mean(guide), mean(values)
    slope = (mean(guide * values) - guide_mean * value_mean) / (mean(guide**2) - guide_mean**2 + noise**2)
    level = value_mean - slope * guide_mean
    return np.asarray(mean(slope) * guide + mean(level))


def filled(values: Array, used: Mask) -> Array:
    """Return values with each unused cell given the value of the nearest used one; shape (rows, cols[, channels])."""
    from scipy.ndimage import distance_transform_edt

    if used.all() or not used.any():
        return values
    rows, cols = distance_transform_edt(~used, return_distances=False, return_indices=True)
    return np.asarray(values[rows, cols])


def block_means(values: Array, used: Mask, block: int) -> tuple[Array, Mask]:
    """Return means of used cells over blocks of `block` x `block` cells, and which blocks are at least half used.

    Args:
        values: shape (rows, cols, channels).
        used: shape (rows, cols).
        block: side of a block in cells; cells that fill no whole block at the far edges are left out.
    """
    rows, cols = values.shape[0] // block, values.shape[1] // block
    cut = used[: rows * block, : cols * block].reshape(rows, block, cols, block)
    numbers = np.where(used[:, :, None], values, 0.0)[: rows * block, : cols * block]
    count = cut.sum(axis=(1, 3))
    total = numbers.reshape(rows, block, cols, block, -1).sum(axis=(1, 3))
    return total / np.maximum(count, 1)[:, :, None], count * 2 >= block * block


def two_level_cut(values: Array) -> float:
    """Return the cut that parts values into two levels with the least spread within each, on 256 steps.

    Args:
        values: finite, not all the same.

    Source: Otsu 1979, IEEE Transactions on Systems, Man and Cybernetics 9(1), equation 18.
    """
    counts, edges = np.histogram(values, 256)
    middles = (edges[:-1] + edges[1:]) / 2
    below, above = np.cumsum(counts), np.cumsum(counts[::-1])[::-1]
    mean_below = np.cumsum(counts * middles) / np.maximum(below, 1)
    mean_above = (np.cumsum((counts * middles)[::-1]) / np.maximum(above[::-1], 1))[::-1]
    between = below[:-1] * above[1:] * (mean_below[:-1] - mean_above[1:]) ** 2
    return float(middles[int(np.argmax(between))])


def robust_sd(values: Array) -> float:
    """Return the standard deviation as 1.4826 times the median absolute deviation; 0 for no values."""
    finite = values[np.isfinite(values)]
    if finite.size == 0:
        return 0.0
    return float(1.4826 * np.median(np.abs(finite - np.median(finite))))
