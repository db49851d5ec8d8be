"""What a finish costs over the job's years: laid, inspected, cleaned, mended, recoated, renewed; as present value."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.catalog.row import Range
from finishadvisor.formulas.money import Outlay, present_value
from finishadvisor.job.document import Business
from finishadvisor.records.base import Money
from finishadvisor.works.limits import limit

Case = Literal["low", "expected", "high"]

_LIFE_IN: dict[Case, Case] = {"low": "high", "expected": "expected", "high": "low"}
"""Costs are low where finishes live long, and high where they live short."""


@dataclass(frozen=True)
class UpkeepCosts:
    """What keeping a finish costs: amounts in the job's currency, times in years; None where it never comes."""

    inspection: Range
    inspect_years: float
    yearly: Range
    """Cleaning and mending in one year."""
    recoat: Range | None
    recoat_years: Range | None
    renew: Range
    renew_years: Range | None


def upkeep_costs(
    finish: Finish, first: Money, recoat: Money | None, area_ft2: float, *, business: Business, catalog: Catalog
) -> UpkeepCosts | None:
    """Return what keeping a finish costs, None where it is recoated and no price of a recoat is known.

    Args:
        finish: the finish with its upkeep.
        first: the contractor's own cost of laying it.
        recoat: the contractor's own cost of one recoat, None where it has none or its price is not known.
        area_ft2: area that is cleaned.
        business: the contractor's labor rate, where the job states one.
        catalog: limits for what the job does not state.
    """
    upkeep = finish.upkeep
    if upkeep.recoat_years is not None and recoat is None:
        return None
    hourly = _labor_per_hour(business, catalog)
    hours = limit(catalog, "inspection-hours")
    cleaning = limit(catalog, "cleaning-per-hour") * area_ft2 / 100
    mending = limit(catalog, "repair-per-year")
    again = 1 + limit(catalog, "take-off-share")
    clean_hours = upkeep.clean_hours_per_100_per_year
    return UpkeepCosts(
        inspection=_each(lambda case: hours * getattr(hourly, case)),
        inspect_years=upkeep.inspect_months / 12,
        yearly=_each(lambda case: cleaning * getattr(clean_hours, case) + mending * getattr(first, case)),
        recoat=Range(low=recoat.low, expected=recoat.expected, high=recoat.high) if recoat else None,
        recoat_years=upkeep.recoat_years,
        renew=_each(lambda case: again * getattr(first, case)),
        renew_years=upkeep.renew_years,
    )


def life_cost(first: Money, upkeep: UpkeepCosts, business: Business) -> Money:
    """Return the present value of a finish over the job's years of analysis.

    Low takes the low amounts and the long lives, high the high amounts and the short ones. Nothing is credited for
    what is left of a finish at the end.

    Args:
        first: the contractor's own cost of laying the finish.
        upkeep: what keeping it costs.
        business: years of analysis and discount rate.
    """
    years, rate = business.analysis_years, business.discount_rate
    worth = {
        case: present_value(
            [Outlay(0, *[getattr(first, case)] * 3), *_outlays(upkeep, case, years)], rate
        ).expected
        for case in _LIFE_IN
    }  # fmt: skip
    basis = f"laid, inspected, cleaned, mended, recoated and renewed over {years:g} years at {rate:.1%} a year"
    # A renewal may take the place of a recoat, so that a shorter life is not always the dearer one.
    return Money(
        low=min(worth.values()), expected=worth["expected"], high=max(worth.values()), basis=f"{basis}; {first.basis}"
    )


def cycles(years: float, recoat_years: float | None, renew_years: float | None) -> Iterator[tuple[float, str]]:
    """Yield when a finish is recoated and renewed within some years, in order; a renewal starts the recoats anew."""
    start = 0.0
    while start < years:
        end = start + renew_years if renew_years else math.inf
        if recoat_years:
            count = 1
            while (when := start + count * recoat_years) < min(end, years):
                yield when, "recoat"
                count += 1
        if end < years:
            yield end, "renew"
        start = end


def _outlays(upkeep: UpkeepCosts, case: Case, years: float) -> Iterator[Outlay]:
    def paid(year: float, amounts: Range) -> Outlay:
        return Outlay(year, *[getattr(amounts, case)] * 3)

    visits = math.ceil(years / upkeep.inspect_years - 1e-9) - 1
    yield from (paid(n * upkeep.inspect_years, upkeep.inspection) for n in range(1, visits + 1))
    yield from (paid(n, upkeep.yearly) for n in range(1, math.floor(years) + 1))
    life = _LIFE_IN[case]
    recoat_years = getattr(upkeep.recoat_years, life) if upkeep.recoat_years else None
    renew_years = getattr(upkeep.renew_years, life) if upkeep.renew_years else None
    for when, what in cycles(years, recoat_years, renew_years):
        if what == "renew":
            yield paid(when, upkeep.renew)
        elif upkeep.recoat:
            yield paid(when, upkeep.recoat)


def _labor_per_hour(business: Business, catalog: Catalog) -> Range:
    own = business.labor_per_hour
    if own is not None:
        return Range(low=own, expected=own, high=own)
    return Range(
        low=limit(catalog, "labor-per-hour-low"),
        expected=limit(catalog, "labor-per-hour"),
        high=limit(catalog, "labor-per-hour-high"),
    )


def _each(amount: Callable[[Case], float]) -> Range:
    return Range(low=amount("low"), expected=amount("expected"), high=amount("high"))
