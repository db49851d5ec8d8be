"""The shipped rules on the case floors with answers taken away: what must hold whoever answers what, and when."""

from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.records.finding import FactValue
from finishadvisor.rules.facts import complete
from finishadvisor.rules.open_facts import find_out_next
from tests.cases.floors import Case, catalog, floors, tried, verdict

PLAIN = frozenset(fact.id for fact in catalog().facts.values() if not fact.follows)
"""Facts that stay unknown when nobody answers them."""


@st.composite
def answers_in_turn(draw: st.DrawFn) -> tuple[dict[str, FactValue], list[str]]:
    """Return a floor with some answers taken away, and the order in which they come back."""
    case: Case = draw(st.sampled_from(floors()))
    given_facts = {name: value for name, value in case.values().items() if value is not None}
    taken = draw(st.lists(st.sampled_from(sorted(PLAIN & set(given_facts))), unique=True, min_size=1, max_size=6))
    return {name: value for name, value in given_facts.items() if name not in taken}, taken


@settings(max_examples=60, deadline=None)
@given(answers_in_turn(), st.data())
def test_each_answer_moves_only_what_it_was_said_to_move(
    start: tuple[dict[str, FactValue], list[str]], data: st.DataObject
) -> None:
    known, taken = start
    finishes = data.draw(st.lists(st.sampled_from(sorted(catalog().finishes)), unique=True, min_size=3, max_size=6))
    for name in taken:
        fact = catalog().facts[name]
        value = data.draw(st.sampled_from(_values(fact.type, fact.values, fact.least, fact.most)))
        before = complete(known, catalog().facts)
        told = {one.fact: one.could_change for one in _next(finishes, before)}
        known = {**known, name: value}
        after = complete(known, catalog().facts)
        for finish in finishes:
            was, now = verdict(finish, before), verdict(finish, after)
            if was != now:
                assert finish in told.get(name, ())
                assert was not in {"suits", "does-not-suit"}


def _next(finishes: list[str], values: dict[str, FactValue | None]) -> tuple[object, ...]:
    return find_out_next({finish: tried(finish, values) for finish in finishes}, values, catalog().facts)


def _values(
    kind: str, words: tuple[str, ...] | None, least: float | None, most: float | None
) -> tuple[FactValue, ...]:  # fmt: skip
    if kind == "flag":
        return (True, False)
    if words:
        return words
    span = (most or 0) - (least or 0)
    return tuple((least or 0) + span * share for share in (0, 0.01, 0.1, 0.3, 0.6, 0.8, 1))


def test_the_order_of_the_shipped_rules_never_matters() -> None:
    turned = catalog().model_copy(update={"rules": dict(reversed(catalog().rules.items()))})
    for case in floors()[::7]:
        values = case.values()
        for finish in sorted(catalog().finishes)[::3]:
            found = {one.rule: one for one in tried(finish, values)}
            again = {one.rule: one for one in tried(finish, values, turned)}
            assert found == again
            assert list(found) != list(again) or len(found) < 2
