"""Money over time: definitions hold against each other."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import money

rates = st.floats(0, 0.5)
costs = st.floats(0, 1e6)


def same(year, amount):
    return money.Outlay(year, amount, amount, amount)


@given(costs, rates)
def test_what_is_paid_today_is_worth_itself(cost, rate):
    assert money.present_value([same(0, cost)], rate).expected == pytest.approx(cost)


@given(st.lists(st.tuples(st.floats(0, 60), costs), max_size=6))
def test_without_interest_outlays_add_up(paid):
    worth = money.present_value([same(year, cost) for year, cost in paid], 0)
    assert worth.expected == pytest.approx(sum(cost for _, cost in paid))


@given(st.floats(1, 1e6), st.integers(1, 60), rates)
def test_the_even_yearly_cost_is_worth_the_present_value(worth, years, rate):
    yearly = money.equivalent_annual_cost(worth, rate, years)
    back = money.present_value([same(year, yearly) for year in range(1, years + 1)], rate)
    assert back.expected == pytest.approx(worth, rel=1e-9)


@given(st.floats(1, 1e6), st.floats(1, 60), st.floats(0.01, 0.4))
def test_later_and_dearer_money_is_worth_less(cost, year, rate):
    worth = money.present_value([same(year, cost)], rate).expected
    assert money.present_value([same(year + 1, cost)], rate).expected < worth
    assert money.present_value([same(year, cost)], rate + 0.01).expected < worth


def test_low_and_high_are_kept_apart():
    worth = money.present_value([money.Outlay(0, 1, 2, 4), money.Outlay(1, 11, 22, 44)], 0.10)
    assert (worth.low, worth.expected, worth.high) == pytest.approx((11, 22, 44))


@given(st.floats(0, 1e6), st.floats(0, 0.9))
def test_margin_is_the_share_of_the_price(cost, margin):
    price = money.price_of_cost(cost, margin)
    assert price - cost == pytest.approx(margin * price, abs=1e-6)


def test_a_margin_of_a_quarter_is_a_markup_of_a_third():
    assert money.price_of_cost(750, 0.25) == pytest.approx(750 * (1 + 1 / 3))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: money.present_value([money.Outlay(1, 3, 2, 4)], 0.05), "An outlay is 3 low, 2 expected, 4 high"),
        (lambda: money.present_value([same(-1, 5)], 0.05), "Year of an outlay is -1"),
        (lambda: money.present_value([], 5), "Discount rate is 5"),
        (lambda: money.equivalent_annual_cost(100, 0.05, 0), "Years is 0"),
        (lambda: money.price_of_cost(100, 25), "Margin is 25"),
    ],
)
def test_refusals(call, words):
    with pytest.raises(OutOfRangeError, match=words):
        call()
