"""Long work: its progress, and stopping it."""

import asyncio
import time
from typing import Final

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from finishadvisor.web.forms import Fields
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import job_at, site_of

WAITED_SECONDS: Final = 1.5
"""How long an answer waits for something new; then the script asks again. Shorter than the server waits when it is
stopped, so that no answer need be broken off."""
LOOKED_SECONDS: Final = 0.02


def work_page(request: Request) -> Response:
    """Show the work of a job; once it is done, go on to what it made."""
    here = job_at(request)
    work = site_of(request).works.of(here.folder)
    if work is None:
        return RedirectResponse(at("job", here.name), 303)
    if work.state == "done":
        return RedirectResponse(work.then, 303)
    return page(request, "work.html", here=here)


async def work_json(request: Request) -> Response:
    """Return the progress for the page's script, as soon as there is more of it than the script has seen."""
    here = await run_in_threadpool(job_at, request)
    works, seen = site_of(request).works, request.query_params.get("seen", "")
    until = time.monotonic() + WAITED_SECONDS
    while (work := works.of(here.folder)) and work.seen == seen and time.monotonic() < until:
        await asyncio.sleep(LOOKED_SECONDS)
    return JSONResponse(work.as_json() if work else {"state": "none", "lines": [], "then": "", "seen": ""})


def stop(request: Request, _fields: Fields) -> Response:
    """Stop the work of a job."""
    here = job_at(request)
    site_of(request).works.stop(here.folder)
    return RedirectResponse(at("job", here.name, "work"), 303)
