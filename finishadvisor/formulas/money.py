"""Money over time: present value of what a floor costs over the years, the same as an even yearly cost, and price."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from finishadvisor.errors import OutOfRangeError, require_between


@dataclass(frozen=True)
class Outlay:
    """What is paid at one time: year 0 is the day of the handover."""

    year: float
    low: float
    expected: float
    high: float


@dataclass(frozen=True)
class PresentValue:
    """What all outlays are worth on the day of the handover."""

    low: float
    expected: float
    high: float


def present_value(outlays: Sequence[Outlay], discount_rate: float) -> PresentValue:
    """Return the present value of outlays over the years, in their currency.

    Low adds all the low amounts and high all the high ones, so the band is wider than one of independent errors.

    Args:
        outlays: any number, any order; years 0 to 100; low <= expected <= high. An income is negative.
        discount_rate: per year, fraction, 0 to below 1.

    Raises:
        OutOfRangeError: an argument is outside its range, or amounts are not in order.

    Source: net present value by definition: amount / (1 + rate)^year.
    """
    require_between("Discount rate", discount_rate, 0, 0.999)
    low = expected = high = 0.0
    for outlay in outlays:
        require_between("Year of an outlay", outlay.year, 0, 100, "years")
        if not outlay.low <= outlay.expected <= outlay.high:
            raise OutOfRangeError(
                f"An outlay is {outlay.low:g} low, {outlay.expected:g} expected, {outlay.high:g} high; "
                "they must not fall in this order. Put them in order."
            )
        weight = math.pow(1 + discount_rate, -outlay.year)
        low += outlay.low * weight
        expected += outlay.expected * weight
        high += outlay.high * weight
    return PresentValue(low, expected, high)


def equivalent_annual_cost(worth_now: float, discount_rate: float, years: float) -> float:
    """Return the even cost at the end of each year that is worth as much as a present value.

    Args:
        worth_now: worth on the day of the handover.
        discount_rate: per year, fraction, 0 to below 1.
        years: how many years it is spread over, above 0, to 100.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: annuity by definition: rate / (1 - (1 + rate)^-years); at rate 0 an even share.
    """
    require_between("Discount rate", discount_rate, 0, 0.999)
    require_between("Years", years, 0.01, 100, "years")
    if discount_rate < 1e-12:  # so small that the formula below would lose its digits
        return worth_now / years
    return worth_now * discount_rate / -math.expm1(-years * math.log1p(discount_rate))


def price_of_cost(cost: float, margin: float) -> float:
    """Return the selling price that leaves a margin: price = cost / (1 - margin).

    Args:
        cost: what the work costs the contractor, >= 0.
        margin: share of the *selling price* that is left, fraction, 0 to below 1. It is not the markup on cost: a
            margin of 0.25 is a markup of one third.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: definition of gross margin.
    """
    require_between("Cost", cost, 0, 1e12)
    require_between("Margin", margin, 0, 0.99)
    return cost / (1 - margin)
