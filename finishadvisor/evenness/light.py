"""The lighting of a slab from one photo, by robust differences.

Light changes slowly everywhere; a blotch, a patch or a load border has only edges, a few percent of all neighbor
differences. So a smooth field is fitted to *differences* between cells 4 in to 16 in apart, and differences that do
not follow it lose their weight. A fit to the values themselves would need most of the area to be even.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

ROUNDS: Final = 10
SOFT_ROUNDS: Final = 4
ROUNDS_LIKE: Final = 3
ROUGH_ROUNDS: Final = 6
TUKEY_CUT: Final = 2.0
"""In robust standard deviations; 1.2 to 2.5 serve alike, 4.7 lets marks into the light."""
LAGS: Final = (1, 2, 4)
"""Distances of the compared blocks: 4, 8 and 16 in. The near ones find the edge of a band along a wall."""
RIDGE: Final = 1e-7
SMALLEST_SPREAD: Final = 1e-5
WALL_OFFSET_FT: Final = 1.5


@dataclass(frozen=True)
class Shape:
    """What a lighting field may look like: total polynomial degrees, image-radius terms, wall terms."""

    degree: int
    color_degree: int
    radial: bool = True
    walls: bool = False


STIFF: Final = Shape(degree=2, color_degree=1)
"""Too stiff to follow a mark: the second start of a flexible form."""


@dataclass(frozen=True)
class Light:
    """A fitted field of log brightness, ln R/G and ln B/G.

    Attributes:
        shape: the form that was fitted.
        brightness_terms: coefficients of log brightness.
        color_terms: coefficients of ln R/G and ln B/G, shape (terms, 2).
        weight: how far each difference between cells was believed, 0 to 1, shape (pairs,).
    """

    shape: Shape
    brightness_terms: Array
    color_terms: Array
    weight: Array

    def at(self, plane: Plane, x_ft: Array, y_ft: Array) -> Array:
        """Return the field at plan points of one shape, shape (..., 3); its level is arbitrary."""
        brightness, color = basis(self.shape, plane, x_ft.ravel(), y_ft.ravel())
        field = np.column_stack([brightness @ self.brightness_terms, color @ self.color_terms])
        return field.reshape(*x_ft.shape, 3)

    def over(self, plane: Plane, grid: Grid, *, radial: bool = True) -> Array:
        """Return the field on a grid, shape (rows, cols, 3); its level is arbitrary.

        The same as `at` the cells' centers, by products of one vector along each side.

        Args:
            plane: the slab's plane.
            grid: the cells.
            radial: False leaves the lens's fall-off toward the corners out.
        """
        x, y = grid.centers_ft()
        count = _count(self.shape.degree)
        field = np.empty((grid.rows, grid.cols, 3))
        field[:, :, 0] = _surface(
            self.brightness_terms[:count], self.shape.degree, x / plane.width_ft, y / plane.length_ft
        )
        for channel in (0, 1):
            terms = self.color_terms[:, channel]
            field[:, :, channel + 1] = _surface(terms, self.shape.color_degree, x / plane.width_ft, y / plane.length_ft)
        if self.shape.radial and radial:
            square = _radius_square(plane, *np.broadcast_arrays(x[None, :], y[:, None]))
            field[:, :, 0] += square * (self.brightness_terms[count] + square * self.brightness_terms[count + 1])
        if self.shape.walls:
            walls = self.brightness_terms[-4:]
            field[:, :, 0] += _toward_walls(x, plane.width_ft) @ walls[:2]
            field[:, :, 0] += (_toward_walls(y, plane.length_ft) @ walls[2:])[:, None]
        return field


def basis(shape: Shape, plane: Plane, x_ft: Array, y_ft: Array) -> tuple[Array, Array]:
    """Return the basis for brightness and for color at points, shapes (n, terms); constants are left out."""
    brightness = [_polynomials(shape.degree, plane, x_ft, y_ft)]
    if shape.radial:
        square = _radius_square(plane, x_ft, y_ft)
        brightness.append(np.column_stack([square, square**2]))
    if shape.walls:
        brightness += [_toward_walls(x_ft, plane.width_ft), _toward_walls(y_ft, plane.length_ft)]
    return np.concatenate(brightness, axis=1), _polynomials(shape.color_degree, plane, x_ft, y_ft)


def _radius_square(plane: Plane, x_ft: Array, y_ft: Array) -> Array:
    """Return the squared distance from the picture's middle, 1 at its corners."""
    u, v = plane.to_pixels(x_ft, y_ft)
    half_w, half_h = plane.width_px / 2, plane.height_px / 2
    return np.asarray(((u - half_w) ** 2 + (v - half_h) ** 2) / (half_w**2 + half_h**2))


def _toward_walls(place_ft: Array, side_ft: float) -> Array:
    """Return how light grows toward the walls at both ends of a side, shape (n, 2)."""
    return np.log(np.column_stack([place_ft, side_ft - place_ft]) + WALL_OFFSET_FT)


def _surface(terms: Array, degree: int, x: Array, y: Array) -> Array:
    """Return a polynomial of `_polynomials` on a grid of places 0 to 1, shape (len(y), len(x))."""
    table = np.zeros((degree + 1, degree + 1))
    for term, (i, j) in zip(terms, _powers(degree), strict=True):
        table[j, i] = term
    along = np.polynomial.chebyshev.chebvander(2 * x - 1, degree)
    across = np.polynomial.chebyshev.chebvander(2 * y - 1, degree)
    return np.asarray(across @ table @ along.T)


def _powers(degree: int) -> list[tuple[int, int]]:
    return [(i, total - i) for total in range(1, degree + 1) for i in range(total + 1)]


def _count(degree: int) -> int:
    return (degree + 1) * (degree + 2) // 2 - 1


def _polynomials(degree: int, plane: Plane, x_ft: Array, y_ft: Array) -> Array:
    """Return Chebyshev products up to a total degree, without the constant, shape (n, terms)."""
    along = np.polynomial.chebyshev.chebvander(2 * x_ft / plane.width_ft - 1, degree)
    across = np.polynomial.chebyshev.chebvander(2 * y_ft / plane.length_ft - 1, degree)
    return np.column_stack([along[:, i] * across[:, j] for i, j in _powers(degree)])


def fit_light(
    balance: Array,
    used: Mask,
    grid: Grid,
    plane: Plane,
    shape: Shape,
    *,
    like: "Light | None" = None,
    rounds: int = ROUNDS,
) -> Light:
    """Return the lighting field that fits the differences between cells.

    A form with wall terms can follow a band along a wall from its first, unweighted round on and never let go of it.
    Such a form is also fitted from the weights of a stiff one, and the fit that leaves less is kept.

    Args:
        balance: log brightness, ln R/G, ln B/G of each cell, shape (rows, cols, 3).
        used: True for cells that count, shape (rows, cols).
        grid: the cells, 4 in or so.
        plane: the slab's plane.
        shape: the form of the field.
        like: a field of another form fitted to the same cells, whose weights save most of the rounds.
        rounds: how often the weights are renewed; a rough field for a first look needs fewer.
    """
    if like is not None:
        return _descend(_differences(balance, used, grid, plane, shape), like.weight, rounds - ROUNDS_LIKE, rounds)[0]
    pairs = _differences(balance, used, grid, plane, shape)
    even = np.ones(len(pairs.wanted))
    light, left = _descend(pairs, even, 0, rounds)
    if not shape.walls:
        return light
    stiff, _ = _descend(_differences(balance, used, grid, plane, STIFF), even, 0, ROUGH_ROUNDS)
    other, other_left = _descend(pairs, stiff.weight, SOFT_ROUNDS, rounds)
    spread = np.minimum(_spreads(left, pairs.lag), _spreads(other_left, pairs.lag))
    return min((light, left), (other, other_left), key=lambda fit: _loss(fit[1], pairs.lag, spread))[0]


@dataclass(frozen=True)
class _Differences:
    """Differences between cells and the terms that may explain them.

    Attributes:
        shape: the form of the field.
        wanted: differences of log brightness, ln R/G, ln B/G, shape (pairs, 3).
        brightness: differences of the terms of brightness, shape (pairs, terms).
        color: the same for color.
        lag: which of the lags each pair has, shape (pairs,).
    """

    shape: Shape
    wanted: Array
    brightness: Array
    color: Array
    lag: NDArray[np.intp]


def _differences(balance: Array, used: Mask, grid: Grid, plane: Plane, shape: Shape) -> _Differences:
    x, y = np.meshgrid(*grid.centers_ft())
    brightness, color = basis(shape, plane, x.ravel(), y.ravel())
    first, second, lag = _pairs(used)
    flat = balance.reshape(-1, 3)
    return _Differences(
        shape,
        wanted=flat[second] - flat[first],
        brightness=brightness[second] - brightness[first],
        color=color[second] - color[first],
        lag=lag,
    )


def _descend(pairs: _Differences, weight: Array, first_round: int, rounds: int) -> tuple[Light, Array]:
    """Return the field that reweighting leads to from given weights, and what it leaves, shape (pairs, 3)."""
    theta_b, theta_c = np.zeros(pairs.brightness.shape[1]), np.zeros((pairs.color.shape[1], 2))
    left = pairs.wanted
    for turn in range(first_round, rounds):
        theta_b = _weighted_solve(pairs.brightness, pairs.wanted[:, :1], weight)[:, 0]
        theta_c = _weighted_solve(pairs.color, pairs.wanted[:, 1:], weight)
        left = pairs.wanted - np.column_stack([pairs.brightness @ theta_b, pairs.color @ theta_c])
        size = np.sqrt(_joint_square(left, pairs.lag, _spreads(left, pairs.lag)))
        soft = np.minimum(1.0, 1.0 / np.maximum(size, 1e-9))
        tukey = np.where(size < TUKEY_CUT, (1 - (size / TUKEY_CUT) ** 2) ** 2, 0.0)
        weight = soft if turn < SOFT_ROUNDS else tukey
    return Light(pairs.shape, theta_b, theta_c, weight), left


def _pairs(used: Mask) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.intp]]:
    """Return flat indices of cell pairs along both sides, and which lag each has."""
    index = np.arange(used.size).reshape(used.shape)
    firsts, seconds, lags = [], [], []
    for number, step in enumerate(LAGS):
        for a, b in ((np.s_[:, :-step], np.s_[:, step:]), (np.s_[:-step, :], np.s_[step:, :])):
            good = used[a] & used[b]
            firsts.append(index[a][good])
            seconds.append(index[b][good])
            lags.append(np.full(int(good.sum()), number))
    return np.concatenate(firsts), np.concatenate(seconds), np.concatenate(lags)


def _spreads(left: Array, lag: NDArray[np.intp]) -> Array:
    """Return the robust standard deviation of the residuals per lag and channel, shape (lags, 3)."""
    spreads = np.full((len(LAGS), 3), SMALLEST_SPREAD)
    for number in range(len(LAGS)):
        here = left[lag == number]
        if len(here):
            spreads[number] = np.maximum(1.4826 * np.median(np.abs(here), axis=0), SMALLEST_SPREAD)
    return spreads


def _joint_square(left: Array, lag: NDArray[np.intp], spreads: Array) -> Array:
    """Return the squared size of each residual over the three channels, in standard deviations of its lag."""
    scaled = (left / spreads[lag]) ** 2
    return np.asarray((scaled[:, 0] + scaled[:, 1] / 2 + scaled[:, 2] / 2) / 2)


def _loss(left: Array, lag: NDArray[np.intp], spreads: Array) -> float:
    """Return Tukey's loss of the residuals: what follows the field costs little, what does not costs 1 each."""
    follows = np.maximum(1 - _joint_square(left, lag, spreads) / TUKEY_CUT**2, 0.0)
    return float((1 - follows**3).sum())


def _weighted_solve(terms: Array, wanted: Array, weight: Array) -> Array:
    if terms.shape[1] == 0 or terms.shape[0] == 0:
        return np.zeros((terms.shape[1], wanted.shape[1]))
    weighted = terms * weight[:, None]
    normal = weighted.T @ terms
    normal += np.eye(len(normal)) * (RIDGE * np.trace(normal) / len(normal) + 1e-12)
    return np.asarray(np.linalg.solve(normal, weighted.T @ wanted), dtype=np.float64)


def range_of(
    light: Light, plane: Plane, grid: Grid, used: Mask, *, radial: bool = True, low: float = 2, high: float = 98
) -> float:
    """Return the spread between two percentiles of the fitted log brightness, with or without the lens's fall-off."""
    field = light.over(plane, grid, radial=radial)[:, :, 0][used]
    return float(np.subtract(*np.percentile(field, [high, low]))) if field.size else 0.0
