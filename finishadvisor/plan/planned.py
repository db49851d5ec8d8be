"""One floor planned, with everything that its steps, times and reasons are told from."""

from dataclasses import dataclass

from finishadvisor.catalog.models import Finish
from finishadvisor.plan.readiness import Ready
from finishadvisor.plan.search import FloorPlan
from finishadvisor.plan.slab import FloorAir, Site
from finishadvisor.records.works import FloorWorks


@dataclass(frozen=True)
class PlannedFloor:
    """One floor with everything that its steps are told from."""

    site: Site
    works: FloorWorks
    finish: Finish
    air: FloorAir
    ready: Ready
    plan: FloorPlan
    recorded: tuple[str, ...] = ()
    """Titles of what the job records as done."""
