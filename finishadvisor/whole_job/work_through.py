"""Work a whole job through, from the job folder to advice, order and plan."""

import datetime
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from finishadvisor.advice.causes import with_causes
from finishadvisor.errors import JobError
from finishadvisor.records.advice import Advice
from finishadvisor.records.shade import Measurement
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.whole_job.added_work import with_added_work
from finishadvisor.whole_job.advised import Advised, advise_one, chosen_finish
from finishadvisor.whole_job.opened import Opened, open_for
from finishadvisor.whole_job.order_words import order_words
from finishadvisor.whole_job.past import past_jobs
from finishadvisor.whole_job.saved import kept

if TYPE_CHECKING:
    from finishadvisor.plan.today import Today

Progress = Callable[[str], None]


def quiet(_line: str) -> None:
    """Report nothing."""


def work_through(
    path: Path,
    on: datetime.date,
    *,
    floor_name: str | None = None,
    finish_id: str | None = None,
    weather_path: Path | None = None,
    measure_photos: bool = False,
    with_plan: bool = True,
    with_order: bool = True,
    progress: Progress = quiet,
) -> WholeJob:
    """Work a job through to advice, order and plan.

    Args:
        path: the job folder or its job.toml.
        on: the day that ages and dates are reckoned from.
        floor_name: only this floor; every floor when None.
        finish_id: the finish to order and plan for; else the decided one, else the top of the ranking.
        weather_path: a weather file for the plan; else the one that the job names.
        measure_photos: measure photos that have no kept measurement (slow); else use only what is kept.
        with_plan: also make the plan of the days; an order has it made anyway, since it holds what the plan adds.
        with_order: also make the order.
        progress: is told each step in a short line.

    Raises:
        FinishAdvisorError: the job, a file it names, or an argument cannot be used.
    """
    from finishadvisor.whole_job.photos import measure_floor

    opened = open_for(path, on)
    outcomes = []
    for floor in opened.floors_named(floor_name):
        measurements: tuple[Measurement, ...] = ()
        evenness = kept(opened.folder, floor)
        if measure_photos and floor.photos:
            measurements, evenness = measure_floor(opened.folder, floor, opened.catalog, on, progress)
        progress(f"{floor.name}: trying every rule on every finish")
        advised = advise_one(opened, floor, evenness)
        outcomes.append(floor_outcome(opened, advised, measurements, finish_id))
    whole = WholeJob(
        folder=opened.folder,
        job=opened.job,
        catalog=opened.catalog,
        on=on,
        floors=tuple(outcomes),
        advice=Advice(floors=tuple(outcome.advice for outcome in outcomes)),
        order=None,
        plan=None,
    )
    return with_order_and_plan(whole, weather_path, with_order, with_plan, progress)


def floor_outcome(
    opened: Opened, advised: Advised, measurements: tuple[Measurement, ...], finish_id: str | None
) -> FloorOutcome:
    """Gather one floor's results under the finish that is worked with."""
    from finishadvisor.order.price import selling_price

    finish, because = chosen_finish(advised, finish_id, opened.catalog)
    life_costs = {row.id: row.life_cost for row in advised.advice.finishes}
    return FloorOutcome(
        floor=advised.floor,
        facts=advised.facts,
        measurements=measurements,
        evenness=with_causes(advised.evenness, advised.facts, opened.catalog, advised.floor)
        if advised.evenness
        else None,
        advice=advised.advice,
        finish=finish,
        chosen_because=because,
        works=advised.priced.works.get(finish) if finish else None,
        selling_prices=advised.priced.selling_prices,
        life_prices={
            id_: selling_price(cost, opened.job, opened.catalog) if cost else None for id_, cost in life_costs.items()
        },
    )


def with_order_and_plan(
    whole: WholeJob, weather_path: Path | None, with_order: bool, with_plan: bool, progress: Progress
) -> WholeJob:
    """Return the job with its order and plan, as far as any floor has works."""
    works = [outcome.works for outcome in whole.floors if outcome.works is not None]
    facts = {outcome.floor.name: outcome.facts for outcome in whole.floors}
    plan = order = None
    warnings: tuple[str, ...] = ()
    if works and (with_plan or with_order):
        from finishadvisor.plan.make import make_plan
        from finishadvisor.plan.weather import read_weather

        progress("Planning the days")
        own_weather = whole.folder / whole.job.weather if whole.job.weather else None
        weather_file = weather_path or own_weather
        weather = read_weather(weather_file, whole.job.time_zone) if weather_file else None
        plan = make_plan(works, facts, whole.job, whole.catalog, weather, whole.on)
        whole = with_added_work(whole, plan)
        works = [outcome.works for outcome in whole.floors if outcome.works is not None]
    if plan is not None and with_order:
        from finishadvisor.order.make import UnderWay, make_order

        progress("Making the order")
        state = UnderWay(plan.done, plan.begun)
        order = make_order(works, whole.job, whole.catalog, past_jobs(whole.folder), state)
        warnings = order_words(works, whole, plan)
    return replace(whole, order=order, plan=plan, order_warnings=warnings)


def calendar_of(whole: WholeJob) -> bytes:
    """Return the plan as a calendar file (RFC 5545), stamped with the day of the job so that it never differs.

    Raises:
        JobError: the job has no plan.
    """
    from finishadvisor.plan.calendar import make_calendar

    if whole.plan is None:
        raise JobError("There is no plan to put into a calendar.")
    stamp = datetime.datetime.combine(whole.on, datetime.time(), tzinfo=datetime.UTC)
    return make_calendar(whole.plan, whole.job, stamp)


def today_of(whole: WholeJob) -> "Mapping[str, Today]":
    """Return what may be done on each floor on the day of the job, and what not yet."""
    from finishadvisor.plan.today import today_on

    return today_on(whole.plan, whole.on, whole.job.workday) if whole.plan else {}
