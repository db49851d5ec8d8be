"""Cost over the life: sums that a calculator can redo."""

import pytest

from finishadvisor.advice.life_cost import UpkeepCosts, cycles, life_cost, upkeep_costs
from finishadvisor.catalog.row import Range
from finishadvisor.job.document import Business
from finishadvisor.records.base import Money
from tests.advice.floors import a_finish, shipped

NOTHING = Range(low=0, expected=0, high=0)
FIRST = Money(low=800, expected=1000, high=1500, basis="class-wide prices")


def upkeep(**more):
    plain = {
        "inspection": NOTHING, "inspect_years": 1.0, "yearly": NOTHING, "recoat": None, "recoat_years": None,
        "renew": NOTHING, "renew_years": None, **more,
    }  # fmt: skip
    return UpkeepCosts(**plain)


def test_recoats_fall_between_renewals():
    assert list(cycles(10, 3, None)) == [(3, "recoat"), (6, "recoat"), (9, "recoat")]
    assert list(cycles(10, 3, 5)) == [(3, "recoat"), (5, "renew"), (8, "recoat")]
    assert list(cycles(9, 3, None)) == [(3, "recoat"), (6, "recoat")]  # none on the last day
    assert list(cycles(10, None, 5)) == [(5, "renew")]
    assert list(cycles(10, None, None)) == []


def test_present_value_of_two_recoats():
    kept = upkeep(recoat=Range(low=200, expected=200, high=200), recoat_years=Range(low=4, expected=4, high=4))
    cost = life_cost(FIRST, kept, Business(analysis_years=10, discount_rate=0.05))
    assert cost.expected == pytest.approx(1000 + 200 / 1.05**4 + 200 / 1.05**8)
    assert cost.low == pytest.approx(800 + 200 / 1.05**4 + 200 / 1.05**8)


def test_long_lives_are_cheap_and_short_ones_dear():
    kept = upkeep(recoat=Range(low=100, expected=200, high=300), recoat_years=Range(low=2, expected=4, high=9))
    cost = life_cost(FIRST, kept, Business(analysis_years=10, discount_rate=0))
    assert (cost.low, cost.expected, cost.high) == (800 + 100, 1000 + 2 * 200, 1500 + 4 * 300)


def test_what_is_paid_every_year():
    kept = upkeep(yearly=Range(low=10, expected=20, high=40), inspection=Range(low=5, expected=5, high=5))
    cost = life_cost(FIRST, kept, Business(analysis_years=3, discount_rate=0))
    assert cost.expected == 1000 + 3 * 20 + 2 * 5
    assert "3 years at 0.0% a year; class-wide prices" in cost.basis


def test_upkeep_of_a_shipped_finish():
    recoat = Money(low=300, expected=400, high=500, basis="")
    kept = upkeep_costs(
        a_finish("repellent"), FIRST, recoat, 500, business=Business(labor_per_hour=60), catalog=shipped()
    )
    assert kept.inspection.expected == 0.5 * 60
    assert kept.yearly.expected == pytest.approx(1.0 * 500 / 100 * 30 + 0.01 * 1000)
    assert kept.renew.high == pytest.approx(1.3 * 1500)
    assert kept.recoat_years == a_finish("repellent").upkeep.recoat_years


def test_no_price_of_a_recoat_leaves_the_life_unknown():
    known = {"business": Business(), "catalog": shipped()}
    assert upkeep_costs(a_finish("repellent"), FIRST, None, 500, **known) is None
    assert upkeep_costs(a_finish("densified"), FIRST, None, 500, **known) is not None
