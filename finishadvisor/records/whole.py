"""A whole job worked through: what papers, page and command line render."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Floor, Job
from finishadvisor.records.advice import Advice, FloorAdvice
from finishadvisor.records.base import Money
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.finding import FactValue
from finishadvisor.records.order import Order
from finishadvisor.records.plan import Plan
from finishadvisor.records.shade import Measurement
from finishadvisor.records.works import FloorWorks


@dataclass(frozen=True)
class FloorOutcome:
    """Everything found out and worked out for one floor."""

    floor: Floor
    facts: Mapping[str, FactValue | None]
    measurements: tuple[Measurement, ...]
    evenness: FloorEvenness | None
    advice: FloorAdvice
    finish: str | None
    """The finish that works, plan and order are made for; None where none fits."""
    chosen_because: str
    """"decided by ... on ...", or "the top of the ranking"."""
    works: FloorWorks | None
    selling_prices: Mapping[str, Money | None]
    """By finish id; what a client's paper may show. `first_cost` in the advice is the contractor's own cost."""
    life_prices: Mapping[str, Money | None]
    """By finish id, over the job's years of analysis, at selling prices."""


@dataclass(frozen=True)
class WholeJob:
    """The job, the catalog as this job sees it, and every result, as of the day `on`."""

    folder: Path
    job: Job
    catalog: Catalog
    on: date
    floors: tuple[FloorOutcome, ...]
    advice: Advice
    order: Order | None
    plan: Plan | None
    order_warnings: tuple[str, ...] = ()
    """What to mind with the order, a sentence each: what the plan added, materials that will be too old for it."""
