"""Photos of a floor: letting them in, showing them without their private notes, measuring them."""

import hashlib
import re
import shutil
import tempfile
from pathlib import Path
from typing import Any, Final

from starlette.background import BackgroundTask
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import FileResponse, RedirectResponse, Response

from finishadvisor.errors import FinishAdvisorError
from finishadvisor.job.document import Photo
from finishadvisor.job.folder import PHOTOS
from finishadvisor.web.forms import Fields
from finishadvisor.web.jobs import find_photo, is_marked
from finishadvisor.web.rendering import at, page
from finishadvisor.web.site import JobAt, Site, job_at, site_of
from finishadvisor.web.work import run_child
from finishadvisor.whole_job.saved import kept

SOON_SECONDS: Final = 1.5
"""How long the answer to "measure" waits for the map before a page of progress is worth showing (our choice)."""

MEASURE_SECONDS: Final = 120
MEASURE_SECONDS_A_PHOTO: Final = 60
"""How long measuring may take: many times what the largest photo takes on a slow laptop (our choice)."""


def photos_page(request: Request, problems: tuple[str, ...] = ()) -> Response:
    """Show the photos of a floor, and let more in."""
    here = job_at(request)
    unmarked = [photo.file for photo in here.floor.photos if not is_marked(photo)]
    measured = kept(here.folder, here.floor) is not None
    answer = page(
        request, "photos.html", 400 if problems else 200, here, unmarked=unmarked, problems=problems, measured=measured
    )
    if here.floor.photos and not unmarked and not measured:
        answer.background = BackgroundTask(site_of(request).works.make_ready)  # once the page is sent
    return answer


def upload(request: Request, _fields: Fields, files: list[UploadFile]) -> Response:
    """Take photos in: each is opened in a child process first, and only a picture is kept."""
    site, here = site_of(request), job_at(request)
    problems = []
    named = [file for file in files if file.filename]
    for file in named:
        try:
            take_in(site, here, file)
        except FinishAdvisorError as error:
            problems.append(f"{(file.filename or 'A file')[:60]}: {error}")
    if not named:
        problems.append("No photo was chosen. Choose one or take one, then send it.")
    if problems:
        return photos_page(request, tuple(problems))
    return RedirectResponse(at("job", here.name, here.number, "photos") + "?saved", 303)


def take_in(site: Site, here: JobAt, file: UploadFile) -> None:
    """Store one photo under a name of our own making and list it on the floor.

    Raises:
        FinishAdvisorError: it is not a picture, or too large to open; nothing of it is kept.
    """
    from finishadvisor.job.edits import mark_photo

    place = here.folder / PHOTOS
    place.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(dir=site.cache) as folder:
        waiting = Path(folder) / "upload"
        with waiting.open("wb") as target:
            shutil.copyfileobj(file.file, target)
        with site.one_picture:
            found = run_child("look", {"photo": str(waiting), "preview": str(Path(folder) / "preview.jpg")})
        stored = store(waiting, place, stored_stem(file.filename or ""), found["ending"])
    try:
        mark_photo(here.folder, here.floor.name, Photo(file=stored.name))
    except FinishAdvisorError:
        stored.unlink(missing_ok=True)
        raise


def stored_stem(filename: str) -> str:
    """Return the stem that a photo is stored under: letters, digits and dashes of its name, nothing else."""
    stem = Path(filename.replace("\\", "/")).name.rsplit(".", 1)[0]
    plain = "-".join(re.findall(r"[A-Za-z0-9]+", stem))[:40].strip("-")
    return plain or "photo"


def store(waiting: Path, place: Path, stem: str, ending: str) -> Path:
    """Copy a photo into the photos folder under a name that is free; none is ever overwritten.

    Raises:
        FinishAdvisorError: ten thousand photos bear the name.
    """
    for number in range(1, 10_000):
        target = place / (f"{stem}{ending}" if number == 1 else f"{stem}-{number}{ending}")
        try:
            with target.open("xb") as opened, waiting.open("rb") as source:
                shutil.copyfileobj(source, opened)
        except FileExistsError:
            continue
        return target
    raise FinishAdvisorError(f'There are too many photos named "{stem}". Rename this one and send it again.')


def shown(request: Request) -> Response:
    """Return a photo as a browser may have it: upright, smaller, and without any note of the camera."""
    here = job_at(request)
    _, path = find_photo(here.folder, here.floor, request.path_params["photo"])
    return FileResponse(preview_of(site_of(request), path)[0], media_type="image/jpeg")


def preview_of(site: Site, photo: Path) -> tuple[Path, dict[str, Any]]:
    """Return the preview of a photo and the photo's upright size, made in a child process where it is not there yet."""
    stat = photo.stat()
    key = hashlib.sha256(f"{photo.resolve()}|{stat.st_size}|{stat.st_mtime_ns}".encode()).hexdigest()[:32]
    preview = site.cache / f"{key}.jpg"
    with site.one_picture:
        size = site.results.get(
            ("preview", key), lambda: run_child("look", {"photo": str(photo), "preview": str(preview)})
        )
    return preview, size


def measure(request: Request, _fields: Fields) -> Response:
    """Start measuring the photos of the floor; what is soon done leads straight to its map, else progress is shown."""
    site, here = site_of(request), job_at(request)
    work = site.works.begin(
        here.folder,
        "measure",
        {"folder": str(here.folder), "floor": here.floor.name, "on": site.on.isoformat()},
        f"Measuring the photos of {here.floor.name}",
        at("job", here.name, here.number, "evenness"),
        back=at("job", here.name, here.number, "photos"),
        seconds=MEASURE_SECONDS + MEASURE_SECONDS_A_PHOTO * len(here.floor.photos),
    )
    soon = site.works.ended(work, SOON_SECONDS)
    return RedirectResponse(work.then if soon else at("job", here.name, "work"), 303)
