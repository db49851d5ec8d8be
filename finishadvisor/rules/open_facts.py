"""What to find out next: the facts that could still change a verdict, the most telling and the cheapest first."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Final

from finishadvisor.catalog.models import Fact
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.finding import Finding
from finishadvisor.rules.conditions import Values
from finishadvisor.rules.facts import leads

_HANGS_ON_IT: Final[Mapping[str, int]] = {"forbid": 3, "hold": 2, "require": 1}
"""What an open fact counts for a finish: it may rule it out, make it wait, or only add work."""


def find_out_next(
    findings: Mapping[str, Sequence[Finding]], values: Values, facts: Mapping[str, Fact]
) -> tuple[OpenFact, ...]:
    """Return the facts worth finding out: those on which most hangs for most finishes, then those of least effort.

    A fact counts for a finish where it stands in an undecided condition of a rule that bears on the verdict, and no
    settled finding makes that rule moot: once one forbid is met, nothing else matters for that finish. What may rule a
    finish out counts more than what makes it wait, and that more than what only adds work. A fact that may follow from
    others brings those along, and is asked for after them: their answer may settle it. So is a test that no rule asks
    for unless an open question is answered in one way: the question comes first.

    Args:
        findings: finish id -> every rule tried on it.
        values: every fact by id, None where it is unknown.
        facts: every fact by id.
    """
    lead_to = cache(lambda fact_id: leads(fact_id, values, facts))
    changes: dict[str, dict[str, int]] = {}
    for finish, tried in findings.items():
        for fact_id, hangs in _open_facts(tried).items():
            for lead in lead_to(fact_id):
                most = changes.setdefault(lead, {})
                most[finish] = max(hangs, most.get(finish, 0))
    outright = {id_ for tried in findings.values() for id_ in _asked_outright(tried, facts)}
    asked = {lead for id_ in outright for lead in lead_to(id_)}
    waits = {id_: lead_to(id_) != {id_} or (_is_test(id_, facts) and id_ not in asked) for id_ in changes}
    order = sorted(changes, key=lambda id_: (waits[id_], -sum(changes[id_].values()), facts[id_].effort_hours, id_))
    return tuple(
        OpenFact(
            fact=fact_id,
            question=facts[fact_id].question,
            how=facts[fact_id].how,
            could_change=tuple(finish for finish in findings if finish in changes[fact_id]),
        )
        for fact_id in order
    )


def _open_facts(tried: Sequence[Finding]) -> dict[str, int]:
    """Return the facts that leave rules on one finish open, each with the most that hangs on it."""
    if any(finding.effect == "forbid" and finding.met == "yes" for finding in tried):
        return {}
    open_ones: dict[str, int] = {}
    for finding in tried:
        for fact_id in finding.missing if finding.effect in _HANGS_ON_IT else ():
            open_ones[fact_id] = max(_HANGS_ON_IT[finding.effect], open_ones.get(fact_id, 0))
    return open_ones


def _asked_outright(tried: Sequence[Finding], facts: Mapping[str, Fact]) -> set[str]:
    """Return the facts that some rule asks for whatever the open questions are answered."""
    bearing = [one for one in tried if one.effect in _HANGS_ON_IT]
    return {id_ for one in bearing if all(_is_test(id_, facts) for id_ in one.missing) for id_ in one.missing}


def _is_test(fact_id: str, facts: Mapping[str, Fact]) -> bool:
    return facts[fact_id].kind == "gate"
