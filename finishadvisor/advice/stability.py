"""How often the winner still wins when prices, lives, judgments and weights move within their stated ranges."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from finishadvisor.advice.life_cost import UpkeepCosts
from finishadvisor.advice.ranking import LESS_IS_BETTER, MERITS, Contender, comparable
from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.row import Range
from finishadvisor.job.document import Business
from finishadvisor.records.base import Money
from finishadvisor.works.limits import limit

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

SEED: Final = 20_260
_NEVER_YEARS: Final = 1e9
"""Beyond every analysis: for what never comes."""


def winner_stability(
    order: Sequence[Contender], weights: Mapping[str, float], business: Business, catalog: Catalog
) -> float | None:
    """Return the share of draws in which the first of the ranking comes out first again.

    Each draw moves, for every finish by itself, its prices and its lives within low to high (triangular about the
    expected value), each judgment by up to the merit spread, and each weight by up to the weight spread. The draws are
    the same every time.

    Args:
        order: the contenders in rank order.
        weights: by criterion, adding up to one.
        business: years of analysis and discount rate.
        catalog: the limits that state the spreads and the number of draws.
    """
    running = [one for one in order if one.settled == order[0].settled]
    if not running:
        return None
    if len(running) == 1:
        return 1.0
    import numpy as np

    kept = comparable(running, weights)
    draws = Draws(np.random.default_rng(SEED), round(limit(catalog, "stability-draws")))
    moved = draws.weights(list(kept.values()), limit(catalog, "weight-spread"))
    merit_spread = limit(catalog, "merit-spread")
    values = [_drawn_values(draws, one, list(kept), business, merit_spread) for one in running]
    scores = np.full((len(running), draws.count), 0.0)
    for weight, criterion in zip(moved, kept, strict=True):
        scores += weight * _parts(np.stack([one[criterion] for one in values]), criterion)
    scores += limit(catalog, "wish-step") * np.array([[one.wish_points] for one in running])
    return round(float(np.mean(scores.argmax(axis=0) == 0)), 3)


@dataclass
class Draws:
    """A fixed sequence of draws, `count` at a time."""

    generator: "np.random.Generator"
    count: int

    def place(self) -> "Array":
        """Return places between low and high, as shares of probability, shape (count,)."""
        return self.generator.random(self.count)

    def moved(self, value: float, spread: float) -> "Array":
        """Return a value moved up and down evenly by at most the spread, shape (count,)."""
        return self.generator.uniform(value - spread, value + spread, self.count)

    def weights(self, weights: Sequence[float], spread: float) -> "Array":
        """Return weights moved by at most a share of themselves, adding up to one in every draw.

        Args:
            weights: n weights.
            spread: the share.

        Returns:
            Shape (n, count).
        """
        import numpy as np

        factors = self.generator.uniform(1 - spread, 1 + spread, (len(weights), self.count))
        moved = np.array(weights)[:, None] * factors
        return np.asarray(moved / moved.sum(axis=0))


def _drawn_values(
    draws: Draws, one: Contender, criteria: Sequence[str], business: Business, merit_spread: float
) -> "dict[str, Array]":
    """Return what stands for each criterion in every draw, shape (draws,) each."""
    import numpy as np

    price, life = draws.place(), draws.place()
    values = {}
    for criterion in criteria:
        if criterion in MERITS:
            values[criterion] = np.clip(draws.moved(float(getattr(one.merits, criterion)), merit_spread), 0, 10)
        elif criterion == "days_out":
            values[criterion] = np.full(draws.count, one.days_out or 0.0)
        elif criterion == "first_cost" and one.first_cost:
            values[criterion] = triangular(one.first_cost, price)
        elif one.first_cost and one.upkeep:
            values[criterion] = drawn_life_costs(one.first_cost, one.upkeep, business, price, life)
        elif one.life_cost:
            values[criterion] = triangular(one.life_cost, price)
    return values


def _parts(values: "Array", criterion: str) -> "Array":
    """Return each finish's part of a criterion in every draw, 0 to 1, shape (finishes, draws)."""
    import numpy as np

    if criterion not in LESS_IS_BETTER:
        return values / 10
    least, most = values.min(axis=0), values.max(axis=0)
    span = np.where(most > least, most - least, 1.0)
    return np.asarray(np.where(most > least, (most - values) / span, 1.0))


def triangular(amount: Money | Range, place: "Array") -> "Array":
    """Return amounts between low and high, triangular about the expected one.

    Args:
        amount: low, expected and high.
        place: where each draw lies, as a share of probability, 0 to 1, any shape.

    Source: inverse of the cumulative triangular distribution.
    """
    import numpy as np

    low, middle, high = amount.low, amount.expected, amount.high
    if high <= low:
        return np.full_like(place, middle)
    turn = (middle - low) / (high - low)
    below = low + np.sqrt(place * (high - low) * (middle - low))
    above = high - np.sqrt((1 - place) * (high - low) * (high - middle))
    return np.asarray(np.where(place < turn, below, above))


# --- cost over the life, all draws at once --------------------------------------------------------------------------


def drawn_life_costs(
    first: Money, upkeep: UpkeepCosts, business: Business, price: "Array", life: "Array"
) -> "Array":  # fmt: skip
    """Return the present value over the years in every draw; the same sums as `life_cost`, in closed form.

    Args:
        first: cost of laying the finish.
        upkeep: what keeping it costs.
        business: years of analysis and discount rate.
        price: where the amounts of each draw lie between low and high, 0 to 1, shape (draws,).
        life: where its lives lie between short and long, 0 to 1, shape (draws,).
    """
    import numpy as np

    years, rate = business.analysis_years, math.log1p(business.discount_rate)
    never = np.full_like(life, _NEVER_YEARS)
    recoat_years = triangular(upkeep.recoat_years, life) if upkeep.recoat_years else never
    renew_years = triangular(upkeep.renew_years, life) if upkeep.renew_years else never
    total = triangular(first, price)
    total = total + triangular(upkeep.yearly, price) * _worth_of_series(rate, 1.0, math.floor(years))
    visits = _count_before(years, upkeep.inspect_years)
    total = total + triangular(upkeep.inspection, price) * _worth_of_series(rate, upkeep.inspect_years, visits)
    renewals = _count_before(years, renew_years)
    total = total + triangular(upkeep.renew, price) * _worth_of_series(rate, renew_years, renewals)
    if upkeep.recoat is None:
        return np.asarray(total)
    # Each full span between renewals holds the same recoats; the last one is cut off at the end of the analysis.
    span = np.minimum(renew_years, years)
    in_span = _worth_of_series(rate, recoat_years, _count_before(span, recoat_years))
    full_spans = np.where(renewals > 0, 1 + _worth_of_series(rate, renew_years, np.maximum(renewals - 1, 0)), 0.0)
    start = renewals * renew_years
    in_rest = _worth_of_series(rate, recoat_years, _count_before(years - start, recoat_years))
    recoats = full_spans * in_span + np.exp(-rate * start) * in_rest
    return np.asarray(total + triangular(upkeep.recoat, price) * recoats)


def _count_before(span: "Array | float", step: "Array | float") -> "Array":
    """Return how many whole steps lie strictly within a span."""
    import numpy as np

    return np.asarray(np.maximum(np.ceil(np.round(np.divide(span, step), 9)) - 1, 0.0))


def _worth_of_series(rate: float, step: "Array | float", count: "Array | float") -> "Array":
    """Return what one paid after every step, `count` times, is worth now.

    Args:
        rate: the discount rate, continuously compounded, per year.
        step: years between payments.
        count: how many there are.

    Source: sum of a geometric series.
    """
    import numpy as np

    if rate == 0:
        return np.asarray(count, dtype=np.float64)
    factor = np.exp(-rate * np.asarray(step))
    return np.asarray(factor * np.expm1(-rate * np.multiply(step, count)) / (factor - 1))
