"""What to find out next: the facts that could still change a verdict, the most telling and the cheapest first."""

from collections.abc import Mapping, Sequence
from typing import Final

from finishadvisor.catalog.models import Fact
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.finding import Finding
from finishadvisor.rules.conditions import Values
from finishadvisor.rules.facts import leads

_BEARS_ON_VERDICT: Final = frozenset({"forbid", "hold", "require"})


def find_out_next(
    findings: Mapping[str, Sequence[Finding]], values: Values, facts: Mapping[str, Fact]
) -> tuple[OpenFact, ...]:
    """Return the facts worth finding out, ordered by how many finishes they can change, then by effort.

    A fact counts for a finish where it stands in an undecided condition of a rule that bears on the verdict, and no
    settled finding makes that rule moot: once one forbid is met, nothing else matters for that finish. A fact that may
    follow from others brings those along: their answer may settle it.

    Args:
        findings: finish id -> every rule tried on it.
        values: every fact by id, None where it is unknown.
        facts: every fact by id.
    """
    changes: dict[str, set[str]] = {}
    for finish, tried in findings.items():
        for fact_id in _open_facts(tried):
            for lead in leads(fact_id, values, facts):
                changes.setdefault(lead, set()).add(finish)
    order = sorted(changes, key=lambda fact_id: (-len(changes[fact_id]), facts[fact_id].effort_hours, fact_id))
    return tuple(
        OpenFact(
            fact=fact_id,
            question=facts[fact_id].question,
            how=facts[fact_id].how,
            could_change=tuple(finish for finish in findings if finish in changes[fact_id]),
        )
        for fact_id in order
    )


def _open_facts(tried: Sequence[Finding]) -> set[str]:
    if any(finding.effect == "forbid" and finding.met == "yes" for finding in tried):
        return set()
    return {fact_id for finding in tried if finding.effect in _BEARS_ON_VERDICT for fact_id in finding.missing}
