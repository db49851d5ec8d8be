"""What the plan had to add to the works of a floor, in its works and in its price."""

from collections.abc import Mapping
from dataclasses import replace

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Job
from finishadvisor.records.base import Money
from finishadvisor.records.plan import Plan
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.added import with_added


def with_added_work(whole: WholeJob, plan: Plan) -> WholeJob:
    """Return the job with what the plan had to add: a missing test, screening past a recoat window.

    It is in the works, and in the prices of the finish that is planned: a quote holds everything that will be done.
    """
    return replace(whole, floors=tuple(_with_added(outcome, plan, whole) for outcome in whole.floors))


def _with_added(outcome: FloorOutcome, plan: Plan, whole: WholeJob) -> FloorOutcome:
    added = plan.added.get(outcome.floor.name, ())
    if outcome.works is None or not added:
        return outcome
    works = with_added(outcome.works, added)
    before, after = (_price_of(each, whole.job, whole.catalog) for each in (outcome.works, works))
    if before is None or after is None:
        return replace(outcome, works=works)
    return replace(
        outcome,
        works=works,
        selling_prices=_dearer(outcome.selling_prices, outcome.finish, before, after),
        life_prices=_dearer(outcome.life_prices, outcome.finish, before, after),
    )


def _price_of(works: FloorWorks, job: Job, catalog: Catalog) -> Money | None:
    from finishadvisor.order.price import first_cost, selling_price

    cost = first_cost(works, job, catalog)
    return selling_price(cost, job, catalog) if cost else None


def _dearer(
    prices: Mapping[str, Money | None], finish: str | None, before: Money, after: Money
) -> Mapping[str, Money | None]:
    """Return the prices with that of one finish raised by what two prices differ."""
    price = prices.get(finish) if finish else None
    if finish is None or price is None:
        return prices
    raised = Money(
        low=price.low + after.low - before.low,
        expected=price.expected + after.expected - before.expected,
        high=price.high + after.high - before.high,
        basis=price.basis,
    )
    return {**prices, finish: raised}
