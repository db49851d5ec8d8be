"""What is shown when the job was changed somewhere else since the page was opened."""

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import Response

from finishadvisor.web.forms import entered
from finishadvisor.web.rendering import page
from finishadvisor.web.site import job_at


def conflict_page(request: Request, fields: Mapping[str, str], message: str) -> Response:
    """Show what was entered beside a way to save it over the newer job, or to look at that first."""
    here = job_at(request)
    return page(
        request, "conflict.html", 409, here, message=message, fields=entered(fields), back=_page_of(request.url.path)
    )


def _page_of(path: str) -> str:
    """Return the page that a form's address belongs to."""
    for ending in ("/answers", "/about", "/readings", "/used", "/done"):
        path = path.removesuffix(ending)
    return path
