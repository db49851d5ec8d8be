"""The last step of the fit of the light: a slab has few shades, and what lies off all of them is light.

Differences between neighbors find the light under marks of any size, but they spend what the photo knows of its slow
part: each block counts only against the few around it. Once the field is nearly right, the brightness that it leaves
crowds about the slab's shades. Each block is drawn toward where its like crowd, and what it is off by, all over the
slab, was light.

Source: Sled, Zijdenbos and Evans 1998, A nonparametric method for automatic correction of intensity nonuniformity in
MRI data, IEEE Transactions on Medical Imaging 17(1), for the principle; the step toward the crowd is the mean shift of
Fukunaga and Hostetler 1975, IEEE Transactions on Information Theory 21(1).
"""

from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.light import Light, functions_of, radius_square
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

ROUNDS: Final = 4
"""Two serve nearly as well; after many the light begins to follow soft marks."""
LAG: Final = 4
"""Blocks 16 in apart tell the spread within one shade: grain and mottle, but few borders of marks."""
LEAST_WIDTH: Final = 0.006
"""Log brightness, some 0.1 L*: no slab is smoother than that."""
STEPS_PER_WIDTH: Final = 4
"""Steps of the histogram of values."""
FEWEST_STEPS, MOST_STEPS = 16, 2000
RIDGE: Final = 1e-7
"""Only keeps terms apart that hardly differ on this slab; it draws nothing toward zero."""
FEWEST_BLOCKS_A_TERM: Final = 4
"""With fewer blocks a field of so many terms would follow grain (our choice)."""


def settled(light: Light, balance: Array, used: Mask, grid: Grid, plane: Plane) -> Light:
    """Return a fitted field with its brightness settled on the slab's shades.

    Args:
        light: the field.
        balance: log brightness, ln R/G and ln B/G of the blocks, shape (rows, cols, 3).
        used: True for blocks that count.
        grid: the blocks.
        plane: the slab's plane.
    """
    terms = _terms(light, grid, plane)[used]
    if len(terms) < FEWEST_BLOCKS_A_TERM * terms.shape[1]:
        return light
    left = balance[:, :, 0] - light.over(plane, grid)[:, :, 0]
    more = _left_in(terms, left[used], _width_of_a_shade(left, used))
    i, j = light.shape.brightness_terms().T
    table, radial = light.table.copy(), light.radial.copy()
    table[0, i, j] += more[: len(i)]
    radial[: len(more) - len(i)] += more[len(i) :]
    return replace(light, table=table, radial=radial)


def off_the_crowd(values: Array, width: float) -> Array:
    """Return how far each value lies from the mean of the values about it, weighed by a bell of the given width."""
    from scipy.ndimage import gaussian_filter1d

    middle, reach = float(np.median(values)), 4 * width
    low, high = np.percentile(values, [0.2, 99.8]) - middle
    count = int(np.clip((high - low + 2 * reach) / width * STEPS_PER_WIDTH, FEWEST_STEPS, MOST_STEPS))
    counts, edges = np.histogram(values - middle, count, (low - reach, high + reach))
    places = (edges[:-1] + edges[1:]) / 2
    bell = width / (edges[1] - edges[0])
    crowd, moment = (gaussian_filter1d(each, bell, mode="constant") for each in (counts * 1.0, counts * places))
    means = np.where(crowd > 1e-6, moment / np.maximum(crowd, 1e-6), places)
    inside = np.clip(values - middle, places[0], places[-1])
    return np.asarray(inside - np.interp(inside, places, means))


def _left_in(terms: Array, left: Array, width: float) -> Array:
    """Return the coefficients of the light that a field left in, shape (terms,).

    Args:
        terms: the field's terms at the blocks, shape (blocks, terms).
        left: log brightness that the field leaves there, shape (blocks,).
        width: spread within one shade.
    """
    centered = terms - terms.mean(axis=0)
    normal = centered.T @ centered
    normal += (RIDGE * np.trace(normal) / len(normal) + 1e-12) * np.eye(len(normal))
    found = np.zeros(terms.shape[1])
    for _ in range(ROUNDS):
        off = off_the_crowd(left - centered @ found, width)
        found += np.linalg.solve(normal, centered.T @ off)
    return found


def _width_of_a_shade(left: Array, used: Mask) -> float:
    """Return the spread of log brightness within one shade, told by blocks not far apart."""
    down, across = used[LAG:] & used[:-LAG], used[:, LAG:] & used[:, :-LAG]
    steps = np.concatenate([(left[LAG:] - left[:-LAG])[down], (left[:, LAG:] - left[:, :-LAG])[across]])
    return max(1.4826 * float(np.median(np.abs(steps))) / np.sqrt(2), LEAST_WIDTH) if steps.size else LEAST_WIDTH


def _terms(light: Light, grid: Grid, plane: Plane) -> Array:
    """Return the terms of a field's brightness on a grid, shape (rows, cols, terms)."""
    x, y = grid.centers_ft()
    i, j = light.shape.brightness_terms().T
    terms = functions_of(y, plane.length_ft)[:, None, j] * functions_of(x, plane.width_ft)[None, :, i]
    if not light.shape.radial:
        return np.asarray(terms)
    square = radius_square(plane, x[None, :], y[:, None])
    return np.concatenate([terms, square[:, :, None], square[:, :, None] ** 2], axis=2)
