"""What the works cost the contractor, quickly and without draws, and what they sell for."""

import math
from collections.abc import Mapping
from functools import lru_cache

from finishadvisor.catalog.models import Catalog
from finishadvisor.formulas.money import price_of_cost
from finishadvisor.job.document import Job
from finishadvisor.order.amounts import Z90
from finishadvisor.order.consumables import consumable_lines, hours_per_day
from finishadvisor.order.need import Line, lines_of
from finishadvisor.order.pack_sets import (
    PackPrice,
    basis_of,
    cheapest_cover,
    money_of,
    pack_prices,
    total_money,
)
from finishadvisor.records.base import Money
from finishadvisor.records.works import FloorWorks, Task
from finishadvisor.works.limits import limit


def cost_parts(works: FloorWorks, job: Job, catalog: Catalog) -> Mapping[str, Money]:
    """Return the contractor's own cost of a floor's works by part, in the job's currency.

    The parts are material, labor, rental, mobilization (shared by the job's floors) and disposal. Material is bought in
    whole packs for the need at its 10th percentile, its expected value and its 90th percentile; what is only possibly
    needed counts in the high end.

    Raises:
        CatalogError: a material lacks the figures of its basis, or does not fit the extent of its task.
    """
    return {
        "material": _material(works, job, catalog),
        "labor": _labor(works, job, catalog),
        "rental": _rental(works, job, catalog),
        "mobilization": _mobilization(job, catalog),
        "disposal": _disposal(works, job, catalog),
    }


def first_cost(works: FloorWorks, job: Job, catalog: Catalog) -> Money | None:
    """Return the contractor's own cost of a floor's works, None where there is nothing to do.

    Raises:
        CatalogError: a material lacks the figures of its basis, or does not fit the extent of its task.
    """
    if not works.tasks:
        return None
    return total_money([part for part in cost_parts(works, job, catalog).values() if part.high > 0])


def selling_price(cost: Money, job: Job, catalog: Catalog) -> Money:
    """Return what the works sell for: cost with the margin of the job, else the usual one.

    Raises:
        OutOfRangeError: the margin is out of range.
    """
    margin = limit(catalog, "margin") if job.business.margin is None else job.business.margin
    return Money(
        low=price_of_cost(cost.low, margin),
        expected=price_of_cost(cost.expected, margin),
        high=price_of_cost(cost.high, margin),
        basis=cost.basis,
    )


def _material(works: FloorWorks, job: Job, catalog: Catalog) -> Money:
    by_material: dict[str, list[Line]] = {}
    for line in (*lines_of(works, catalog, job.units), *consumable_lines(works, job, catalog)):
        if line.median > 0:
            by_material.setdefault(line.material, []).append(line)
    parts = [_bought(id_, lines, job, catalog) for id_, lines in by_material.items()]
    return total_money(parts) if parts else _nothing(job)


def _bought(id_: str, lines: list[Line], job: Job, catalog: Catalog) -> Money:
    """Return what the packs of one material cost for its low, expected and high need."""
    material = catalog.materials[id_]
    prices = pack_prices(material, job)
    sure = [line for line in lines if line.certain]
    needs = (
        sum(line.median * math.exp(-Z90 * line.log_sd) for line in sure),
        sum(line.median for line in sure),
        sum(line.median * math.exp(Z90 * line.log_sd) for line in lines),
    )
    low, expected, high = _cost_of_packs(prices, needs, one_size=material.one_lot)
    return Money(
        low=min(low, expected),
        expected=expected,
        high=max(high, expected),
        basis=basis_of((price.yours for price in prices), job.currency),
    )


@lru_cache(maxsize=4096)
def _cost_of_packs(
    prices: tuple[PackPrice, ...], needs: tuple[float, float, float], *, one_size: bool
) -> tuple[float, float, float]:
    """Return the low price of the packs for the low need, and likewise; finishes often need the same of a material."""
    low, expected, high = (
        money_of(cheapest_cover(prices, need, one_size=one_size).counts, prices)[end] for end, need in enumerate(needs)
    )
    return low, expected, high


def _labor(works: FloorWorks, job: Job, catalog: Catalog) -> Money:
    own = job.business.labor_per_hour
    low, expected, high = (own,) * 3 if own is not None else _class_wide("labor-per-hour", catalog)
    sure = [task.crew_hours for task in works.tasks if task.certain]
    return Money(
        low=low * sum(hours.low for hours in sure),
        expected=expected * sum(hours.expected for hours in sure),
        high=high * sum(task.crew_hours.high for task in works.tasks),
        basis=basis_of([own is not None], job.currency),
    )


def _mobilization(job: Job, catalog: Catalog) -> Money:
    own = job.business.mobilization
    low, expected, high = (own,) * 3 if own is not None else _class_wide("mobilization", catalog)
    floors = len(job.floors)
    return Money(
        low=low / floors,
        expected=expected / floors,
        high=high / floors,
        basis=basis_of([own is not None], job.currency),
    )


def _class_wide(name: str, catalog: Catalog) -> tuple[float, float, float]:
    return limit(catalog, f"{name}-low"), limit(catalog, name), limit(catalog, f"{name}-high")


def _rental(works: FloorWorks, job: Job, catalog: Catalog) -> Money:
    """Return tool rental, a day for each day begun; tasks that use the same tool share its days."""
    by_tool: dict[str, list[Task]] = {}
    for task in works.tasks:
        item = catalog.work_items[task.work_item]
        if item.rental_per_day is not None:
            by_tool.setdefault(item.tool or task.id, []).append(task)
    costs = [_days_of_tool(tasks, job, catalog) for tasks in by_tool.values()]
    return Money(
        low=sum(cost[0] for cost in costs),
        expected=sum(cost[1] for cost in costs),
        high=sum(cost[2] for cost in costs),
        basis=basis_of([False], job.currency),
    )


def _days_of_tool(tasks: list[Task], job: Job, catalog: Catalog) -> tuple[float, float, float]:
    """Return the rental of one tool at the dearest of its tasks' rates; possible tasks count in the high end."""
    rates = [rate for task in tasks if (rate := catalog.work_items[task.work_item].rental_per_day)]
    day_hours = job.crew * hours_per_day(job)

    def rental(rate: float, hours: list[float]) -> float:
        return rate * max(1, math.ceil(sum(hours) / day_hours - 1e-9)) if hours else 0.0

    sure = [task.crew_hours for task in tasks if task.certain]
    return (
        rental(max(rate.low for rate in rates), [hours.low for hours in sure]),
        rental(max(rate.expected for rate in rates), [hours.expected for hours in sure]),
        rental(max(rate.high for rate in rates), [task.crew_hours.high for task in tasks]),
    )


def _disposal(works: FloorWorks, job: Job, catalog: Catalog) -> Money:
    """Return what is paid to be rid of slurry and dust; possible tasks count in the high end."""
    rates = [(task, catalog.work_items[task.work_item].disposal_per_100) for task in works.tasks]
    hundreds = [(task.certain, rate, task.quantity / 100) for task, rate in rates if rate]
    return Money(
        low=sum(rate.low * extent for certain, rate, extent in hundreds if certain),
        expected=sum(rate.expected * extent for certain, rate, extent in hundreds if certain),
        high=sum(rate.high * extent for _, rate, extent in hundreds),
        basis=basis_of([False], job.currency),
    )


def _nothing(job: Job) -> Money:
    return Money(low=0, expected=0, high=0, basis=basis_of([False], job.currency))
