"""What is believed of the causes that make needs uncertain, before and after a mock-up or past use.

Before anything was measured each cause is a standard normal. A measured amount is a weighted sum of causes plus a
normal error on the log scale, so that the belief stays normal and is updated exactly (conjugate normal update; for one
material measured once it is the textbook mean of prior and measurement, each weighted by its precision).
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.order.amounts import Amount, Cause

_DRAWN_AT_ONCE: Final = 1_000
"""Jobs; more at once only take more memory."""


@dataclass(frozen=True)
class Measured:
    """A log amount that was measured, against what was expected."""

    log_ratio: float
    """Log of what was used over what the expected figures say."""
    weights: Mapping[Cause, float]
    error_sd: float
    """Standard deviation of the measured log amount when all causes are known, > 0."""


@dataclass(frozen=True)
class Belief:
    """A joint normal over the causes: mean of shape (causes,), covariance of shape (causes, causes)."""

    causes: tuple[Cause, ...]
    mean: NDArray[np.float64]
    covariance: NDArray[np.float64]

    def weights(self, amount: Amount) -> NDArray[np.float64]:
        """Return the weight of each cause in a log amount, shape (causes,)."""
        return _row(amount.weights, self.causes)

    def log_shift(self, amount: Amount) -> float:
        """Return how far the expected log amount has moved from the catalog's."""
        return float(self.weights(amount) @ self.mean)

    def log_sd(self, amount: Amount) -> float:
        """Return the standard deviation of the log amount, the differences between zones aside."""
        weights = self.weights(amount)
        return math.sqrt(max(0.0, float(weights @ self.covariance @ weights)))

    def draw(self, draws: int, generator: np.random.Generator) -> NDArray[np.float64]:
        """Return draws of the causes, shape (causes, draws)."""
        root = self._root()
        drawn = np.empty((len(self.causes), draws))
        for first in range(0, draws, _DRAWN_AT_ONCE):
            last = min(first + _DRAWN_AT_ONCE, draws)
            normals = generator.standard_normal((last - first, len(self.causes)))
            drawn[:, first:last] = normals.T if root is None else (self.mean + normals @ root.T).T
        return drawn

    def _root(self) -> NDArray[np.float64] | None:
        """Return a square root of the covariance, None where nothing was measured: all causes are standard normals."""
        if np.array_equal(self.covariance, np.eye(len(self.causes))):
            return None
        values, vectors = np.linalg.eigh(self.covariance)
        root: NDArray[np.float64] = vectors * np.sqrt(np.clip(values, 0.0, None))
        return root


def believe(amounts: Iterable[Amount], measured: Sequence[Measured]) -> Belief:
    """Return the belief over all causes that stand in the amounts or in what was measured."""
    named = {cause for amount in amounts for cause in amount.weights}
    named |= {cause for one in measured for cause in one.weights}
    causes = tuple(sorted(named))
    mean, covariance = np.zeros(len(causes)), np.eye(len(causes))
    if not measured or not causes:
        return Belief(causes, mean, covariance)
    rows = np.array([_row(one.weights, causes) for one in measured])
    errors = np.diag([one.error_sd**2 for one in measured])
    gain = rows.T @ np.linalg.inv(rows @ rows.T + errors)
    updated = covariance - gain @ rows
    return Belief(causes, gain @ np.array([one.log_ratio for one in measured]), (updated + updated.T) / 2)


def _row(weights: Mapping[Cause, float], causes: tuple[Cause, ...]) -> NDArray[np.float64]:
    return np.array([weights.get(cause, 0.0) for cause in causes])
