"""The outline of a floor of any shape: shown as it stands in job.toml, and written back as typed."""

from typing import TYPE_CHECKING

from pydantic import ValidationError
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from finishadvisor.errors import UsageError
from finishadvisor.web.forms import VERSION, Fields
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import job_at

if TYPE_CHECKING:
    from finishadvisor.job.typed_outline import TypedOutline


def outline_page(request: Request, problem: str = "", fields: Fields | None = None) -> Response:
    """Show every part of the outline, ready to be changed, beside its drawing."""
    from finishadvisor.job.typed_outline import outline_as_typed

    here = job_at(request)
    typed = read_shape(fields["shape"]) if fields and is_shape(fields.get("shape", "")) else None
    typed = typed or outline_as_typed(here.folder, here.floor.name)
    counts = {"joints": len(typed.joints), "steps": len(typed.steps)}
    return page(
        request, "outline.html", 400 if problem else 200, here, shape=typed.model_dump_json(), counts=counts,
        problem=problem,
    )  # fmt: skip


def save_outline(request: Request, fields: Fields) -> Response:
    """Write the outline, and go back to the floor."""
    from finishadvisor.job.typed_outline import draw_outline

    here = job_at(request)
    draw_outline(here.folder, here.floor.name, read_shape(fields.get("shape", "")), fields.get(VERSION))
    return RedirectResponse(at("job", here.name, here.number, "floor") + "?saved", 303)


def is_shape(text: str) -> bool:
    """Return whether a text is an outline as the page's script writes it."""
    try:
        read_shape(text)
    except UsageError:
        return False
    return True


def read_shape(text: str) -> "TypedOutline":
    """Return the outline that the page's script wrote.

    Raises:
        UsageError: it is not what the script writes.
    """
    from finishadvisor.job.typed_outline import TypedOutline

    try:
        return TypedOutline.model_validate_json(text)
    except (ValidationError, RecursionError):
        raise UsageError(
            "The outline did not arrive whole. Load the page again; the outline that was saved is kept."
        ) from None
