"""The works of one floor as a chain for the calendar: what follows what, how long it takes, what it waits for."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import Material, WorkItem
from finishadvisor.plan.clock import SLOTS_PER_HOUR
from finishadvisor.plan.phases import AFTER, CUT
from finishadvisor.plan.setting import Event, Setting
from finishadvisor.plan.slab import FloorAir
from finishadvisor.plan.windows import Conditions, conditions_for
from finishadvisor.records.works import FloorWorks, Task
from finishadvisor.works.added import added_task
from finishadvisor.works.limits import limit

SCREENING: Final = "screen-between-coats"
COVERING: Final = "protect-after"
"""Closes the finished floor off. Its cover may have to stay rolled up until long after the handover."""


@dataclass(frozen=True)
class Sharing:
    """How a task is shared out: in pieces no smaller, in one go up to how long."""

    least_hours_a_worker: float
    most_unbroken_h: float


@dataclass(frozen=True)
class Link:
    """One task of the chain.

    `stirred_in` goes into the mix of the coat, `thrown_in` are broadcasts done with it. `waits` hold up all later
    tasks, or, for tests, all but other tests.
    """

    task: Task
    item: WorkItem
    coat: Material | None
    """The material whose data sheet rules the times after this task; None for a task that lays no coat."""
    stirred_in: tuple[Task, ...] = ()
    thrown_in: tuple[Task, ...] = ()
    not_before_slot: int = 0
    not_before_why: str = ""
    conditions: Conditions = field(repr=False, default=None)  # type: ignore[assignment]
    setting: Setting | None = field(repr=False, default=None)
    sharing: Sharing = field(repr=False, default=None)  # type: ignore[assignment]
    laid: tuple[int, int] | None = None
    """For the first of a chain: the coat is down already, and these slots hold its laying."""
    begun: bool = False
    """Part of it is done already; the task is what is left."""
    first_laid: int | None = None
    """For a coat that is begun: when the first of it was laid that the next one does not cover yet."""
    screened: bool = False
    """For a coat that is down: it was screened since, so that the end of its recoat window no longer binds."""
    inserted: bool = False
    """True: the plan had to add it; it is not part of the works."""

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """Everything that is done with it, in the order of the works."""
        return (*self.stirred_in, self.task, *self.thrown_in)

    @cached_property
    def hours(self) -> float:
        """Crew-hours, with what is stirred in and thrown in."""
        return sum(task.crew_hours.expected for task in self.tasks)

    @property
    def wait_slots(self) -> int:
        """Slots that must pass after the task; a coat waits by its data sheet instead."""
        wait = self.item.wait_hours
        return 0 if wait is None or self.coat is not None else math.ceil(wait.expected * SLOTS_PER_HOUR)

    def crew(self, available: int) -> int:
        """Return how many of the crew work on it."""
        return max(1, min(available, math.floor(self.hours / self.sharing.least_hours_a_worker)))

    def slots(self, available: int) -> int:
        """Return how many slots it takes a crew."""
        return max(1, math.ceil(self.hours / self.crew(available) * SLOTS_PER_HOUR - 1e-9))

    def unbroken(self, available: int) -> bool:
        """Return whether it must be done in one go: a coat always, other work where it is short."""
        return self.coat is not None or self.slots(available) <= self.sharing.most_unbroken_h * SLOTS_PER_HOUR

    @property
    def ends_window(self) -> bool:
        """Return whether it dulls the coat below, so that the end of its recoat window no longer binds."""
        return self.item.id == SCREENING or self.item.phase == CUT


def make_chain(works: FloorWorks, air: FloorAir, catalog: Catalog) -> tuple[Link, ...]:
    """Return the certain tasks of a floor in order, joined to their coat where they are stirred or thrown into one.

    Args:
        works: the tasks in order.
        air: the conditions over the floor.
        catalog: work items, materials and limits.
    """
    links: list[Link] = []
    for task in works.tasks:
        if not task.certain:
            continue
        item = catalog.work_items[task.work_item]
        coat = _coat(task, catalog)
        if coat is None and task.coat is not None and links and links[-1].coat is not None:
            links[-1] = replace(links[-1], thrown_in=(*links[-1].thrown_in, task))
            continue
        links.append(Link(task, item, coat))
    return with_conditions(_stirred(links), air, catalog)


def _stirred(links: Sequence[Link]) -> list[Link]:
    """Return the links with what is stirred in joined to the coat that follows; where none does, it stands alone."""
    joined: list[Link] = []
    coat: int | None = None
    for link in reversed(links):
        if link.item.stirred_in and coat is not None:
            joined[coat] = replace(joined[coat], stirred_in=(link.task, *joined[coat].stirred_in))
            continue
        if link.coat is not None and link.task.coat is not None:
            coat = len(joined)
        joined.append(link)
    return joined[::-1]


def _coat(task: Task, catalog: Catalog) -> Material | None:
    """Return the first material of a task that sets by a data sheet."""
    return next((m for use in task.materials if (m := catalog.materials[use.material]).cure), None)


def with_conditions(links: Sequence[Link], air: FloorAir, catalog: Catalog) -> tuple[Link, ...]:
    """Return the links with what each asks of the air and how each coat sets; equal ones share their look-up tables."""
    known: dict[tuple[str | None, bool], Conditions] = {}
    settings: dict[str, Setting] = {}
    sharing = Sharing(limit(catalog, "share-out-hours"), limit(catalog, "unbroken-hours"))
    made = []
    coated = False
    for link in links:
        key = (link.coat.id if link.coat else None, link.coat is not None and not coated)
        if key not in known:
            known[key] = conditions_for(link.coat, air, catalog, on_bare_slab=key[1])
        if link.coat is not None and link.coat.id not in settings:
            settings[link.coat.id] = Setting(link.coat, air.slab_f)
        setting = settings[link.coat.id] if link.coat else None
        made.append(replace(link, conditions=known[key], setting=setting, sharing=sharing))
        coated = coated or link.coat is not None
    return tuple(made)


def event_before(link: Link) -> Event:
    """Return which time of the coat below must be over before a task: recoat minimum, or foot traffic."""
    return "foot_h" if link.item.phase >= AFTER or link.inserted else "recoat_min_h"


def bound_coats(links: Sequence[Link]) -> tuple[tuple[int, int], ...]:
    """Return pairs of coats, by place in the chain, where the lower one's recoat window ends by its data sheet."""
    pairs = []
    below: int | None = None
    for number, link in enumerate(links):
        if link.coat is not None:
            if below is not None:
                pairs.append((below, number))
            below = number if link.setting and link.setting.gives("recoat_max_h") and not link.screened else None
        elif link.ends_window:
            below = None
    return tuple(pairs)


def screening_link(before: Link, works: FloorWorks, catalog: Catalog) -> Link:
    """Return a screening to go in front of a coat whose recoat window cannot be kept."""
    why = "The recoat window of the coat below cannot be kept"
    task = added_task(SCREENING, works, why, catalog, before=before.task.id)
    return Link(task, catalog.work_items[SCREENING], None, inserted=True)
