"""What must turn out for an open forbid or hold not to bind, in words."""

from collections.abc import Mapping
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
    when = catalog.rules[finding.rule].when
    holds = finding.effect == "hold"  # tests and days may still move what is known: a wet slab dries
    settled = {id_: value for id_, value in facts.items() if _stays(catalog.facts[id_])} if holds else facts
    part = undecided_part(when, settled)
    tests = {key: wanted for key, wanted in part.items() if is_test(key, wanted, catalog.facts)}
    given = {key: wanted for key, wanted in part.items() if key not in tests}
    if not tests or not given:
        return describe_not(part, catalog.facts)
    return f"{describe_not(tests, catalog.facts)} (if {describe(given, catalog.facts)})"


def is_test(key: str, wanted: Any, facts: Mapping[str, Fact]) -> bool:
    """Return whether a part of a condition is open to tests and days alone; what lies on the slab is there already."""
    return not any(_stays(facts[fact_id]) for fact_id in facts_in({key: wanted}))


def _stays(fact: Fact) -> bool:
    """Return whether no test and no day changes a fact: a choice, or what lies on the slab."""
    return fact.kind == "choice" or _LIES_THERE in fact.derived_from
