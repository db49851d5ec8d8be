"""What a rule said when it was tried."""

from typing import Any, Literal

from finishadvisor.records.base import Record, SourceNote

Effect = Literal["forbid", "hold", "require", "caution", "favor", "against"]
Met = Literal["yes", "no", "unknown"]
FactValue = str | float | bool


class Finding(Record):
    """One rule tried on one subject: met, not met or unknown, and the facts that it read."""

    rule: str
    effect: Effect
    met: Met
    because: str
    facts: dict[str, FactValue | None]
    source: SourceNote
    only_if: str | None = None
    """For an undecided forbid or hold: when it does not bind, in words ("slab RH is below 80 %").

    For a hold that is met: what tests or days must bring about, None where a choice has to change.
    """
    work_item: str | None = None
    """For a require: the work item of the catalog that it adds."""
    missing: tuple[str, ...] = ()
    """The unknown facts that leave the rule undecided."""

    def as_reason(self) -> dict[str, Any]:
        """Return the finding under the keys of the advise contract."""
        plain = self.as_json()
        return {key: plain[key] for key in ("rule", "effect", "met", "because", "facts", "source")}
