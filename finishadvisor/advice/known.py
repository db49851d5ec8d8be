"""Everything that facts are derived from: the job, one floor, the photos measured, and the day."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Floor, Job
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.finding import FactValue


@dataclass(frozen=True)
class Known:
    """What is known of one floor on one day."""

    job: Job
    floor: Floor
    catalog: Catalog
    on: datetime.date
    evenness: FloorEvenness | None

    @property
    def answers(self) -> Mapping[str, FactValue]:
        """The plain answers of the floor, by fact id."""
        return self.floor.answers

    @property
    def poured_on(self) -> datetime.date | None:
        """The day of the pour where it has come; None while it lies ahead or is not known."""
        pour = self.floor.pour
        return pour.date if pour and pour.date <= self.on else None


class Derivation(Protocol):
    """Works one fact out of what is known; None leaves it to a plain answer."""

    def __call__(self, known: Known, /) -> FactValue | None:
        """Return the fact's value, None where it does not follow from what is known."""
