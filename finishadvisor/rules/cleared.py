"""What must turn out for an open forbid or hold not to bind, in words."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.records.finding import Finding
from finishadvisor.rules.conditions import Values, describe, describe_not, facts_in, undecided_part

_LIES_THERE: Final = "layers_down"
"""The part of a job that facts about what lies on the slab are derived from: no test and no day changes them."""


def cleared(finding: Finding, facts: Values, catalog: Catalog) -> str:
    """Return what must turn out: the test first, behind it what the rule asks that test for.

    "slab RH is below 75 % (if cars drive on it)" says the same as "slab RH is below 75 %, or no cars drive on it", and
    a person on site knows at once whether it concerns them. Where tests alone, or none, are open, either may clear it.

    Args:
        finding: a forbid or hold that is undecided.
        facts: every fact of the catalog, None where it is unknown.
        catalog: for the rule and the words of its facts.
    """
    return _told(*_parts(finding, facts, catalog))


def cleared_together(findings: Iterable[Finding], facts: Values, catalog: Catalog) -> tuple[str, ...]:
    """Return what must turn out for several open findings, the same thing once however many rules ask for it.

    What comes first in the catalog's facts comes first here: people and air, the slab and its moisture, its shade,
    what is read on a label.

    Args:
        findings: forbids or holds that are undecided.
        facts: every fact of the catalog, None where it is unknown.
        catalog: for the rules and the words of their facts.
    """
    place = {fact_id: number for number, fact_id in enumerate(catalog.facts)}
    asked: dict[str, list[str | None]] = {}
    for finding in sorted(findings, key=lambda one: _latest_test(one, place, catalog)):
        turns_out, given = _parts(finding, facts, catalog)
        asked.setdefault(turns_out, []).append(given)
    return tuple(_told(turns_out, _either(cases)) for turns_out, cases in asked.items())


def _latest_test(finding: Finding, place: Mapping[str, int], catalog: Catalog) -> int:
    tests = [fact_id for fact_id in finding.missing if catalog.facts[fact_id].kind == "gate"]
    return max((place[fact_id] for fact_id in tests or finding.missing), default=0)


def _either(cases: Sequence[str | None]) -> str | None:
    """Return the cases in which something is asked for, None where one of them is always."""
    told = [case for case in dict.fromkeys(cases) if case is not None]
    return " or ".join(told) if None not in cases else None


def _told(turns_out: str, given: str | None) -> str:
    return turns_out if given is None else f"{turns_out} (if {given})"


def _parts(finding: Finding, facts: Values, catalog: Catalog) -> tuple[str, str | None]:
    """Return what must turn out, and in which case alone it is asked for."""
    when = catalog.rules[finding.rule].when
    holds = finding.effect == "hold"  # tests and days may still move what is known: a wet slab dries
    settled = {id_: value for id_, value in facts.items() if _stays(catalog.facts[id_])} if holds else facts
    part = undecided_part(when, settled)
    tests = {key: wanted for key, wanted in part.items() if is_test(key, wanted, catalog.facts)}
    given = {key: wanted for key, wanted in part.items() if key not in tests}
    if not tests or not given:
        return describe_not(part, catalog.facts), None
    return describe_not(tests, catalog.facts), describe(given, catalog.facts)


def is_test(key: str, wanted: Any, facts: Mapping[str, Fact]) -> bool:
    """Return whether a part of a condition is open to tests and days alone; what lies on the slab is there already."""
    return not any(_stays(facts[fact_id]) for fact_id in facts_in({key: wanted}))


def _stays(fact: Fact) -> bool:
    """Return whether no test and no day changes a fact: a choice, or what lies on the slab."""
    return fact.kind == "choice" or _LIES_THERE in fact.derived_from
