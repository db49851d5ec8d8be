"""A job opened for one look at it."""

import datetime
from dataclasses import dataclass
from pathlib import Path

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Catalog
from finishadvisor.errors import JobError, nearest_of
from finishadvisor.job.document import Floor, Job
from finishadvisor.job.folder import OpenJob, open_job


@dataclass(frozen=True)
class Opened:
    """A job opened for one look at it: the folder, the job, the catalog as this job sees it, and the day."""

    folder: Path
    job: Job
    catalog: Catalog
    on: datetime.date

    def floor_named(self, name: str | None) -> tuple[Floor, ...]:
        """Return the floor of that name, or every floor where no name is given.

        Raises:
            JobError: the job has no floor of that name.
        """
        if name is None:
            return self.job.floors
        found = tuple(floor for floor in self.job.floors if floor.name == name)
        if not found:
            names = [floor.name for floor in self.job.floors]
            listed = ", ".join(f'"{known}"' for known in names)
            raise JobError(f'There is no floor "{name}" in this job; it has {listed}.{nearest_of(name, names)}')
        return found


def open_for(path: Path, on: datetime.date) -> Opened:
    """Open a job folder and read the catalog with the user's own rows laid over it."""
    opened: OpenJob = open_job(path)
    return Opened(opened.folder, opened.job, load_catalog(opened.own_paths), on)
