"""Whole floors: the verdicts and reasons that an experienced finisher would defend."""

import pytest

from finishadvisor.rules.conditions import truth
from tests.cases.floors import Floor, failures, findings, floors, limits, shipped, values_of, verdict
from tests.cases.mutate_rules import damages, survivors

CONTRACT_FINISHES = (
    "bare", "cure-and-seal", "repellent", "enhancer", "densified", "acrylic-water", "acrylic-solvent", "acrylic-tinted",
    "dye-acrylic", "grind-and-seal", "epoxy-urethane-clear", "epoxy-urethane-solid", "urethane-water",
    "polyaspartic-clear", "polyaspartic-flake", "polished-cream", "polished-salt-pepper", "polished-dyed",
)  # fmt: skip


@pytest.mark.parametrize("floor", floors(), ids=lambda floor: floor.name)
def test_floor_is_judged_as_the_trade_would(floor: Floor) -> None:
    assert failures(floor, shipped()) == []


@pytest.mark.parametrize(("name", "floor"), limits(), ids=[name for name, _ in limits()])
def test_limit_binds_exactly_where_it_is_printed(name: str, floor: Floor) -> None:
    assert failures(floor, shipped()) == []


@pytest.mark.parametrize("floor", floors(), ids=lambda floor: floor.name)
def test_five_answers_leave_at_least_ten_finishes_with_a_verdict(floor: Floor) -> None:
    rules = shipped()
    asked = {fact.id for fact in rules.facts.values() if fact.asked_by_new}
    known = values_of(floor, rules.facts)
    answers = {name: known[name] for name in (*asked, "pour_ahead")}
    values = values_of(Floor(name=floor.name, given=answers), rules.facts)
    verdicts = [verdict(findings(rules, finish, values), rules.facts) for finish in CONTRACT_FINISHES]
    assert len(asked) == 5
    assert sum(told != "cannot-tell" for told in verdicts) >= 10


@pytest.mark.parametrize("floor", [floor for floor in floors() if floor.none_fits], ids=lambda floor: floor.name)
def test_where_none_fits_an_outside_kind_is_told(floor: Floor) -> None:
    rules = shipped()
    values = values_of(floor, rules.facts)
    verdicts = {verdict(findings(rules, finish, values), rules.facts) for finish in rules.finishes}
    told = {kind.id for kind in rules.outside_kinds.values() if truth(kind.when, values)}
    assert verdicts == {"does-not-suit"}
    assert floor.none_fits in told


def test_no_damage_to_a_rule_goes_unnoticed() -> None:
    assert survivors() == []
    assert sum(1 for _ in damages(shipped().rules)) > 2 * 150


def test_the_cases_notice_when_nothing_is_expected_any_more() -> None:
    """The check of the check: a floor with a wrong expectation fails."""
    den = next(floor for floor in floors() if floor.name == "den with nothing wrong")
    wrong = Floor(
        name=den.name, given=den.given, verdicts={"bare": "does-not-suit"}, reasons={"bare": ("dye-mock-up",)}
    )
    assert len(failures(wrong, shipped())) == 2


def test_there_are_enough_floors_and_rules() -> None:
    assert len(floors()) >= 50
    assert len(shipped().rules) >= 150
    assert len({rule.id for rule in shipped().rules}) == len(shipped().rules)
