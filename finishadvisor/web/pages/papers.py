"""The papers of a job: made on demand, listed, handed out."""

from starlette.requests import Request
from starlette.responses import FileResponse, RedirectResponse, Response

from finishadvisor.web.forms import Fields
from finishadvisor.web.jobs import PAPER_KINDS, NotListedError, papers_of
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import job_at, site_of

GROUPS = (
    ("To print and hand over", (".pdf",)),
    ("Pictures", (".png",)),
    ("For a calendar", (".ics",)),
    ("Tables and data", (".csv", ".json")),
)


def papers_page(request: Request) -> Response:
    """List the papers that were made."""
    here = job_at(request)
    found = papers_of(here.folder)
    groups = [
        (title, [(name, path) for name, path in found.items() if path.suffix in endings]) for title, endings in GROUPS
    ]
    made = max((path.stat().st_mtime for path in found.values()), default=None)
    old = made is not None and made < (here.folder / "job.toml").stat().st_mtime
    return page(request, "papers.html", here=here, groups=[group for group in groups if group[1]], old=old)


def make(request: Request, _fields: Fields) -> Response:
    """Start making every paper, and show the progress."""
    site, here = site_of(request), job_at(request)
    site.works.begin(
        here.folder, "papers", {"folder": str(here.folder), "on": site.on.isoformat()},
        f"Making the papers of {here.job.name}", at("job", here.name, "papers"),
    )  # fmt: skip
    return RedirectResponse(at("job", here.name, "work"), 303)


def paper(request: Request) -> Response:
    """Return one paper; a PDF or a picture opens, everything else is saved.

    Raises:
        NotListedError: there is no such paper.
    """
    name = request.path_params["name"]
    path = papers_of(job_at(request).folder).get(name)
    if path is None:
        raise NotListedError("There is no such paper. Make the papers again.")
    shown = path.suffix in {".pdf", ".png"}
    return FileResponse(
        path, media_type=PAPER_KINDS[path.suffix], filename=name,
        content_disposition_type="inline" if shown else "attachment",
    )  # fmt: skip
