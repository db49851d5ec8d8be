"""Long work: its progress, and stopping it."""

from typing import Final

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from finishadvisor.web.forms import Fields
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import job_at, site_of

WAITED_SECONDS: Final = 1.5
"""How long an answer waits for something new; then the script asks again. Shorter than the server waits when it is
stopped, so that no answer need be broken off."""


def work_page(request: Request) -> Response:
    """Show the work of a job; once it is done, go on to what it made."""
    here = job_at(request)
    work = site_of(request).works.of(here.folder)
    if work is None:
        return RedirectResponse(at("job", here.name), 303)
    if work.state == "done":
        return RedirectResponse(work.then, 303)
    return page(request, "work.html", here=here)


def work_json(request: Request) -> Response:
    """Return the progress for the page's script, as soon as there is more of it than the script has seen."""
    here = job_at(request)
    work = site_of(request).works.news_of(here.folder, request.query_params.get("seen", ""), WAITED_SECONDS)
    return JSONResponse(work.as_json() if work else {"state": "none", "lines": [], "then": "", "seen": ""})


def stop(request: Request, _fields: Fields) -> Response:
    """Stop the work of a job."""
    here = job_at(request)
    site_of(request).works.stop(here.folder)
    return RedirectResponse(at("job", here.name, "work"), 303)
