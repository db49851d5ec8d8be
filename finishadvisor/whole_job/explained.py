"""A measured floor with the likely causes of its unevenness; no finish is judged for them."""

from finishadvisor.advice.causes import with_causes
from finishadvisor.advice.derive import derive_facts
from finishadvisor.job.document import Floor
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.whole_job.opened import Opened


def explained(opened: Opened, floor: Floor, evenness: FloorEvenness) -> FloorEvenness:
    """Return the measured photos of a floor with their likely causes, and the advice that follows.

    Raises:
        EntryError: the floor's outline cannot be used.
    """
    facts = derive_facts(opened.job, floor, opened.catalog, opened.on, evenness)
    return with_causes(evenness, facts, opened.catalog, floor)
