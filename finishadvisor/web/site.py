"""What all handlers share: where the jobs lie, the day, who is let in, work that is running."""

import datetime
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import Any, Final, cast

from starlette.requests import Request

from finishadvisor.job.document import Floor, Job
from finishadvisor.job.folder import JOB_FILE, job_version, open_job
from finishadvisor.web.guard import Door, paired_secret
from finishadvisor.web.jobs import find_floor, find_job
from finishadvisor.web.pairing import FormTokens
from finishadvisor.web.work import Works

REMEMBERED: Final = 24
FORMS_REMEMBERED: Final = 200


class Remembered:
    """The last few results, by everything that they follow from."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._results: OrderedDict[Any, Any] = OrderedDict()

    def get(self, key: Any, make: Callable[[], Any]) -> Any:
        """Return the result under a key, made now where it is not there."""
        with self._lock:
            if key in self._results:
                self._results.move_to_end(key)
                return self._results[key]
        result = make()
        with self._lock:
            self._results[key] = result
            while len(self._results) > REMEMBERED:
                self._results.popitem(last=False)
        return result


class Answered:
    """Answers to the last forms that were carried out."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._entries: OrderedDict[Any, tuple[Lock, list[Any]]] = OrderedDict()

    def run(self, key: Any, do: Callable[[], Any], went_well: Callable[[Any], bool]) -> Any:
        """Return the answer under a key; carried out now where nobody did, waited for where another thread is at it."""
        with self._lock:
            at_it, kept = self._entries.setdefault(key, (Lock(), []))
            self._entries.move_to_end(key)
            while len(self._entries) > FORMS_REMEMBERED:
                self._entries.popitem(last=False)
        with at_it:
            if kept:
                return kept[0]
            answer = do()
            if went_well(answer):
                kept.append(answer)
            return answer


@dataclass(frozen=True)
class Site:
    """One running page."""

    root: Path
    fixed_day: datetime.date | None
    door: Door
    cache: Path
    """A folder for pictures made for the browser; thrown away when the program stops."""
    works: Works = field(default_factory=Works)
    tokens: FormTokens = field(default_factory=FormTokens)
    results: Remembered = field(default_factory=Remembered)
    answered: Answered = field(default_factory=Answered)
    """Answers to forms that were carried out, so that one sent twice is carried out once."""
    one_picture: Lock = field(default_factory=Lock)
    """Held while a child process opens a picture: one at a time, so that many cannot fill the memory."""
    one_proposal: Lock = field(default_factory=Lock)
    """Held while a child process looks for marks; a lock of its own, so that no page waits for it."""

    @property
    def on(self) -> datetime.date:
        """The day that ages are reckoned from."""
        return self.fixed_day or datetime.datetime.now().astimezone().date()


@dataclass(frozen=True)
class JobAt:
    """The job that a request's address names. `floor` is None on pages of the whole job."""

    name: str
    folder: Path
    job: Job
    version: str
    number: int | None
    _floor: Floor | None

    @property
    def floor(self) -> Floor:
        """The floor that the address names."""
        assert self._floor is not None, "the address names no floor"
        return self._floor


def site_of(request: Request) -> Site:
    """Return what the handlers share."""
    return cast(Site, request.app.state.site)


def device_of(request: Request) -> str:
    """Return what tells this device from others: its cookie's secret, or "" on this machine."""
    return paired_secret(request.headers) or ""


def job_at(request: Request) -> JobAt:
    """Return the job, and the floor where the address names one.

    Raises:
        NotListedError: there is no such job or floor.
        JobError: the job cannot be read.
    """
    name = request.path_params["job"]
    folder = find_job(site_of(request).root, name)
    version = job_version(folder)
    job = open_job(folder).job
    number = request.path_params.get("number")
    return JobAt(name, folder, job, version, number, find_floor(job, number) if number is not None else None)


def state_of(folder: Path) -> tuple[Any, ...]:
    """Return what tells whether anything that results follow from has changed: names, sizes and times of files."""
    places = [folder / JOB_FILE, *folder.glob("*.csv"), *folder.glob("*.json"), *folder.glob("*.toml")]
    places += [*(folder / "measured").glob("*.json"), *(folder / "photos").glob("*")]
    return tuple((str(path), stat.st_size, stat.st_mtime_ns) for path in places if (stat := path.stat()))
