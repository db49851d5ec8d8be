"""Compound interest tables of engineering economy (from memory), four decimals."""

import pytest

from finishadvisor.formulas import money


@pytest.mark.parametrize(("rate", "years", "factor"), [(0.05, 10, "0.6139"), (0.10, 5, "0.6209"), (0.08, 20, "0.2145")])
def test_present_worth(rate, years, factor, printed):
    assert money.present_value([money.Outlay(years, 1, 1, 1)], rate).expected == printed(factor)


@pytest.mark.parametrize(("rate", "years", "factor"), [(0.05, 10, "0.1295"), (0.10, 5, "0.2638"), (0.08, 20, "0.1019")])
def test_capital_recovery(rate, years, factor, printed):
    assert money.equivalent_annual_cost(1, rate, years) == printed(factor)
