"""Which finishes suit a floor, why, what they cost, and what to find out next."""

from typing import Any, Final, Literal

from finishadvisor.records.base import Money, Record
from finishadvisor.records.finding import FactValue, Finding

Verdict = Literal["suits", "suits-if", "does-not-suit", "cannot-tell"]

WORK: Final = "with this work"
"""How a condition begins that is work to be done, not something to wait for or to find out."""


class AddedWork(Record):
    """A work item that a rule adds to a finish on this floor."""

    work_item: str
    extent: float
    unit: str
    why: str


class FinishAdvice(Record):
    """One finish on one floor. `reasons` are the findings that decided it; no rank and score where it does not suit."""

    id: str
    name: str
    rank: int | None
    verdict: Verdict
    conditions: tuple[str, ...] = ()
    """For suits-if: what must hold, a sentence each ("only if slab RH is below 80 %")."""
    reasons: tuple[Finding, ...]
    adds: tuple[AddedWork, ...]
    first_cost: Money | None
    life_cost: Money | None
    days_out: float | None
    score: float | None
    dominated_by: str | None
    closes: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Return the contract's JSON: findings under the reason keys; the conditions are in them."""
        plain = super().as_json()
        del plain["conditions"]
        plain["reasons"] = [finding.as_reason() for finding in self.reasons]
        return plain


class OpenFact(Record):
    """A fact worth finding out next, and the finishes that it could change."""

    fact: str
    question: str
    how: str
    could_change: tuple[str, ...]


class FloorAdvice(Record):
    """Advice for one floor, finishes in rank order, those that do not suit last."""

    floor: str
    facts: dict[str, FactValue | None]
    finishes: tuple[FinishAdvice, ...]
    none_fits: str | None
    winner_stability: float | None
    find_out_next: tuple[OpenFact, ...]
    cautions: tuple[str, ...]
    before_the_pour: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Return the contract's JSON."""
        plain = super().as_json()
        del plain["finishes"]  # printed last
        plain["finishes"] = [finish.as_json() for finish in self.finishes]
        return plain


class Advice(Record):
    """Advice for every floor of a job."""

    floors: tuple[FloorAdvice, ...]

    def as_json(self) -> dict[str, Any]:
        """Return the contract's JSON."""
        return {"floors": [floor.as_json() for floor in self.floors]}
