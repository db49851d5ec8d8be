"""Long work: its progress, and stopping it."""

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from finishadvisor.web.forms import Fields
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import job_at, site_of


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
    """Return the progress for the page's script."""
    work = site_of(request).works.of(job_at(request).folder)
    return JSONResponse(work.as_json() if work else {"state": "none", "lines": [], "then": ""})


def stop(request: Request, _fields: Fields) -> Response:
    """Stop the work of a job."""
    here = job_at(request)
    site_of(request).works.stop(here.folder)
    return RedirectResponse(at("job", here.name, "work"), 303)
