"""What is shown when the job was changed somewhere else since the page was opened."""

from collections.abc import Mapping
from typing import Final

from starlette.requests import Request
from starlette.responses import Response

from finishadvisor.web.forms import entered
from finishadvisor.web.job_units import answer_in, unit_in
from finishadvisor.web.rendering import page, plain_words
from finishadvisor.web.site import JobAt, job_at, site_of

_PAGES_OF_FORMS: Final = {
    "/floor/answers": "/floor", "/floor/about": "/floor", "/floor/readings": "/floor", "/order/used": "/order",
    "/days/done": "/days", "/days/weather": "/days", "/measure": "/photos", "/work/stop": "/work",
    "/devices/new": "/devices", "/devices/out": "/devices",
}  # fmt: skip
_ASKED: Final = {
    "about": "The day of the pour is not certain", "by": "Decided by", "date": "Decided on", "first_side": "First side",
    "last_wetting": "Last wet (rain, hose, saw) on", "marks": "Marks", "origin_x": "x on the plan",
    "origin_y": "y on the plan", "pour": "Poured, or to be poured, on", "second_side": "Second side",
    "shape": "Outline", "turned": "First side is turned",
}  # fmt: skip
"""What the forms ask for that can be overtaken, beside the questions of the catalog."""
_SAID: Final = {"about": "yes", "marks": "as you drew them", "shape": "as you drew it"}
"""Entries that are not told as they were sent."""


def conflict_page(request: Request, fields: Mapping[str, str]) -> Response:
    """Show what was entered beside a way to save it over the newer job, or to look at that first."""
    here, given = job_at(request), entered(fields)
    return page(
        request, "conflict.html", 409, here, fields=given, told=told_entries(request, here, given),
        back=page_of(request.url.path),
    )  # fmt: skip


def told_entries(request: Request, here: JobAt, given: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return what was entered in the words of the form; answers that the job has just so are left out."""
    from finishadvisor.whole_job.opened import open_for

    facts, units, rows = open_for(here.folder, site_of(request).on).catalog.facts, here.job.units, []
    for name, text in given.items():
        fact = facts.get(name)
        if fact is None:
            rows.append((_ASKED.get(name, plain_words(name)), _SAID.get(name, text)))
        elif text.strip() != answer_in(here.floor.answers.get(name), fact, units):
            words = plain_words(text) if fact.type == "word" else text
            rows.append((fact.question, f"{words} {unit_in(fact.unit, units)}".strip() if text else "not known"))
    return [(asked, said) for asked, said in rows if said]


def page_of(path: str) -> str:
    """Return the page that a form's address belongs to."""
    for ending, page_ending in _PAGES_OF_FORMS.items():
        if path.endswith(ending):
            return path.removesuffix(ending) + page_ending
    return path
