"""The finishes side by side, and one finish with everything that was tried on it."""

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from finishadvisor.job.document import Decision
from finishadvisor.web.forms import VERSION, Fields, entered, read_day, row_of
from finishadvisor.web.jobs import NotListedError
from finishadvisor.web.maps import map_paths
from finishadvisor.web.pages.evenness import looks_of
from finishadvisor.web.rendering import at, page
from finishadvisor.web.results import outcome_here, why_here
from finishadvisor.web.site import job_at, site_of

CLOSELY = 3
"""Finishes that are shown with their reasons; the others stand in the table."""


def finishes_page(request: Request) -> Response:
    """Show the finishes in rank order with verdict, reasons and prices."""
    here = job_at(request)
    whole, outcome = outcome_here(site_of(request), here, with_plan=True)
    ranked = [finish for finish in outcome.advice.finishes if finish.rank is not None]
    return page(
        request, "finishes.html", here=here, whole=whole, outcome=outcome, ranked=ranked, closely=ranked[:CLOSELY],
        looks=looks_of(map_paths(here.folder, here.floor), whole.catalog),
        others=[finish for finish in outcome.advice.finishes if finish.rank is None],
    )  # fmt: skip


def finish_page(request: Request, problem: str = "", fields: Fields | None = None) -> Response:
    """Show one finish: what it needs, costs and asks, every rule tried on it, and a form to decide for it.

    Raises:
        NotListedError: there is no such finish.
    """
    from finishadvisor.papers.client_options import upkeep_words

    here, finish_id = job_at(request), request.path_params["finish"]
    whole, outcome = outcome_here(site_of(request), here, with_plan=True)
    finish = next((finish for finish in outcome.advice.finishes if finish.id == finish_id), None)
    if finish is None:
        raise NotListedError("There is no such finish. Go back to the finishes.")
    return page(
        request,
        "finish.html",
        400 if problem else 200,
        here,
        whole=whole,
        outcome=outcome,
        finish=finish,
        row=whole.catalog.finishes[finish_id],
        pictured=finish_id in looks_of(map_paths(here.folder, here.floor), whole.catalog),
        why=why_here(site_of(request), here, finish_id),
        upkeep=upkeep_words(finish_id, whole.catalog),
        problem=problem,
        entered=entered(fields or {}),
    )


def decide_finish(request: Request, fields: Fields) -> Response:
    """Write down that this finish was decided, by whom and when.

    Raises:
        NotListedError: there is no such finish.
    """
    from finishadvisor.job.edits import decide

    here = job_at(request)
    decision = row_of(
        Decision,
        finish=request.path_params["finish"],
        by=fields.get("by", "").strip()[:80] or None,
        date=read_day(fields.get("date", ""), "Decided on"),
    )
    known = outcome_here(site_of(request), here)[0].catalog.finishes
    if decision.finish not in known:
        raise NotListedError("There is no such finish. Go back to the finishes.")
    decide(here.folder, here.floor.name, decision, fields.get(VERSION))
    return RedirectResponse(at("job", here.name, here.number, "finishes", decision.finish) + "?saved", 303)
