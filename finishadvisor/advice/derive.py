"""The one derive step: job, floor, readings, dates and photos in, every fact of the catalog out."""

import datetime
from collections.abc import Mapping
from typing import Final

from finishadvisor.advice.from_dates import FROM_DATES
from finishadvisor.advice.from_photos import FROM_PHOTOS
from finishadvisor.advice.from_readings import FROM_READINGS
from finishadvisor.advice.known import Derivation, Known
from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.job.document import Floor, Job
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.finding import FactValue
from finishadvisor.rules.facts import complete

PARTS: Final = frozenset({
    "pour",
    "outline",
    "loads",
    "readings",
    "last_wetting",
    "layers_down",
    "photos",
    "mock_ups",
    "job.voc_rules",
})
"""Parts of a job that facts are derived from; anything else in `derived_from` is a fact that this one follows from."""

DERIVED: Final[Mapping[str, Derivation]] = {**FROM_DATES, **FROM_READINGS, **FROM_PHOTOS}
"""By fact id: how it is worked out. What it gives stands before a plain answer, since it rests on dated records."""


def derive_facts(
    job: Job, floor: Floor, catalog: Catalog, on: datetime.date, evenness: FloorEvenness | None
) -> dict[str, FactValue | None]:
    """Return a value or None for every fact of the catalog.

    Dated records (readings, dates, layers, photos) come first, then plain answers, then what follows from both.

    Args:
        job: the job, for what holds on every floor.
        floor: the floor.
        catalog: facts and limits, as this job sees them.
        on: the day that ages are reckoned from; readings and wetting after it do not count.
        evenness: the measured photos of the floor, None where there are none.
    """
    known = Known(job, floor, catalog, on, evenness)
    values: dict[str, FactValue | None] = dict(floor.answers)
    for fact_id, derive in DERIVED.items():
        fact = catalog.facts.get(fact_id)
        value = derive(known) if fact is not None else None
        if fact is not None and value is not None:
            values[fact_id] = _within_scale(value, fact)
    return complete(values, catalog.facts)


def _within_scale(value: FactValue, fact: Fact) -> FactValue:
    """Return a number within the scale of its fact: a reading off the scale counts as its end."""
    if fact.type != "number" or isinstance(value, bool | str):
        return value
    least = fact.least if fact.least is not None else value
    most = fact.most if fact.most is not None else value
    return min(max(value, least), most)
