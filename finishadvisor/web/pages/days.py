"""The days: what may be done today, the calendar of the crew, when the floors return to service, the weather."""

import re
import tempfile
from collections.abc import Mapping
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from finishadvisor.errors import FinishAdvisorError, WeatherError
from finishadvisor.job.folder import edit_job
from finishadvisor.papers.blocked_words import blocked_words
from finishadvisor.records.plan import Plan, Step
from finishadvisor.web.forms import Fields, entered
from finishadvisor.web.pages.done import is_about_part, zones_to_tick
from finishadvisor.web.rendering import FEW_FLOORS, at, page
from finishadvisor.web.results import whole_job
from finishadvisor.web.site import JobAt, Site, job_at, site_of

if TYPE_CHECKING:
    import tomlkit

MOST_BLOCKED: Final = 12
FIRST_TASKS: Final = 2
"""So many tasks of today stand on a phone before anything is unfolded."""


def days_page(request: Request, problem: str = "", fields: Fields | None = None) -> Response:
    """Show the plan, day by day."""
    from finishadvisor.whole_job.work_through import today_of

    here = job_at(request)
    whole = whole_job(site_of(request), here, with_plan=True)
    plan = whole.plan
    today = today_rows(today_of(whole))
    numbers = {floor.name: number for number, floor in enumerate(here.job.floors, start=1)}
    return page(
        request, "days.html", 400 if problem else 200, here, whole=whole, plan=plan, today=today,
        days=days_of(plan, here.job.units) if plan else [], notes=notes_of(plan) if plan else [],
        blocked=blocked_words(plan.blocked, here.job.units)[:MOST_BLOCKED] if plan else (),
        tasks=tasks_of(plan) if plan else [], numbers=numbers, zoned=zones_to_tick(whole),
        problem=problem, of_part=is_about_part(fields or {}), entered=entered(fields or {}),
    )  # fmt: skip


def today_rows(today: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return each floor's tasks of the day: the first few and what must be begun by an hour, then the others."""
    shown = FIRST_TASKS if len(today) <= FEW_FLOORS else 1
    rows = []
    for floor, row in today.items():
        first = [due for number, due in enumerate(row.due) if number < shown or due.limit]
        rows.append({
            "floor": floor,
            "first": first,
            "rest": [due for due in row.due if due not in first],
            "after": row.after,
            "mind": list(dict.fromkeys(note for due in row.due for note in due.notes)),
        })
    return rows


def tasks_of(plan: Plan) -> list[Step]:
    """Return the first step of every task that is still to be done, in the order of the days."""
    return list({(step.floor, step.task_id): step for step in reversed(plan.steps)}.values())[::-1]


def days_of(plan: Plan, units: str) -> list[tuple[str, list[Step]]]:
    """Return the steps by the day on which they start."""
    steps = sorted(plan.steps, key=lambda step: step.start)
    form = "{0:%A} {0.day} {0:%B}" if units == "metric" else "{0:%A}, {0:%B} {0.day}"
    return [(form.format(day), list(group)) for day, group in groupby(steps, key=lambda step: step.start.date())]


def notes_of(plan: Plan) -> list[str]:
    """Return what the plan takes for granted, and other notes of its steps, each once."""
    return list(dict.fromkeys([*plan.assumptions, *(note for step in plan.steps for note in step.notes)]))


def take_weather(request: Request, _fields: Fields, files: list[UploadFile]) -> Response:
    """Take an hourly weather file in: it is read as the plan reads it first, and kept only if the plan can use it."""
    site, here = site_of(request), job_at(request)
    content = next((file.file.read() for file in files if file.filename), b"")
    try:
        name = store_weather(site, here, content)
        edit_job(here.folder, lambda document: set_weather(document, name))
    except FinishAdvisorError as error:
        return days_page(request, str(error))
    return RedirectResponse(at("job", here.name, "days") + "?saved", 303)


def store_weather(site: Site, here: JobAt, content: bytes) -> str:
    """Return the name under which a weather file was stored in the job folder; no file is ever overwritten.

    Raises:
        WeatherError: there is no file, or the plan cannot use it; nothing of it is kept.
    """
    from finishadvisor.job.writing import write_whole
    from finishadvisor.whole_job.work_through import work_through

    if not content:
        raise WeatherError("No weather file was chosen, or it is empty. Choose one, then send it.")
    ending = ".json" if re.match(rb"\s*[{\[]", content) else ".csv"
    with tempfile.TemporaryDirectory(dir=site.cache) as folder:
        waiting = Path(folder) / f"weather{ending}"
        waiting.write_bytes(content)
        if work_through(here.folder, site.on, weather_path=waiting, with_order=False).plan is None:
            raise WeatherError("Nothing is planned yet, so the file cannot be tried. Describe the floor first.")
    number = next(n for n in range(1, 10_000) if not (here.folder / f"weather-{site.on}-{n}{ending}").exists())
    name = f"weather-{site.on}-{number}{ending}"
    write_whole(here.folder / name, content)
    return name


def set_weather(document: "tomlkit.TOMLDocument", name: str) -> None:
    """Name the weather file in the job."""
    document["weather"] = name
