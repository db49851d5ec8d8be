"""The pairs of cells whose differences tell the light, and weighted sums over them.

A field is a sum of products of functions along the two sides, so the sums are taken first along one side and then along
the other; no table of all pairs by all terms is made.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.light import FUNCTIONS

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Indices = NDArray[np.intp]
Stretches = list[tuple[int, Mask]]
"""By lag: the number of the first pair along a side, and where pairs are, shape (steps, places)."""

LAGS: Final = (1, 2, 4, 8)
"""Distances of the compared blocks: 4, 8, 16 and 32 in.

The near ones find the edge of a band along a wall. The far one serves color alone: a slow change of hue hides in the
coarse color of compressed pictures. Brightness is fitted to the near ones: too many far pairs lie astride a border.
"""
FAR_LAG: Final = 8
FAR_FROM_ENDS: Final = 3
"""Far pairs keep a foot away from the ends of the side: there nearly all of them would lie astride a band at a wall."""
FIRST, SECOND = np.triu_indices(FUNCTIONS)
"""All pairs of functions along a side."""
PAIR_OF: Final = np.zeros((FUNCTIONS, FUNCTIONS), dtype=np.intp)
PAIR_OF[FIRST, SECOND] = PAIR_OF[SECOND, FIRST] = np.arange(len(FIRST))
RADIAL: Final = slice(3, 5)
"""The lens's two terms among the differences, after the three channels."""


@dataclass(frozen=True)
class Side:
    """The pairs of cells along one side of the slab; the steps of all lags stand one after another.

    Attributes:
        near: how many of the steps are near ones.
        steps: differences of the functions along this side, shape (9, steps).
        products: their products two by two, shape (45, steps).
        across: the functions along the other side, shape (places, 9).
        across_products: their products two by two, shape (places, 45).
        differences: of log brightness, ln R/G, ln B/G and the lens's two terms, shape (5, steps, places).
        pair: numbers of the pairs among all pairs.
        place: where these pairs stand in an image of shape (steps, places), flat.
    """

    near: int
    steps: Array
    products: Array
    across: Array
    across_products: Array
    differences: Array
    pair: Indices
    place: Indices

    def sums(self, image: Array, steps: slice) -> "Sums":
        """Return the weighted sums over some of the steps.

        Args:
            image: weights, shape (steps, places).
            steps: which steps.
        """
        differences, image = self.differences[:, steps], image[steps]
        weighted = differences * image
        return Sums(
            terms=self.products[:, steps] @ image @ self.across_products,
            mixed=self.steps[:, steps] @ weighted @ self.across,
            plain=weighted.reshape(5, -1) @ differences.reshape(5, -1).T,
        )


@dataclass(frozen=True)
class Sums:
    """Weighted sums over all pairs, from which the fit of any shape is read.

    Attributes:
        terms: of products of two terms, by pair of functions along x and along y, shape (45, 45).
        mixed: of products of the five differences with a term, shape (5, 9, 9).
        plain: of products of the five differences, shape (5, 5).
    """

    terms: Array
    mixed: Array
    plain: Array

    @classmethod
    def none(cls) -> "Sums":
        """Return the sums over no pairs."""
        pairs = len(FIRST)
        return cls(np.zeros((pairs, pairs)), np.zeros((5, FUNCTIONS, FUNCTIONS)), np.zeros((5, 5)))

    def plus(self, other: "Sums", *, turned: bool = False) -> "Sums":
        """Return these sums and others; turned ones were taken along y first."""
        terms, mixed = (other.terms.T, other.mixed.transpose(0, 2, 1)) if turned else (other.terms, other.mixed)
        return Sums(self.terms + terms, self.mixed + mixed, self.plain + other.plain)


def pairs_of(index: Indices, used: Mask) -> tuple[Indices, Indices, list[slice], tuple[Stretches, Stretches]]:
    """Return flat indices of cell pairs along both sides, lag by lag.

    Returns:
        First cells, second cells, the pairs of each lag, and where the pairs along x and along y are.
    """
    firsts, seconds, lags = [], [], []
    sides: tuple[Stretches, Stretches] = ([], [])
    count = 0
    for step in LAGS:
        start = count
        for side, (cells, good) in enumerate(((index.T, used.T), (index, used))):
            both = good[:-step] & good[step:]
            if step >= FAR_LAG:
                both[:FAR_FROM_ENDS] = both[len(both) - FAR_FROM_ENDS :] = False
            firsts.append(cells[:-step][both])
            seconds.append(cells[step:][both])
            sides[side].append((count, both))
            count += int(both.sum())
        lags.append(slice(start, count))
    return np.concatenate(firsts), np.concatenate(seconds), lags, sides


def side_of(along: Array, across: Array, images: Array, pairs: Stretches) -> Side:
    """Return the pairs along one side.

    Args:
        along: the functions along this side, shape (cells, 9).
        across: the functions along the other side, shape (places, 9).
        images: five fields, this side first, shape (5, cells, places).
        pairs: where pairs along this side are.
    """
    steps = np.concatenate([along[lag:] - along[:-lag] for lag in LAGS]).T
    there = np.concatenate([both for _, both in pairs])
    differences = np.concatenate([images[:, lag:] - images[:, :-lag] for lag in LAGS], axis=1)
    pair = np.concatenate([np.arange(start, start + int(both.sum())) for start, both in pairs])
    return Side(
        near=sum(len(both) for lag, (_, both) in zip(LAGS, pairs, strict=True) if lag < FAR_LAG),
        steps=np.ascontiguousarray(steps),
        products=steps[FIRST] * steps[SECOND],
        across=across,
        across_products=across[:, FIRST] * across[:, SECOND],
        differences=np.where(there, differences, 0.0),
        pair=pair,
        place=np.flatnonzero(there),
    )
