"""Which jobs, floors, photos and papers there are. A name from a request counts only when it was listed here."""

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from finishadvisor.errors import FinishAdvisorError, JobError
from finishadvisor.job.document import Floor, Job, Photo
from finishadvisor.job.folder import JOB_FILE, PAPERS, PHOTOS, open_job
from finishadvisor.whole_job.saved import kept

PAPER_KINDS: Final = {
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".csv": "text/csv; charset=utf-8",
    ".json": "application/json",
    ".ics": "text/calendar; charset=utf-8",
}
DECIDED: Final = "its order, schedule and papers"


class NotListedError(FinishAdvisorError):
    """A request named a job, floor, photo or paper that there is not."""


@dataclass(frozen=True)
class JobEntry:
    """A job of the list, and what it waits for."""

    name: str
    title: str
    floors: tuple[str, ...]
    waits_for: str
    """Or why it cannot be read."""
    mistaken: bool
    number: int | None = None
    """The floor that waits, from 1; None where the whole job does."""


def job_folders(root: Path) -> dict[str, Path]:
    """Return the job folders under a folder by name; the folder itself where it is a job."""
    if (root / JOB_FILE).is_file():
        return {root.resolve().name: root}
    if not root.is_dir():
        return {}
    inside = root.resolve()
    return {
        entry.name: entry
        for entry in sorted(root.iterdir(), key=lambda entry: entry.name.casefold())
        if not entry.name.startswith(".") and (entry / JOB_FILE).is_file() and entry.resolve().is_relative_to(inside)
    }


def find_job(root: Path, name: str) -> Path:
    """Return the folder of a listed job.

    Raises:
        NotListedError: there is no job of that name.
    """
    folder = job_folders(root).get(name)
    if folder is None:
        raise NotListedError("There is no such job here. Go back to the list of jobs.")
    return folder


def find_floor(job: Job, number: int) -> Floor:
    """Return a floor by its number in the job, from 1.

    Raises:
        NotListedError: the job has no such floor.
    """
    if not 1 <= number <= len(job.floors):
        raise NotListedError("The job has no such floor. Go back to the job.")
    return job.floors[number - 1]


def find_photo(folder: Path, floor: Floor, name: str) -> tuple[Photo, Path]:
    """Return a photo that the floor lists, and its file.

    Raises:
        NotListedError: the floor does not list it, or its file is gone or lies elsewhere.
    """
    photo = next((photo for photo in floor.photos if photo.file == name), None)
    path = folder / PHOTOS / name if photo else None
    if photo is None or path is None or not _is_inside(path, folder / PHOTOS):
        raise NotListedError("This floor has no such photo. Go back to its photos.")
    return photo, path


def papers_of(folder: Path) -> dict[str, Path]:
    """Return the papers of a job by name, only of the kinds that are made."""
    place = folder / PAPERS
    if not place.is_dir():
        return {}
    return {
        path.name: path
        for path in sorted(place.iterdir())
        if path.suffix in PAPER_KINDS and not path.name.startswith(".") and _is_inside(path, place)
    }


def _is_inside(path: Path, place: Path) -> bool:
    try:
        return path.is_file() and path.resolve().is_relative_to(place.resolve())
    except OSError:
        return False


def list_jobs(root: Path, on: datetime.date) -> list[JobEntry]:
    """Return every job with what it waits for on a day; one that cannot be read says why."""
    entries = []
    for name, folder in job_folders(root).items():
        try:
            job = open_job(folder).job
        except JobError as error:
            entries.append(JobEntry(name, name, (), str(error), mistaken=True))
            continue
        number, waits = waiting(folder, job, on)
        floors = tuple(floor.name for floor in job.floors)
        entries.append(JobEntry(name, job.name, floors, waits, mistaken=False, number=number))
    return entries


def waiting(folder: Path, job: Job, on: datetime.date) -> tuple[int | None, str]:
    """Return the first floor of a job that waits for something, from 1, and for what; None once all are decided."""
    waits = ((number, waits_for(folder, floor, on)) for number, floor in enumerate(job.floors, start=1))
    return next(((number, wait) for number, wait in waits if wait), (None, DECIDED))


def waits_for(folder: Path, floor: Floor, on: datetime.date) -> str | None:
    """Return the next thing that a floor waits for, None once its finish is decided and its photos are measured."""
    if not floor.answers:
        return "what it is used for"
    if floor.outline is None:
        return "its sides"
    unmarked = sum(not is_marked(photo) for photo in floor.photos)
    if unmarked:
        return f"the corners of {unmarked} photo{'s' if unmarked > 1 else ''}"
    if floor.photos and kept(folder, floor) is None:
        return "its photos to be measured"
    if not floor.photos and is_down(floor, on):
        return "photos of the slab"
    return None if floor.decision else "a decision on its finish"


def is_down(floor: Floor, on: datetime.date) -> bool:
    """Return whether the slab is poured."""
    return floor.pour is not None and floor.pour.date <= on


def is_marked(photo: Photo) -> bool:
    """Return whether a photo bears the marks that a measurement needs."""
    return photo.size is not None or len(photo.points) >= 4
