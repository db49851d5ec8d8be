"""Facts that nobody answered but that follow from others: indoors in a kitchen, so no frost."""

from collections.abc import Mapping

from finishadvisor.catalog.models import Fact
from finishadvisor.records.finding import FactValue
from finishadvisor.rules.conditions import Values, facts_in, truth, undecided_part


def complete(answers: Values, facts: Mapping[str, Fact]) -> dict[str, FactValue | None]:
    """Return a value or None for every fact: what was answered, and what follows from it.

    An answer always wins. A fact that may follow in one way or another stays unknown until it is settled in which, so
    more answers never change a value that is given here, unless they answer that very fact.
    """
    values: dict[str, FactValue | None] = {fact_id: answers.get(fact_id) for fact_id in facts}
    found_more = True
    while found_more:
        found = {fact.id: _following(fact, values) for fact in facts.values() if values[fact.id] is None}
        news = {fact_id: value for fact_id, value in found.items() if value is not None}
        values.update(news)
        found_more = bool(news)
    return values


def _following(fact: Fact, values: Values) -> FactValue | None:
    for row in fact.follows:
        holds = truth(row.when, values)
        if holds:
            return row.value
        if holds is None:
            return None
    return None


def leads(fact_id: str, values: Values, facts: Mapping[str, Fact]) -> frozenset[str]:
    """Return the unknown facts whose answer may settle an unknown fact: itself, and what it could follow from."""
    found: set[str] = set()
    waiting = {fact_id}
    while waiting:
        fact = facts[waiting.pop()]
        found.add(fact.id)
        premises = {name for name in fact.derived_from if name in facts}
        for row in fact.follows:
            premises |= facts_in(undecided_part(row.when, values))
        waiting |= {name for name in premises if values.get(name) is None} - found
    return frozenset(found)
