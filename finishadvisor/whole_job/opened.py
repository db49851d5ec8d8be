"""A job opened for one look at it."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Floor, Job
from finishadvisor.job.folder import open_job
from finishadvisor.whole_job.named import same_name
from finishadvisor.works.check_parts import check_parts


@dataclass(frozen=True)
class Opened:
    """The folder, the job, the catalog as this job sees it, and the day that ages are reckoned from."""

    folder: Path
    job: Job
    catalog: Catalog
    on: datetime.date

    def floors_named(self, name: str | None) -> tuple[Floor, ...]:
        """Return the floor of that name, or every floor where no name is given.

        Raises:
            JobError: the job has no floor of that name.
        """
        if name is None:
            return self.job.floors
        found = same_name(name, (floor.name for floor in self.job.floors))
        return tuple(floor for floor in self.job.floors if floor.name == found)


def open_for(path: Path, on: datetime.date, *, looking_closely: bool = False) -> Opened:
    """Open a job folder, read the catalog with the user's own rows laid over it, and check the one against the other.

    Args:
        path: the job folder, or its job.toml.
        on: the day that ages are reckoned from.
        looking_closely: whether the shipped rows are looked through too where no row of the user's own lies over them.

    Raises:
        FinishAdvisorError: the job, or a file of the user's own rows, cannot be used.
    """
    from finishadvisor.catalog.load import check_shipped, load_catalog
    from finishadvisor.job.catalog_check import check_against_catalog
    from finishadvisor.rules.check import check_conditions

    opened = open_job(path)
    catalog = load_catalog(opened.own_paths)
    if looking_closely:
        check_shipped()
    if looking_closely or opened.own_paths:
        check_conditions(catalog)
    check_against_catalog(opened.job, catalog)
    for floor in opened.job.floors:
        check_parts(floor, catalog, opened.job.units)
    return Opened(opened.folder, opened.job, catalog, on)


def floor_areas_ft2(job: Job, catalog: Catalog) -> Mapping[str, float | None]:
    """Return the area of each floor as it is worked, steps and cove with it; None where it has no outline yet."""
    from finishadvisor.works.takeoff import take_off

    return {floor.name: take_off(floor, catalog).area_ft2 if floor.outline else None for floor in job.floors}
