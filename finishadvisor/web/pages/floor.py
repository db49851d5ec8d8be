"""Describing a floor: questions in the order in which they could change most, dates and sides, readings."""

from typing import get_args

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.errors import UsageError
from finishadvisor.job.document import Pour, ReadingKind
from finishadvisor.job.lengths import write_length
from finishadvisor.records.whole import FloorOutcome
from finishadvisor.web.forms import VERSION, Fields, entered, number_or_text, read_day, read_fact
from finishadvisor.web.job_units import answer_in, fact_in, number_in
from finishadvisor.web.pages.start import next_step
from finishadvisor.web.rendering import at, page
from finishadvisor.web.results import outcome_here
from finishadvisor.web.site import JobAt, job_at, site_of
from finishadvisor.whole_job.opened import floor_areas_ft2

SHOWN_FIRST = 6
"""So many open questions stand on a phone before anything is unfolded; those that could change most come first."""
FOUND_ELSEWHERE = frozenset([
    "readings",
    "photos",
    "pour",
    "last_wetting",
    "loads",
    "layers_down",
    "mock_ups",
    "outline",
    "job.voc_rules",
])
"""Parts of the job that a fact is read from; it is asked for itself only where it could change a finish."""


def floor_page(request: Request, problem: str = "", fields: Fields | None = None) -> Response:
    """Ask what is not known of a floor; everything may stay unknown."""
    from finishadvisor.job.typed_outline import outline_as_typed

    site, here = site_of(request), job_at(request)
    whole, outcome = outcome_here(site, here)
    first, others = questions(outcome, whole.catalog)
    return page(
        request,
        "floor.html",
        400 if problem else 200,
        here,
        outcome=outcome,
        first=first,
        others=others,
        shown_first=SHOWN_FIRST,
        next_step=next_step(here, site.on) if "saved" in request.query_params else None,
        names={finish.id: finish.name for finish in whole.catalog.finishes.values()},
        readings=sorted(here.floor.readings, key=lambda reading: reading.date, reverse=True),
        kinds=get_args(ReadingKind),
        sides=sides_of(here),
        drawn=is_drawn(here),
        outline=outline_as_typed(here.folder, here.floor.name).model_dump_json() if here.floor.outline else "",
        area_ft2=floor_areas_ft2(here.job, whole.catalog)[here.floor.name],
        problem=problem,
        entered=entered(fields or {}),
    )


def questions(outcome: FloorOutcome, catalog: Catalog) -> tuple[list[tuple[Fact, tuple[str, ...]]], list[Fact]]:
    """Return what to find out next, with the finishes that each answer could change, and what else may be told."""
    first = [(catalog.facts[row.fact], row.could_change) for row in outcome.advice.find_out_next]
    asked = {fact.id for fact, _ in first}
    others = [
        fact
        for fact in catalog.facts.values()
        if fact.id not in asked and (fact.id in outcome.floor.answers or not FOUND_ELSEWHERE & set(fact.derived_from))
    ]
    return first, others


def is_drawn(here: JobAt) -> bool:
    """Return whether the floor has a shape that two sides cannot tell."""
    outline = here.floor.outline
    if outline is None:
        return False
    return bool(outline.polygons) or len(outline.rectangles) != 1 or outline.rectangles[0].corner != (0, 0)


def sides_of(here: JobAt) -> tuple[str, str]:
    """Return the sides of a floor that is one rectangle, as a person writes them."""
    outline = here.floor.outline
    if outline is None or is_drawn(here):
        return "", ""
    metric = here.job.units == "metric"
    return write_length(outline.rectangles[0].x, metric=metric), write_length(outline.rectangles[0].y, metric=metric)


def save_answers(request: Request, fields: Fields) -> Response:
    """Write the answers that were changed; what was not shown is left alone."""
    from finishadvisor.job.edits import answer

    site, here = site_of(request), job_at(request)
    whole, _ = outcome_here(site, here)
    given = {
        id_: read_answer(whole.catalog.facts[id_], text, here)
        for id_, text in entered(fields).items()
        if id_ in whole.catalog.facts
    }
    changed = {id_: value for id_, value in given.items() if here.floor.answers.get(id_) != value}
    if changed:
        refuse_wrong(changed, whole.catalog, here.job.units)
        answer(here.folder, here.floor.name, changed, fields.get(VERSION))
    return saved(here)


def read_answer(fact: Fact, text: str, here: JobAt) -> str | float | bool | None:
    """Return an answer of the form; one that reads as it was shown is as it stands, not as it was rounded."""
    known = here.floor.answers.get(fact.id)
    return known if text.strip() == answer_in(known, fact, here.job.units) else read_fact(fact, text, here.job.units)


def refuse_wrong(answers: dict[str, str | float | bool | None], catalog: Catalog, units: str) -> None:
    """Refuse an answer that its fact does not take, before it is written.

    Raises:
        UsageError: an answer is not among those allowed, or out of range.
    """
    from finishadvisor.job.catalog_check import answer_mistake

    for id_, value in answers.items():
        fact = catalog.facts[id_]
        mistake = answer_mistake(fact, value) if value is not None else None
        if mistake and isinstance(value, float):
            mistake = answer_mistake(fact_in(fact, units), float(number_in(value, fact.unit, units))) or mistake
        if mistake:
            raise UsageError(f"{fact.question} {mistake}")


def save_about(request: Request, fields: Fields) -> Response:
    """Write the day of the pour, the last wetting and the two sides.

    Raises:
        UsageError: only one of the sides is given.
    """
    from finishadvisor.job.edits import describe

    here = job_at(request)
    poured = read_day(fields.get("pour", ""), "Poured on")
    sides = (fields.get("first_side", "").strip(), fields.get("second_side", "").strip())
    if any(sides) and not all(sides):
        like = "7.5 m and 5.5 m" if here.job.units == "metric" else "24ft 6in and 18ft"
        raise UsageError(f"Only one of the two sides is given. Type both, like {like}.")
    describe(
        here.folder,
        here.floor.name,
        pour=Pour(date=poured, about="about" in fields) if poured else None,
        last_wetting=read_day(fields.get("last_wetting", ""), "Last wet on"),
        sides=sides if all(sides) else None,
        version=fields.get(VERSION),
    )
    return saved(here)


def save_reading(request: Request, fields: Fields) -> Response:
    """Write down one reading.

    Raises:
        UsageError: its day or its value is missing.
    """
    from finishadvisor.job.edits import add_reading

    here = job_at(request)
    day = read_day(fields.get("date", ""), "Taken on")
    if day is None:
        raise UsageError("A reading needs the day on which it was taken.")
    if not fields.get("value", "").strip():
        raise UsageError("A reading needs its value.")
    add_reading(
        here.folder,
        here.floor.name,
        kind=fields.get("kind", ""),
        value=number_or_text(fields["value"]),
        date=day,
        place=fields.get("place", "").strip() or None,
        note=fields.get("note", "").strip() or None,
    )
    return saved(here)


def saved(here: JobAt) -> Response:
    """Go back to the floor, which now shows what was saved."""
    return RedirectResponse(at("job", here.name, here.number, "floor") + "?saved", 303)
