"""Marking a photo: corners, cards, areas to leave out, wet patches, the two sides, its place on the plan."""

import json
from typing import Any

from pydantic import ValidationError
from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from finishadvisor.errors import FinishAdvisorError, UsageError
from finishadvisor.job.document import Photo
from finishadvisor.job.lengths import write_length
from finishadvisor.web.ahead import load_for_map
from finishadvisor.web.forms import VERSION, Fields, number_or_text
from finishadvisor.web.jobs import find_photo, is_marked
from finishadvisor.web.pages.photos import preview_of
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import JobAt, job_at, site_of
from finishadvisor.web.work import PROPOSE_SECONDS, run_child


def mark_page(request: Request, problem: str = "", fields: Fields | None = None) -> Response:
    """Show a photo with its marks, ready to be moved."""
    site, here = site_of(request), job_at(request)
    photo, path = find_photo(here.folder, here.floor, request.path_params["photo"])
    _, size = preview_of(site, path)
    given = fields or fields_of(photo, here)
    return page(
        request, "mark.html", 400 if problem else 200, here, photo=photo, width=size["width"], height=size["height"],
        given=given, problem=problem, propose=fields is None and not is_marked(photo) and not photo.corners,
    )  # fmt: skip


def proposed(request: Request) -> Response:
    """Return corners and cards found in a photo, for the page to propose; no corners where none can be told."""
    site, here = site_of(request), job_at(request)
    _, path = find_photo(here.folder, here.floor, request.path_params["photo"])
    preview, size = preview_of(site, path)
    given = {"preview": str(preview), "width": size["width"]}
    with site.one_proposal:
        try:
            found = site.results.get(("proposed", preview), lambda: run_child("propose", given, PROPOSE_SECONDS))
        except FinishAdvisorError:  # the marks are set by hand instead, as on any photo where nothing is found
            found = {"corners": None, "cards": []}
    return JSONResponse(found, headers={"Cache-Control": "no-store"})


def fields_of(photo: Photo, here: JobAt) -> dict[str, str]:
    """Return the marks of a photo as the form holds them."""
    metric = here.job.units == "metric"
    marks = {
        "corners": photo.corners,
        "cards": [{"at": sheet.at, "reflectance": sheet.reflectance} for sheet in photo.sheets],
        "leave_out": photo.leave_out,
        "wet": photo.wet,
    }
    size = [write_length(side, metric=metric) for side in photo.size] if photo.size else ["", ""]
    origin = [write_length(each, metric=metric) for each in photo.origin_on_plan] if photo.origin_on_plan else ["", ""]
    return {
        "marks": json.dumps(marks),
        "first_side": size[0],
        "second_side": size[1],
        "origin_x": origin[0],
        "origin_y": origin[1],
        "turned": str(photo.turned_deg),
    }


def save_marks(request: Request, fields: Fields) -> Response:
    """Write the marks of a photo, and go on to the next one that has none."""
    from finishadvisor.job.edits import mark_photo

    here = job_at(request)
    photo, _ = find_photo(here.folder, here.floor, request.path_params["photo"])
    mark_photo(here.folder, here.floor.name, marked(photo, fields, here), fields.get(VERSION))
    others = [each.file for each in here.floor.photos if each.file != photo.file and not is_marked(each)]
    if others:
        return RedirectResponse(at("job", here.name, here.number, "photos", others[0], "mark"), 303)
    site = site_of(request)
    site.works.make_ready()  # all are marked: measuring is the next thing to be asked for, then its page
    then = BackgroundTask(load_for_map, site, job_at(request))
    return RedirectResponse(at("job", here.name, here.number, "photos") + "?saved", 303, background=then)


def marked(photo: Photo, fields: Fields, here: JobAt) -> Photo:
    """Return the photo with the marks of a form.

    Raises:
        UsageError: a mark or a length cannot be used.
    """
    sides = [fields.get(name, "").strip() for name in ("first_side", "second_side")]
    if not all(sides):
        like = "7.5 m and 5.5 m" if here.job.units == "metric" else "24ft 6in and 18ft"
        raise UsageError(f"Type both sides of the slab between the corners, like {like}.")
    origin = [fields.get(name, "").strip() for name in ("origin_x", "origin_y")]
    if any(origin) and not all(origin):
        raise UsageError("The place on the plan needs both x and y, or neither.")
    marks = read_marks(fields.get("marks", ""))
    cards = marks["cards"] if isinstance(marks["cards"], list) else []
    if any(isinstance(card, dict) and card.get("reflectance") is None for card in cards):
        raise UsageError("Say of each card whether it is a gray card or white paper: that sets how light the slab is.")
    plain: dict[str, Any] = {
        "file": photo.file,
        "taken": photo.taken,
        "shows": photo.shows,
        "point": [] if marks["corners"] else [point.model_dump() for point in photo.points],
        "corners": marks["corners"],
        "size": [number_or_text(side) for side in sides],
        "origin_on_plan": [number_or_text(each) for each in origin] if all(origin) else None,
        "turned_deg": int(fields.get("turned", "0")) if fields.get("turned", "0").isdigit() else 0,
        "sheet": marks["cards"],
        "leave_out": marks["leave_out"],
        "wet": marks["wet"],
    }
    try:
        return Photo.model_validate(plain, context={"metric": here.job.units == "metric"})
    except ValidationError as error:
        first = error.errors()[0]
        where = "the sides" if "size" in first["loc"] else "the place" if "origin_on_plan" in first["loc"] else "a mark"
        raise UsageError(f"In {where}: {first['msg'].removeprefix('Value error, ')}") from None


def read_marks(text: str) -> dict[str, Any]:
    """Return the marks that the page's script wrote.

    Raises:
        UsageError: they are not what the script writes.
    """
    try:
        marks = json.loads(text)
    except (ValueError, RecursionError):
        marks = None
    if not isinstance(marks, dict) or set(marks) != {"corners", "cards", "leave_out", "wet"}:
        raise UsageError("The marks did not arrive whole. Load the page again; the marks that were saved are kept.")
    return marks
