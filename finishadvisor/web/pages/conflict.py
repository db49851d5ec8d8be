"""What is shown when the job was changed somewhere else since the page was opened."""

from collections.abc import Mapping
from typing import Final

from starlette.requests import Request
from starlette.responses import Response

from finishadvisor.web.forms import entered
from finishadvisor.web.rendering import page
from finishadvisor.web.site import job_at

_PAGES_OF_FORMS: Final = {
    "/floor/answers": "/floor", "/floor/about": "/floor", "/floor/readings": "/floor", "/order/used": "/order",
    "/days/done": "/days", "/days/weather": "/days", "/measure": "/photos", "/work/stop": "/work",
    "/devices/new": "/devices", "/devices/out": "/devices",
}  # fmt: skip


def conflict_page(request: Request, fields: Mapping[str, str], message: str) -> Response:
    """Show what was entered beside a way to save it over the newer job, or to look at that first."""
    here = job_at(request)
    return page(
        request, "conflict.html", 409, here, message=message, fields=entered(fields), back=page_of(request.url.path)
    )


def page_of(path: str) -> str:
    """Return the page that a form's address belongs to."""
    for ending, page_ending in _PAGES_OF_FORMS.items():
        if path.endswith(ending):
            return path.removesuffix(ending) + page_ending
    return path
