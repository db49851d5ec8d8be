"""The papers of a job: made on demand, listed, handed out."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from starlette.requests import Request
from starlette.responses import FileResponse, RedirectResponse, Response

from finishadvisor.web.forms import Fields
from finishadvisor.web.jobs import PAPER_KINDS, NotListedError, papers_of
from finishadvisor.web.rendering import FEW_FLOORS, at, page
from finishadvisor.web.results import whole_job
from finishadvisor.web.site import JobAt, Site, job_at, site_of

if TYPE_CHECKING:
    from finishadvisor.papers.make import Paper

READERS: Final = {
    "client": "For the client",
    "crew": "For the crew",
    "supplier": "For the supplier",
    "contractor": "For you alone",
}


def papers_page(request: Request) -> Response:
    """List the papers of the job by who reads them, those that were made with a link."""
    site, here = site_of(request), job_at(request)
    made = papers_of(here.folder)
    listed = papers_that_can_be_made(site, here)
    readers = [(title, [paper for paper in listed if paper.reader == reader]) for reader, title in READERS.items()]
    known = {paper.name for paper in listed}
    newest = max((path.stat().st_mtime for path in made.values()), default=None)
    return page(
        request, "papers.html", here=here, own=READERS["contractor"], made=made,
        groups=[(title, by_floor(papers, here)) for title, papers in readers if papers],
        others=[name for name in made if name not in known],
        old=newest is not None and newest < (here.folder / "job.toml").stat().st_mtime,
    )  # fmt: skip


def by_floor(papers: "Sequence[Paper]", here: JobAt) -> "list[tuple[str, list[Paper]]]":
    """Return papers in one part where there are few floors, else each floor's under its name, the others first."""
    names = [floor.name for floor in here.job.floors] if len(here.job.floors) > FEW_FLOORS else []
    parts: dict[str, list[Paper]] = {"": [], **{name: [] for name in names}}
    for paper in papers:
        parts[next((name for name in names if paper.title.startswith(f"{name}: ")), "")].append(paper)
    return [(name, part) for name, part in parts.items() if part]


def papers_that_can_be_made(site: Site, here: JobAt) -> "Sequence[Paper]":
    """Return every file that can be made of the job as it is now; none is made."""
    from finishadvisor.papers.make import list_papers

    return list_papers(whole_job(site, here, with_order=True, with_plan=True))


def make(request: Request, fields: Fields) -> Response:
    """Start making every paper, and show the progress."""
    site, here = site_of(request), job_at(request)
    given = {"folder": str(here.folder), "on": site.on.isoformat(), "map_for_client": "map" in fields}
    site.works.begin(
        here.folder, "papers", given,
        f"Making the papers of {here.job.name}", at("job", here.name, "papers"),
        back=at("job", here.name, "papers"),
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
