"""What must hold whatever the rules are: tried on small random catalogs, every completion gone through."""

import random
from collections import Counter
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.records.finding import FactValue
from finishadvisor.rules.conditions import truth, undecided_part
from finishadvisor.rules.facts import complete
from finishadvisor.rules.open_facts import find_out_next
from tests.rules.small import DOMAINS, FACT_TYPES, FINISHES, Small, conditions, smalls

SETTLED = {"suits", "does-not-suit"}


def could_change(small: Small) -> set[tuple[str, str]]:
    values = complete(small.answers, small.facts)
    findings = {finish: small.findings(finish, small.answers) for finish in FINISHES}
    told = find_out_next(findings, values, small.facts)
    return {(one.fact, finish) for one in told for finish in one.could_change}


def changes(small: Small) -> set[tuple[str, str]]:
    """Every fact and finish where two ways to go on that differ in this fact alone lead to different verdicts."""
    found = set()
    for finish in FINISHES:
        ways = {key(way): small.verdict(finish, way) for way in small.completions(may_stay_open=True)}
        for fact in small.facts:
            told: dict[tuple[tuple[str, FactValue | None], ...], set[str]] = {}
            for way, verdict in ways.items():
                told.setdefault(tuple(pair for pair in way if pair[0] != fact), set()).add(verdict)
            if any(len(verdicts) > 1 for verdicts in told.values()):
                found.add((fact, finish))
    return found


def key(way: Mapping[str, FactValue | None]) -> tuple[tuple[str, FactValue | None], ...]:
    return tuple(sorted(way.items()))


@settings(max_examples=150, deadline=None)
@given(smalls())
def test_a_settled_verdict_changes_under_no_completion(small: Small) -> None:
    for finish in FINISHES:
        verdict = small.verdict(finish, small.answers)
        if verdict in SETTLED:
            # what follows from the answers is settled too; only what is still open may be answered in any way
            known = {name: value for name, value in complete(small.answers, small.facts).items() if value is not None}
            open_ways = Small(small.facts, small.rules, known).completions(may_stay_open=True)
            assert {small.verdict(finish, way) for way in open_ways} == {verdict}


@settings(max_examples=80, deadline=None)
@given(smalls())
def test_find_out_next_omits_nothing(small: Small) -> None:
    settled = {name: value for name, value in complete(small.answers, small.facts).items() if value is not None}
    assert changes(Small(small.facts, small.rules, settled)) <= could_change(small)


@settings(max_examples=150, deadline=None)
@given(smalls(), st.randoms(use_true_random=False))
def test_the_order_of_rules_never_matters(small: Small, chance: random.Random) -> None:
    shuffled = list(small.rules)
    chance.shuffle(shuffled)
    other = Small(small.facts, tuple(shuffled), small.answers)
    for finish in FINISHES:
        assert small.verdict(finish, small.answers) == other.verdict(finish, other.answers)
        found, again = small.findings(finish, small.answers), other.findings(finish, other.answers)
        assert {one.rule: one for one in found} == {one.rule: one for one in again}
    assert could_change(small) == could_change(other)


@settings(max_examples=300, deadline=None)
@given(conditions(), smalls())
def test_what_is_left_open_holds_where_the_whole_holds(when: dict[str, object], small: Small) -> None:
    left = undecided_part(when, small.answers)
    for way in small.completions(may_stay_open=True):
        decided = truth(when, small.answers)
        assert truth(when, way) is (truth(left, way) if decided is None else decided)


@settings(max_examples=150, deadline=None)
@given(smalls())
def test_more_answers_never_change_what_followed(small: Small) -> None:
    before = complete(small.answers, small.facts)
    for way in small.completions(may_stay_open=True):
        after = complete(way, small.facts)
        for name, value in before.items():
            assert value is None or after[name] == value or way.get(name) is not None


def test_precision_of_find_out_next_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    """Kleene's logic lists some facts that can change nothing; how many is printed, and most of the list is right."""
    counts: Counter[str] = Counter()

    @settings(max_examples=60, deadline=None, database=None, derandomize=True)
    @given(smalls())
    def count(small: Small) -> None:
        settled = {name: value for name, value in complete(small.answers, small.facts).items() if value is not None}
        told = could_change(small)
        counts["told"] += len(told)
        counts["right"] += len(told & changes(Small(small.facts, small.rules, settled)))

    count()
    with capsys.disabled():
        print(f"\nfind out next: {counts['right']} of {counts['told']} facts told could change the verdict")
    assert 2 * counts["right"] > counts["told"] > 0


def test_domains_cover_every_fact() -> None:
    assert {DOMAINS[kind] for kind in FACT_TYPES.values()} == set(DOMAINS.values())
