"""Puts the finishes of a floor in order by weights that everyone can see and change."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.advice.life_cost import UpkeepCosts
from finishadvisor.catalog.models import Catalog, Merits
from finishadvisor.errors import JobError
from finishadvisor.job.document import Job
from finishadvisor.records.base import Money
from finishadvisor.records.finding import Finding
from finishadvisor.works.limits import limit

LESS_IS_BETTER: Final = ("first_cost", "life_cost", "days_out")
MERITS: Final = ("look", "wear", "upkeep", "slip")


@dataclass(frozen=True)
class Contender:
    """A finish that is not ruled out, with everything that it is ranked by."""

    finish: str
    settled: bool
    """False where it cannot be told yet whether it suits: it is ranked behind all others."""
    first_cost: Money | None
    life_cost: Money | None
    upkeep: UpkeepCosts | None
    days_out: float | None
    merits: Merits
    wish_points: int
    """Points of the rules that favor it, less those of the rules against it."""

    def value(self, criterion: str) -> float | None:
        """Return what stands for a criterion: an expected amount, days, or a judgment from 0 to 10."""
        if criterion in MERITS:
            return float(getattr(self.merits, criterion))
        if criterion == "days_out":
            return self.days_out
        money = self.first_cost if criterion == "first_cost" else self.life_cost
        return money.expected if money else None


@dataclass(frozen=True)
class Ranked:
    """A finish in its place. Rank 1 is the best; the score is a share of the best thinkable, wishes added."""

    finish: str
    rank: int
    score: float
    dominated_by: str | None


def weights_of(job: Job, catalog: Catalog) -> dict[str, float]:
    """Return the weight of each criterion as a share of one: the job's own where given, else the usual ones.

    Raises:
        JobError: the weights add up to nothing.
    """
    weights = {id_: job.weights.get(id_, criterion.weight) for id_, criterion in catalog.criteria.items()}
    total = sum(weights.values())
    if total <= 0:
        raise JobError("job.toml, weights: all weights are 0, so nothing can be ranked. Give one a weight above 0.")
    return {id_: weight / total for id_, weight in weights.items()}


def wish_points(findings: Iterable[Finding], catalog: Catalog) -> int:
    """Return the points of met rules that favor a finish, less those of met rules against it."""
    signs = {"favor": 1, "against": -1}
    return sum(
        signs[one.effect] * catalog.rules[one.rule].weight
        for one in findings
        if one.effect in signs and one.met == "yes"
    )


def comparable(contenders: Sequence[Contender], weights: Mapping[str, float]) -> dict[str, float]:
    """Return the weights of the criteria that every contender has a value for, made to add up to one again.

    Without an outline nothing has a price: then the rest decides. Judgments are always there.
    """
    kept = {
        id_: weight for id_, weight in weights.items() if all(one.value(id_) is not None for one in contenders)
    }  # fmt: skip
    total = sum(kept.values())
    return {id_: weight / total for id_, weight in kept.items()} if total else dict.fromkeys(MERITS, 1 / len(MERITS))


def rank(contenders: Sequence[Contender], weights: Mapping[str, float], catalog: Catalog) -> tuple[Ranked, ...]:
    """Return the contenders in order, best first.

    Each criterion counts from 0 to 1: judgments as tenths, amounts and days from the least (1) to the most (0) among
    the contenders. Equal scores go by the lower first cost, then by id.

    Args:
        contenders: every finish that is not ruled out, in any order.
        weights: by criterion, adding up to one.
        catalog: the limit that says what a point of a wish adds.
    """
    if not contenders:
        return ()
    kept = comparable(contenders, weights)
    step = limit(catalog, "wish-step")
    scores = dict.fromkeys((one.finish for one in contenders), 0.0)
    for id_, weight in kept.items():
        for finish, part in _parts(contenders, id_).items():
            scores[finish] += weight * part
    for one in contenders:
        scores[one.finish] += step * one.wish_points

    def place(one: Contender) -> tuple[bool, float, float, str]:
        cost = one.first_cost.expected if one.first_cost else float("inf")
        return not one.settled, -round(scores[one.finish], 9), cost, one.finish

    order = sorted(contenders, key=place)
    weighed = [id_ for id_, weight in kept.items() if weight > 0]
    return tuple(
        Ranked(one.finish, number, round(scores[one.finish], 4), _dominator(one, order, weighed))
        for number, one in enumerate(order, start=1)
    )


def _parts(contenders: Sequence[Contender], criterion: str) -> dict[str, float]:
    """Return each contender's part of a criterion, 0 to 1."""
    values = {one.finish: one.value(criterion) or 0.0 for one in contenders}
    if criterion in MERITS:
        return {finish: value / 10 for finish, value in values.items()}
    least, most = min(values.values()), max(values.values())
    return {finish: (most - value) / (most - least) if most > least else 1.0 for finish, value in values.items()}


def _dominator(one: Contender, order: Sequence[Contender], weighed: Sequence[str]) -> str | None:
    """Return the best placed finish that is nowhere worse and somewhere better; only settled ones can be it."""
    mine = _better_is_more(one, weighed)
    for other in order:
        theirs = _better_is_more(other, weighed)
        if other.settled and theirs != mine and all(a >= b for a, b in zip(theirs, mine, strict=True)):
            return other.finish
    return None


def _better_is_more(one: Contender, weighed: Sequence[str]) -> tuple[float, ...]:
    values = [(one.value(id_) or 0.0) * (-1 if id_ in LESS_IS_BETTER else 1) for id_ in weighed]
    return (*values, float(one.wish_points))
