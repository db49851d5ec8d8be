"""Work a whole job through, from the job folder to advice, order and plan."""

import datetime
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from finishadvisor.advice.advise import advise_floor
from finishadvisor.advice.causes import with_causes
from finishadvisor.advice.derive import derive_facts
from finishadvisor.advice.verdict import Judgement, judge_finishes
from finishadvisor.advice.why import explain
from finishadvisor.catalog.models import Catalog
from finishadvisor.errors import JobError, nearest_of
from finishadvisor.job.document import Floor
from finishadvisor.records.advice import Advice, FloorAdvice
from finishadvisor.records.base import Money
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.finding import FactValue
from finishadvisor.records.shade import Measurement
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.why import WhyFinish
from finishadvisor.records.works import FloorWorks
from finishadvisor.whole_job.opened import Opened, open_for
from finishadvisor.whole_job.past import past_jobs
from finishadvisor.whole_job.saved import kept
from finishadvisor.works.make import make_recoat_works, make_works

Progress = Callable[[str], None]


def quiet(_line: str) -> None:
    """Report nothing."""


@dataclass(frozen=True)
class Priced:
    """Every finish of the catalog on one floor: works, the contractor's own costs, the selling price, days out."""

    works: Mapping[str, FloorWorks]
    first_costs: Mapping[str, Money | None]
    recoat_costs: Mapping[str, Money | None]
    selling_prices: Mapping[str, Money | None]
    days_out: Mapping[str, float | None]


def price_finishes(
    opened: Opened, floor: Floor, facts: Mapping[str, FactValue | None], judgements: Sequence[Judgement]
) -> Priced:
    """Work out what each finish would take and cost on this floor; without an outline nothing can be priced."""
    from finishadvisor.order.price import first_cost, selling_price
    from finishadvisor.plan.days import days_out

    job, catalog = opened.job, opened.catalog
    if floor.outline is None:
        return Priced({}, {}, {}, {}, {})
    works = {
        judged.finish: make_works(floor, catalog.finishes[judged.finish], judged.findings, facts, catalog)
        for judged in judgements
    }
    recoats = {id_: make_recoat_works(floor, catalog.finishes[id_], facts, catalog) for id_ in works}
    costs = {id_: first_cost(made, job, catalog) for id_, made in works.items()}
    return Priced(
        works,
        costs,
        {id_: first_cost(made, job, catalog) if made else None for id_, made in recoats.items()},
        {id_: selling_price(cost, job, catalog) if cost else None for id_, cost in costs.items()},
        {id_: days_out(made, job, catalog) for id_, made in works.items()},
    )


@dataclass(frozen=True)
class Advised:
    """One floor advised: its facts, the judgement of every finish, the prices and the advice."""

    floor: Floor
    facts: Mapping[str, FactValue | None]
    evenness: FloorEvenness | None
    judgements: tuple[Judgement, ...]
    priced: Priced
    advice: FloorAdvice


def advise_one(opened: Opened, floor: Floor, evenness: FloorEvenness | None) -> Advised:
    """Advise one floor from what is known of it, with its measured evenness where there is one."""
    job, catalog = opened.job, opened.catalog
    facts = derive_facts(job, floor, catalog, opened.on, evenness)
    judgements = judge_finishes(facts, catalog)
    priced = price_finishes(opened, floor, facts, judgements)
    advice = advise_floor(
        job, floor, facts, judgements, priced.first_costs, priced.recoat_costs, priced.days_out, priced.works, catalog,
        opened.on,
    )  # fmt: skip
    caused = with_causes(evenness, facts, catalog) if evenness else None
    return Advised(floor, facts, caused, judgements, priced, advice)


def chosen_finish(advised: Advised, finish_id: str | None, catalog: Catalog) -> tuple[str | None, str]:
    """Return the finish to work with and why that one: asked for, decided, or the top of the ranking.

    Raises:
        JobError: the finish asked for is not in the catalog.
    """
    if finish_id is not None:
        if finish_id not in catalog.finishes:
            raise JobError(f'There is no finish "{finish_id}".{nearest_of(finish_id, catalog.finishes)}')
        return finish_id, "asked for"
    decision = advised.floor.decision
    if decision is not None:
        by = f" by {decision.by}" if decision.by else ""
        when = f" on {decision.date.isoformat()}" if decision.date else ""
        return decision.finish, f"decided{by}{when}"
    top = next((finish.id for finish in advised.advice.finishes if finish.rank == 1), None)
    return (top, "the top of the ranking") if top else (None, "nothing suits")


def advise_job(path: Path, on: datetime.date, floor_name: str | None = None) -> tuple[Opened, tuple[Advised, ...]]:
    """Advise the floors of a job, using kept measurements of their photos."""
    opened = open_for(path, on)
    floors = opened.floors_named(floor_name)
    return opened, tuple(advise_one(opened, floor, kept(opened.folder, floor)) for floor in floors)


def why_finish(path: Path, on: datetime.date, floor_name: str, finish_id: str) -> WhyFinish:
    """Return every rule tried on one finish of one floor.

    Raises:
        JobError: there is no such floor or finish.
    """
    opened, (advised,) = advise_job(path, on, floor_name)
    found = next((judged for judged in advised.judgements if judged.finish == finish_id), None)
    if found is None:
        raise JobError(f'There is no finish "{finish_id}".{nearest_of(finish_id, opened.catalog.finishes)}')
    return explain(floor_name, found, advised.facts, opened.catalog)


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
        with_plan: also make the plan of the days.
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
        evenness=advised.evenness,
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
    if works and with_plan:
        from finishadvisor.plan.make import make_plan
        from finishadvisor.plan.weather import read_weather

        progress("Planning the days")
        own_weather = whole.folder / whole.job.weather if whole.job.weather else None
        weather_file = weather_path or own_weather
        weather = read_weather(weather_file, whole.job.time_zone) if weather_file else None
        plan = make_plan(works, facts, whole.job, whole.catalog, weather, whole.on)
    if works and with_order:
        from finishadvisor.order.make import make_order

        progress("Making the order")
        order = make_order(works, whole.job, whole.catalog, past_jobs(whole.folder))
    if order and plan:
        from finishadvisor.order.shelf import shelf_warnings

        warnings = shelf_warnings(works, plan, whole.on, whole.catalog)
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


def today_of(whole: WholeJob) -> Mapping[str, Sequence[str]]:
    """Return what may be done on each floor on the day of the job, a line each."""
    from finishadvisor.plan.today import today_lines

    return today_lines(whole.plan, whole.on) if whole.plan else {}
