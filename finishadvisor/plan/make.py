"""The plan of the days: readiness, air, chain, search and steps put together for every floor of a job."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.errors import JobError
from finishadvisor.job.document import Floor, Job
from finishadvisor.plan.blocked import air_hours, blocked_of
from finishadvisor.plan.chain import Link, make_chain, with_conditions
from finishadvisor.plan.changes import Stuck, nearest_changes
from finishadvisor.plan.clock import Clock
from finishadvisor.plan.done import Standing, from_where_it_stands
from finishadvisor.plan.floors import plan_floors
from finishadvisor.plan.planned import PlannedFloor
from finishadvisor.plan.readiness import Ready, readiness, with_readiness
from finishadvisor.plan.screening import with_screening
from finishadvisor.plan.search import FloorPlan
from finishadvisor.plan.service import back_in_service, inspect_days
from finishadvisor.plan.slab import Facts, FloorAir, Site, floor_air
from finishadvisor.plan.steps import steps_of
from finishadvisor.plan.weather_rows import Weather
from finishadvisor.records.plan import Added, Plan
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.added import recorded_beside
from finishadvisor.works.limits import limit


@dataclass(frozen=True)
class _Prepared:
    """One floor ready for the search."""

    site: Site
    works: FloorWorks
    finish: Finish
    air: FloorAir
    ready: Ready
    chain: tuple[Link, ...]
    stands: Standing
    beside: tuple[Added, ...]
    """What is recorded as done and no part of the works."""


def make_plan(  # noqa: PLR0917  (a plan rests on these six and no fewer)
    works: Sequence[FloorWorks],
    facts: Mapping[str, Facts],
    job: Job,
    catalog: Catalog,
    weather: Weather | None,
    on: datetime.date,
) -> Plan:
    """Return the earliest plan of the days for all floors on the calendar of one crew and its teams.

    See `search` and `floors` for what is exact and what not, `windows` for the limits, `readiness` for the dates.

    Args:
        works: one finish on each floor.
        facts: by floor name, every fact of the catalog as of `on`, None where unknown.
        job: workday, crew, time zone, and the floors with room, readings and dates.
        catalog: the catalog as this job sees it.
        weather: hourly weather; None: rooms and stated assumptions.
        on: the first day of the plan.

    Raises:
        JobError: a floor of the works is not in the job.
    """
    prepared = _prepared(works, facts, job, catalog, weather, on)
    most = int(limit(catalog, "most-in-team"))
    crew, *smaller = (min(job.crew // teams, most) for teams in range(1, min(job.teams, len(works) or 1) + 1))
    chains = [with_screening(floor.chain, floor.site, floor.works, floor.air, crew) for floor in prepared]
    plans = plan_floors(chains, prepared[0].site.clock, crew, *smaller) if prepared else ()
    floors = [_planned(floor, plan) for floor, plan in zip(prepared, plans, strict=True)]
    changes = {
        planned.works.floor: _changes(floor, chain, weather, crew)
        for floor, chain, planned in zip(prepared, chains, floors, strict=True)
        if not planned.plan.feasible
    }
    steps = [step for floor in floors for step in steps_of(floor, job)]
    blocked = [span for floor in floors for span in blocked_of(floor, changes.get(floor.works.floor, ()))]
    return Plan(
        steps=tuple(sorted(steps, key=lambda step: (step.start, step.end))),
        back_in_service={floor.works.floor: back_in_service(floor) for floor in floors},
        blocked=tuple(sorted(blocked, key=lambda span: (span.start, span.task))),
        feasible=not changes,
        assumptions=tuple(said for floor in floors for said in floor.air.assumptions),
        changes=tuple(f"{name}: {words}" for name, tried in changes.items() for words in tried),
        inspect={floor.works.floor: inspect_days(floor) for floor in floors},
        done={floor.works.floor: (*floor.stands.done, *_ids(floor.beside)) for floor in prepared},
        begun={floor.works.floor: floor.stands.begun for floor in prepared},
        added={
            floor.works.floor: (*floor.beside, *_added(chain)) for floor, chain in zip(prepared, chains, strict=True)
        },
        air={floor.works.floor: air_hours(floor) for floor in floors},
    )


def _prepared(  # noqa: PLR0917
    works: Sequence[FloorWorks],
    facts: Mapping[str, Facts],
    job: Job,
    catalog: Catalog,
    weather: Weather | None,
    on: datetime.date,
) -> list[_Prepared]:
    zone = ZoneInfo(job.time_zone)
    today = Clock(zone, on, 1, job.workday)
    sites = [Site(_floor(job, made.floor), facts[made.floor], catalog, today) for made in works]
    finishes = [catalog.finishes[made.finish] for made in works]
    readies = [readiness(site, finish, on) for site, finish in zip(sites, finishes, strict=True)]
    clock = Clock(zone, on, _days(works, readies, catalog, on), job.workday)
    floors = []
    for made, site, finish, ready in zip(works, sites, finishes, readies, strict=True):
        placed = Site(site.floor, site.facts, catalog, clock)
        air = floor_air(placed, weather)
        stands = from_where_it_stands(made, make_chain(made, air, catalog), placed, ready, job.crew)
        beside = recorded_beside(made, placed.floor, on, catalog)
        chain = with_readiness(stands.links, ready, placed, made, finish, rh_test_pending=stands.rh_test_pending)
        floors.append(_Prepared(placed, made, finish, air, ready, with_conditions(chain, air, catalog), stands, beside))
    return floors


def _planned(floor: _Prepared, plan: FloorPlan) -> PlannedFloor:
    stands = floor.stands
    recorded = (*stands.recorded, *(added.task.title for added in floor.beside))
    return PlannedFloor(
        floor.site, floor.works, floor.finish, floor.air, floor.ready, plan, recorded=recorded, begun=stands.begun
    )


def _floor(job: Job, name: str) -> Floor:
    """Return the floor of that name.

    Raises:
        JobError: there is none.
    """
    for floor in job.floors:
        if floor.name == name:
            return floor
    raise JobError(f'There is no floor "{name}" in this job.')


def _days(works: Sequence[FloorWorks], readies: Sequence[Ready], catalog: Catalog, on: datetime.date) -> int:
    """Return how many days the plan looks ahead: to the last gate, through all waits, and some weeks of search."""
    gates = [day for ready in readies for day in (ready.not_before, ready.poured) if day]
    gates += [ready.test_not_before for ready in readies if ready.must_test_rh and ready.test_not_before]
    joints = [
        ready.joints_not_before
        for made, ready in zip(works, readies, strict=True)
        if ready.joints_not_before and any(task.work_item == "fill-control-joints" for task in made.tasks)
    ]
    to_gate = max([(day - on).days for day in (*gates, *joints)], default=0)
    waits = [item.wait_hours.expected for made in works for task in made.tasks
             if task.certain and (item := catalog.work_items[task.work_item]).wait_hours]  # fmt: skip
    hours = sum(task.crew_hours.expected for made in works for task in made.tasks if task.certain)
    return max(0, to_gate) + int(sum(waits) / 24 + hours / 4) + int(limit(catalog, "search-days"))


def _ids(added: Sequence[Added]) -> tuple[str, ...]:
    return tuple(each.task.id for each in added)


def _added(chain: Sequence[Link]) -> tuple[Added, ...]:
    """Return the tasks of a chain that are not part of the works, each with the task of the works that follows it."""
    found, following = [], None
    for link in reversed(chain):
        if link.inserted:
            found.append(Added(task=link.task, before=following))
        else:
            following = link.tasks[0].id
    return tuple(reversed(found))


def _changes(floor: _Prepared, chain: tuple[Link, ...], weather: Weather | None, crew: int) -> tuple[str, ...]:
    return nearest_changes(Stuck(floor.site, floor.works, chain, floor.air, weather, crew))
