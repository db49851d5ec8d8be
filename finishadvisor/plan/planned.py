"""One floor planned, with everything that its steps, times and reasons are told from."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from finishadvisor.catalog.models import Finish
from finishadvisor.plan.readiness import Ready
from finishadvisor.plan.search import FloorPlan
from finishadvisor.plan.slab import FloorAir, Site
from finishadvisor.records.works import Begun, FloorWorks


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
    begun: Mapping[str, Begun] = field(default_factory=dict)
    """By task id: what is left of what is done in part."""
