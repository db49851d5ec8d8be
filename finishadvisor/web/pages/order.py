"""The order of the whole job, and what was really used."""

import datetime
import re

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from finishadvisor.errors import UsageError
from finishadvisor.job.document import Used
from finishadvisor.web.forms import Fields, entered, read_day, row_of
from finishadvisor.web.job_units import number_from
from finishadvisor.web.rendering import at, page
from finishadvisor.web.results import whole_job
from finishadvisor.web.site import job_at, site_of


def order_page(request: Request, problem: str = "", fields: Fields | None = None) -> Response:
    """Show what to buy, how each need was reckoned, and a form for what was really used."""
    from finishadvisor.papers.order_list import material_cautions

    here = job_at(request)
    whole = whole_job(site_of(request), here, with_order=True)
    lines = [(floor.floor, line) for floor in whole.order.floors for line in floor.lines] if whole.order else []
    works = [outcome.works for outcome in whole.floors if outcome.works is not None]
    taken = [(made.floor, use.material, use.layer) for made in works for task in made.tasks for use in task.materials]
    # What is done is not on the order any more, and is written down here all the same.
    uses = dict.fromkeys([*((floor, line.material, line.layer) for floor, line in lines), *taken])
    return page(
        request, "order.html", 400 if problem else 200, here, whole=whole, lines=lines, uses=uses,
        cautions=material_cautions(whole.order, whole.catalog) if whole.order else [],
        problem=problem, entered=entered(fields or {}),
    )  # fmt: skip


def used(request: Request, fields: Fields) -> Response:
    """Write down what was really used of a material."""
    from finishadvisor.whole_job.changes import record_used

    here = job_at(request)
    floor, _, line = fields.get("line", "").partition("\n")
    material, _, layer = line.partition("\n")
    known = whole_job(site_of(request), here, with_order=True).catalog.materials
    unit = known[material.strip()].unit if material.strip() in known else None
    record_used(here.folder, floor.strip(), used_from(material.strip(), layer.strip(), fields, here.job.units, unit))
    return RedirectResponse(at("job", here.name, "order") + "?saved", 303)


def used_from(material: str, layer: str, fields: Fields, units: str, unit: str | None) -> Used:
    """Return what was used, as a form of a job in such units tells it; the amount is in the material's unit.

    Raises:
        UsageError: a number or the day is missing or wrong.
    """

    def number(name: str, what: str, unit: str | None) -> float:
        try:
            typed = float(fields.get(name, "").replace(",", ""))
        except ValueError:
            raise UsageError(f"{what} must be a number, like 4.5.") from None
        return number_from(typed, unit, units)

    day: datetime.date | None = read_day(fields.get("date", ""), "Used on")
    if day is None or not material:
        raise UsageError("Choose the material, and the day on which it was used.")
    coats = fields.get("coats", "").strip() or "1"
    if not re.fullmatch("[0-9]{1,2}", coats):
        raise UsageError("The coats must be a whole number, like 2.")
    return row_of(
        Used,
        material=material,
        layer=layer or "surface",
        coats=int(coats),
        area_ft2=number("area", "The area", "ft²"),
        used=number("used", "The amount", unit),
        date=day,
        lot=fields.get("lot", "").strip()[:80] or None,
    )
