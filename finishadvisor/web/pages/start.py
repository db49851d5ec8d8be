"""The list of jobs, a new job, and one job at a glance."""

import datetime
import re

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from finishadvisor.errors import UsageError
from finishadvisor.job.folder import JOB_FILE
from finishadvisor.web.forms import Fields, entered, read_fact
from finishadvisor.web.jobs import DECIDED, is_down, is_marked, list_jobs, waiting, waits_for
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import JobAt, job_at, site_of
from finishadvisor.whole_job.opened import floor_areas_ft2, open_for
from finishadvisor.whole_job.saved import kept

STEP_OF_WAIT = {
    "what it is used for": ("floor", "Describe the floor"),
    "its sides": ("floor", "Type the sides"),
    "its photos to be measured": ("photos", "Measure the photos"),
    "photos of the slab": ("photos", "Add photos"),
    "a decision on its finish": ("finishes", "Compare the finishes"),
    DECIDED: ("order", "Look at the order"),
}


def jobs_page(request: Request) -> Response:
    """Show every job with what it waits for."""
    site = site_of(request)
    can_begin = not (site.root / JOB_FILE).is_file()
    jobs = list_jobs(site.root, site.on)
    steps = {job.name: step_of(job.name, job.number, job.waits_for) for job in jobs if not job.mistaken}
    return page(request, "jobs.html", jobs=jobs, steps=steps, folder=site.root.resolve(), can_begin=can_begin)


def new_page(request: Request, problem: str = "", fields: Fields | None = None) -> Response:
    """Ask what decides most about a new job."""
    from finishadvisor.whole_job.changes import questions_for_new

    status = 400 if problem else 200
    return page(
        request, "new.html", status, questions=questions_for_new(), problem=problem, entered=entered(fields or {})
    )


def begin(request: Request, fields: Fields) -> Response:
    """Write the first job.toml of a new job.

    Raises:
        UsageError: the page was started on one job alone.
    """
    from finishadvisor.whole_job.changes import begin_job, questions_for_new

    root, name = site_of(request).root, fields.get("name", "").strip()
    if (root / JOB_FILE).is_file():
        raise UsageError("The page was started on one job alone. Start it on the folder above to begin another.")
    folder_name = folder_name_for(name)
    answers = {fact.id: read_fact(fact, fields.get(fact.id, "")) for fact in questions_for_new()}
    begin_job(root / folder_name, name, {id_: value for id_, value in answers.items() if value is not None})
    return RedirectResponse(at("job", folder_name, 1, "floor"), 303)


def folder_name_for(name: str) -> str:
    """Return the name of a new job's folder: letters, digits and dashes, which every system allows.

    Raises:
        UsageError: nothing of the name is left.
    """
    plain = "-".join(re.findall(r"[a-z0-9]+", name.lower()))[:60].strip("-")
    if not plain:
        raise UsageError("Give the job a name with at least one letter or digit.")
    return f"job-{plain}" if plain in {"con", "prn", "aux", "nul"} or re.fullmatch(r"(com|lpt)\d", plain) else plain


def job_page(request: Request) -> Response:
    """Show one job at a glance: what each floor waits for, and what to do next."""
    here = job_at(request)
    on = site_of(request).on
    catalog = open_for(here.folder, on).catalog
    areas = floor_areas_ft2(here.job, catalog)
    waits = [waits_for(here.folder, floor, on) for floor in here.job.floors]
    floors = [
        {
            "number": number,
            "floor": floor,
            "area_ft2": areas[floor.name],
            "waits_for": waits[number - 1],
            "step": step_of(here.name, number, waits[number - 1] or DECIDED)[0],
            "evenness": kept(here.folder, floor),
            "marked": sum(is_marked(photo) for photo in floor.photos),
            "down": is_down(floor, on),
        }
        for number, floor in enumerate(here.job.floors, start=1)
    ]
    names = {finish.id: finish.name for finish in catalog.finishes.values()}
    return page(request, "job.html", here=here, floors=floors, names=names, next_step=next_step(here, on))


def next_step(here: JobAt, on: datetime.date) -> tuple[str, str]:
    """Return the address and the words of the one thing to do next; the floor's name where there are several."""
    number, wait = waiting(here.folder, here.job, on)
    address, words = step_of(here.name, number, wait)
    several = f": {here.job.floors[number - 1].name}" if number and len(here.job.floors) > 1 else ""
    return address, words + several


def step_of(job: str, number: int | None, wait: str) -> tuple[str, str]:
    """Return the address and the words of what a wait asks for."""
    step, words = STEP_OF_WAIT.get(wait, ("photos", "Mark the corners"))
    return at("job", job, number, step) if number else at("job", job, step), words
