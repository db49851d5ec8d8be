"""The lighting of a slab from one photo, by robust differences.

Light changes slowly everywhere; a blotch, a patch or a load border has only edges, a few percent of all neighbor
differences. So a smooth field is fitted to *differences* between cells 4 in to 32 in apart, and differences that do
not follow it lose their weight. A fit to the values themselves would need most of the area to be even.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.light import FUNCTIONS, Light, Shape, functions_of, radius_square
from finishadvisor.evenness.light_pairs import LAGS, PAIR_OF, RADIAL, Indices, Sums, pairs_of, side_of
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
RIDGE: Final = 1e-7
SMALLEST_SPREAD: Final = 1e-5
STIFF: Final = Shape(degree=2, color_degree=1)
"""Too stiff to follow a mark: the second start of a flexible form."""


class LightFit:
    """Pairs of cells of one slab, ready for fields of any shape.

    Attributes:
        lags: the pairs of each lag.
    """

    def __init__(self, balance: Array, used: Mask, grid: Grid, plane: Plane) -> None:
        """Pair the cells.

        Args:
            balance: log brightness, ln R/G and ln B/G of the cells, shape (rows, cols, 3).
            used: True for cells that count.
            grid: the cells.
            plane: the slab's plane.
        """
        x, y = grid.centers_ft()
        square = radius_square(plane, x[None, :], y[:, None])
        self._square = square.ravel()
        self._values = np.ascontiguousarray(balance.reshape(-1, 3).T)
        self._along = functions_of(x, plane.width_ft)
        self._down = functions_of(y, plane.length_ft)
        images = np.stack([*np.moveaxis(balance, 2, 0), square, square**2])
        index = np.arange(used.size).reshape(used.shape)
        self._first, self._second, self.lags, numbers = pairs_of(index, used)
        self._sides = (
            side_of(self._along, self._down, images.transpose(0, 2, 1), numbers[0]),
            side_of(self._down, self._along, images, numbers[1]),
        )

    def light(self, shape: Shape, *, rounds: int = ROUNDS, stiff: Light | None = None) -> Light:
        """Return the field of a shape that fits the differences.

        Args:
            shape: the form of the field.
            rounds: how often the weights are renewed; a rough field for a first look needs fewer.
            stiff: a field too stiff to follow a mark, if there is one already: the second start of a flexible form.
        """
        even = np.ones(len(self._first))
        light, left = self._descend(shape, even, 0, rounds)
        if not shape.walls:
            return light
        stiff = stiff or self.light(STIFF, rounds=ROUGH_ROUNDS)
        other, other_left = self._descend(shape, stiff.weight, SOFT_ROUNDS, rounds)
        spread = np.minimum(self._spreads(left), self._spreads(other_left))
        return min((light, left), (other, other_left), key=lambda fit: self._loss(fit[1], spread))[0]

    def gain_per_term(self, light: Light, shape: Shape) -> float:
        """Return by how much a more flexible shape lowers the loss for each brightness term that it has more.

        Args:
            light: a fitted field.
            shape: the more flexible form.
        """
        _, left = self._descend(light.shape, light.weight, SOFT_ROUNDS, ROUGH_ROUNDS)
        _, other_left = self._descend(shape, light.weight, SOFT_ROUNDS, ROUNDS)
        spread = np.minimum(self._spreads(left), self._spreads(other_left))
        more = len(shape.brightness_terms()) - len(light.shape.brightness_terms())
        return (self._loss(left, spread) - self._loss(other_left, spread)) / more

    def light_like(self, light: Light, shape: Shape) -> Light:
        """Return a field of another shape from the weights of a fitted one, which saves most of the rounds."""
        return self._descend(shape, light.weight, ROUNDS - ROUNDS_LIKE, ROUNDS)[0]

    def _descend(self, shape: Shape, weight: Array, first_round: int, rounds: int) -> tuple[Light, Array]:
        """Return the field that reweighting leads to from given weights, and what it leaves, shape (3, pairs)."""
        table, radial, left = np.zeros((3, FUNCTIONS, FUNCTIONS)), np.zeros(2), np.zeros((3, len(self._first)))
        for turn in range(first_round, rounds):
            table, radial = _solved(*self._sums(weight), shape)
            left = self._left(table, radial)
            square = self._joint_square(left, self._spreads(left))
            if turn < SOFT_ROUNDS:
                weight = np.minimum(1.0, 1.0 / np.sqrt(np.maximum(square, 1e-18)))
            else:
                weight = np.maximum(1 - square / TUKEY_CUT**2, 0.0) ** 2
        return Light(shape, table, radial, weight), left

    def _sums(self, weight: Array) -> tuple[Sums, Sums]:
        """Return the weighted sums over the near pairs and over all pairs."""
        near, far = Sums.none(), Sums.none()
        for number, side in enumerate(self._sides):
            image = np.zeros(side.differences.shape[1:])
            image.ravel()[side.place] = weight[side.pair]
            near = near.plus(side.sums(image, slice(None, side.near)), turned=number == 1)
            far = far.plus(side.sums(image, slice(side.near, None)), turned=number == 1)
        return near, near.plus(far)

    def _left(self, table: Array, radial: Array) -> Array:
        """Return what a field leaves of the differences, shape (3, pairs)."""
        field = (self._down @ table.transpose(0, 2, 1) @ self._along.T).reshape(3, -1)
        field[0] += self._square * (radial[0] + self._square * radial[1])
        rest = self._values - field
        return np.asarray(rest.take(self._second, axis=1) - rest.take(self._first, axis=1))

    def _spreads(self, left: Array) -> Array:
        """Return the robust standard deviation of what is left per lag and channel, shape (lags, 3)."""
        spreads = np.full((len(LAGS), 3), SMALLEST_SPREAD)
        for number, lag in enumerate(self.lags):
            size = np.abs(left[:, lag])
            if size.shape[1]:
                middle = size.shape[1] // 2
                size.partition(middle, axis=1)
                spreads[number] = np.maximum(1.4826 * size[:, middle], SMALLEST_SPREAD)
        return spreads

    def _joint_square(self, left: Array, spreads: Array) -> Array:
        """Return the squared size of each residual over the three channels, in standard deviations of its lag."""
        square = np.empty(left.shape[1])
        for lag, (bright, red, blue) in zip(self.lags, spreads, strict=True):
            here = left[:, lag]
            square[lag] = here[0] ** 2 / (2 * bright**2) + here[1] ** 2 / (4 * red**2) + here[2] ** 2 / (4 * blue**2)
        return square

    def _loss(self, left: Array, spreads: Array) -> float:
        """Return Tukey's loss of the residuals: what follows the field costs little, what does not costs 1 each."""
        follows = np.maximum(1 - self._joint_square(left, spreads) / TUKEY_CUT**2, 0.0)
        return float((1 - follows**3).sum())


def fit_light(balance: Array, used: Mask, grid: Grid, plane: Plane, shape: Shape, *, rounds: int = ROUNDS) -> Light:
    """Return the lighting field of one shape that fits the differences between cells.

    Args:
        balance: log brightness, ln R/G and ln B/G of the cells, shape (rows, cols, 3).
        used: True for cells that count.
        grid: the cells.
        plane: the slab's plane.
        shape: the form of the field.
        rounds: how often the weights are renewed; a rough field for a first look needs fewer.
    """
    return LightFit(balance, used, grid, plane).light(shape, rounds=rounds)


def _solved(near: Sums, every: Sums, shape: Shape) -> tuple[Array, Array]:
    """Return the coefficients that fit a shape best: of products, shape (3, 9, 9), and of the lens's two terms.

    Args:
        near: sums over the near pairs, for brightness.
        every: sums over all pairs, for color.
        shape: the form of the field.
    """
    table, radial = np.zeros((3, FUNCTIONS, FUNCTIONS)), np.zeros(2)
    i, j = shape.brightness_terms().T
    normal, wanted = _normal(near, i, j), near.mixed[0, i, j]
    if shape.radial:
        lens = near.mixed[RADIAL, i, j]
        normal = np.block([[normal, lens.T], [lens, near.plain[RADIAL, RADIAL]]])
        wanted = np.append(wanted, near.plain[RADIAL, 0])
    found = _ridged_solve(normal, wanted)
    table[0, i, j], radial[: len(found) - len(i)] = found[: len(i)], found[len(i) :]
    i, j = shape.color_terms().T
    table[1:, i, j] = _ridged_solve(_normal(every, i, j), every.mixed[1:3, i, j].T).T
    return table, radial


def _normal(sums: Sums, i: Indices, j: Indices) -> Array:
    return sums.terms[PAIR_OF[i[:, None], i], PAIR_OF[j[:, None], j]]


def _ridged_solve(normal: Array, wanted: Array) -> Array:
    ridge = RIDGE * np.trace(normal) / len(normal) + 1e-12
    return np.asarray(np.linalg.solve(normal + ridge * np.eye(len(normal)), wanted), dtype=np.float64)
