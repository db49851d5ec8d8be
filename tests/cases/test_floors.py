"""Whole floors: the verdicts and reasons that an experienced finisher would defend."""

import pytest

from finishadvisor.rules.conditions import truth
from tests.cases.floors import Case, catalog, conditions, failures, floors, limits, verdict
from tests.cases.mutate_rules import damages, survivors

CONTRACT_FINISHES = (
    "bare", "cure-and-seal", "repellent", "enhancer", "densified", "acrylic-water", "acrylic-solvent", "acrylic-tinted",
    "dye-acrylic", "grind-and-seal", "epoxy-urethane-clear", "epoxy-urethane-solid", "urethane-water",
    "polyaspartic-clear", "polyaspartic-flake", "polished-cream", "polished-salt-pepper", "polished-dyed",
)  # fmt: skip


@pytest.mark.parametrize("case", floors(), ids=lambda case: case.name)
def test_floor_is_judged_as_the_trade_would(case: Case) -> None:
    assert failures(case) == []


@pytest.mark.parametrize("case", limits(), ids=lambda case: case.name)
def test_limit_binds_exactly_where_it_is_printed(case: Case) -> None:
    assert failures(case) == []


@pytest.mark.parametrize("case", conditions(), ids=lambda case: case.name)
def test_each_condition_counts(case: Case) -> None:
    assert failures(case) == []


@pytest.mark.parametrize("case", floors(), ids=lambda case: case.name)
def test_five_answers_leave_at_least_ten_finishes_with_a_verdict(case: Case) -> None:
    asked = {fact.id for fact in catalog().facts.values() if fact.asked_by_new}
    known = case.values()
    values = Case(case.name, {name: known[name] for name in (*asked, "pour_ahead")}).values()
    verdicts = [verdict(finish, values) for finish in CONTRACT_FINISHES]
    assert len(asked) == 5
    assert sum(told != "cannot-tell" for told in verdicts) >= 10


@pytest.mark.parametrize("case", [case for case in floors() if case.none_fits], ids=lambda case: case.name)
def test_where_none_fits_an_outside_kind_is_told(case: Case) -> None:
    values = case.values()
    told = {kind.id for kind in catalog().outside_kinds.values() if truth(kind.when, values)}
    assert {verdict(finish, values) for finish in catalog().finishes} == {"does-not-suit"}
    assert case.none_fits in told


def test_no_damage_to_a_rule_goes_unnoticed() -> None:
    assert survivors() == []
    assert sum(1 for _ in damages()) > len(catalog().rules)


def test_a_case_notices_what_it_did_not_expect() -> None:
    den = next(case for case in floors() if case.name == "den with nothing wrong")
    wrong = Case(den.name, den.given, verdicts={"bare": "does-not-suit"}, reasons={"bare": ("dye-mock-up",)})
    assert len(failures(wrong)) == 2


def test_there_are_enough_floors_and_rules() -> None:
    assert len(floors()) >= 50
    assert len(catalog().rules) >= 150
    assert len({case.name for case in floors()}) == len(floors())
