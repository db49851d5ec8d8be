"""Where a floor stands: coats whose use is recorded are down, and the plan goes on from the last of them."""

import datetime
import math
from collections.abc import Sequence
from dataclasses import replace

from finishadvisor.job.document import Floor
from finishadvisor.plan.chain import Link
from finishadvisor.plan.clock import Clock


def from_where_it_stands(links: Sequence[Link], floor: Floor, clock: Clock) -> tuple[Link, ...]:
    """Return what is left of a chain, led by the last coat that is down; the whole chain where none is.

    A record of what was used names a day, no hour. The coat may have been laid at any time of that workday, so its
    recoat minimum is counted from the end of the workday and its maximum from the beginning.

    Args:
        links: the chain of the floor.
        floor: the floor with what was used on it.
        clock: the plan's clock; its first day is today.
    """
    last = next((n for n in range(len(links) - 1, -1, -1) if _day_laid(links[n], floor, clock.first_day)), None)
    if last is None:
        return tuple(links)
    day = _day_laid(links[last], floor, clock.first_day) or clock.first_day
    begin = clock.slot_of(datetime.datetime.combine(day, clock.workday.start, clock.zone))
    end = clock.slot_of(datetime.datetime.combine(day, clock.workday.end, clock.zone))
    return replace(links[last], laid=(math.floor(begin), math.ceil(end))), *links[last + 1 :]


def _day_laid(link: Link, floor: Floor, today: datetime.date) -> datetime.date | None:
    """Return the day on which a coat was laid by the record, None where it is still to come."""
    task = link.task
    if link.coat is None or task.layer is None or task.coat is None:
        return None
    coats = 0
    for used in sorted(floor.used, key=lambda used: used.date):
        if used.layer == task.layer and used.date <= today:
            coats += used.coats
            if coats >= task.coat:
                return used.date
    return None
