"""Works of the shipped catalog on small floors, for tests of the whole plan."""

import datetime
import json
from pathlib import Path
from typing import Any

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Job
from finishadvisor.plan.make import make_plan
from finishadvisor.plan.weather_rows import Weather, WeatherRow
from finishadvisor.records.plan import Plan, Step
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.make import make_works
from tests.plain_jobs import job_from_plain
from tests.plan.fixtures import shipped

ON = datetime.date(2026, 9, 21)
ROOM = {"air": 72, "rh_pct": 45, "slab": 70}
SHOP: dict[str, Any] = {"place": "indoors", "use": "workshop", "slab_rh_pct": 72.0, "sun": "none", "pour_ahead": False}
PLAN_SCHEMA = json.loads(Path("tests/contracts/plan.schema.json").read_text(encoding="utf-8"))


def a_job(*floors: dict[str, Any], **more: Any) -> Job:
    return job_from_plain(
        {"name": "Test job", "floor": [a_floor(**floor) for floor in floors or ({},)], **more}, metric=False
    )


def a_floor(name: str = "Shop", x: float = 25, y: float = 20, **more: Any) -> dict[str, Any]:
    outline = {"rectangle": [{"x": x, "y": y}], **more.pop("outline", {})}
    return {"name": name, "outline": outline, "room": ROOM, "pour": {"date": datetime.date(2026, 6, 1)}, **more}


def facts_of(job: Job, on: datetime.date = ON, **known: Any) -> dict[str, dict[str, Any]]:
    """Every fact of the catalog, unknown but for these, and the age from the pour."""
    by_floor = {}
    for floor in job.floors:
        age = float((on - floor.pour.date).days) if floor.pour and floor.pour.date <= on else None
        by_floor[floor.name] = {**dict.fromkeys(shipped().facts), **SHOP, "age_days": age, **known}
    return by_floor


def works_of(
    job: Job, finish: str, facts: dict[str, dict[str, Any]], catalog: Catalog | None = None
) -> list[FloorWorks]:
    rows = catalog or shipped()
    return [make_works(floor, rows.finishes[finish], (), facts[floor.name], rows) for floor in job.floors]


def plan_for(
    finish: str = "epoxy-urethane-solid", job: Job | None = None, weather: Weather | None = None,
    on: datetime.date = ON, catalog: Catalog | None = None, **known: Any,
) -> Plan:  # fmt: skip
    made = job or a_job()
    facts = facts_of(made, on, **known)
    return make_plan(works_of(made, finish, facts, catalog), facts, made, catalog or shipped(), weather, on)


def coats(plan: Plan) -> list[Step]:
    return [step for step in plan.steps if step.coat is not None]


def two_weeks(on: datetime.date = ON, **changes: Any) -> Weather:
    """Steady hours from the first midnight on, in the job's default zone."""
    first = datetime.datetime.combine(on, datetime.time(5), datetime.UTC)
    given = {"air_f": 72.0, "rh_pct": 45.0, "cloud_share": 1.0, **changes}
    return Weather(tuple(WeatherRow(first + datetime.timedelta(hours=n), **given) for n in range(336)), ())
