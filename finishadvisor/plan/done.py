"""Where a floor stands: what the job records as done is left out, and the plan goes on from there."""

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from finishadvisor.job.document import Done, Floor
from finishadvisor.plan.chain import SCREENING, Link
from finishadvisor.plan.clock import SLOTS_PER_HOUR, Clock
from finishadvisor.plan.phases import FIND_OUT
from finishadvisor.plan.readiness import JOINT_FILLING, RH_TEST, Ready
from finishadvisor.plan.slab import Site


@dataclass(frozen=True)
class Standing:
    """What is left of a chain, led by the last coat where one is down, and what is done."""

    links: tuple[Link, ...]
    recorded: tuple[str, ...]
    """Titles of what the job records."""
    done: tuple[str, ...]
    """Ids of these tasks, of those under a coat that is down, and of what was stirred or thrown into a coat."""
    rh_test_pending: bool
    """Slab RH is being tested: its holes are drilled, and no reading has been written down since."""


def from_where_it_stands(links: Sequence[Link], site: Site, finish: str, ready: Ready, crew: int) -> Standing:
    """Return what is left of a chain.

    Done is what the job says: a finished task, a coat whose use is recorded, a mock-up signed, a photo taken. Under a
    coat that is down everything is done. A record without an hour may mean any time of that workday, so the wait after
    it, or the coat's recoat minimum, is counted from the end of the workday, and the coat's maximum from its beginning.

    Args:
        links: the chain of the floor.
        site: the floor with its records, on the plan's clock; its first day is today.
        finish: id of the finish, for its mock-up.
        ready: from when on the floor is ready; a slab too young for joint filler had its joints left open.
        crew: workers, for how long a coat took whose end is recorded.
    """
    ended = [_ended(link, site, finish) for link in links]
    last = max((n for n, link in enumerate(links) if link.coat is not None and ended[n] is not None), default=None)
    left = [n for n, end in enumerate(ended) if end is None and (last is None or n > last)]
    left += [n for n in range(last or 0) if _joints_left_open(links[n], ended[n], ended[last or 0], ready)]
    waits = _waits(links, ended, site)
    lead = [] if last is None else [_lead(links[last], ended[last], site, crew)]
    return Standing(
        links=(*lead, *(_waited(links[n], n, waits) for n in left)),
        recorded=tuple(link.task.title for link, end in zip(links, ended, strict=True) if end is not None),
        done=tuple(task.id for n, link in enumerate(links) if n not in left for task in link.tasks),
        rh_test_pending=_rh_test_pending(site) is not None,
    )


# --- what the job says -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _End:
    """The day on which a task ended, and the hour where it is known."""

    day: datetime.date
    time: datetime.time | None = None


def _ended(link: Link, site: Site, finish: str) -> _End | None:
    """Return when a task ended by what the job records up to today, None where it is still to come."""
    floor, today = site.floor, site.clock.first_day
    recorded = _recorded(link.task.id, floor, today)
    if recorded is not None:
        return _End(recorded.date, recorded.time)
    if link.coat is not None:
        laid = _day_laid(link, floor, today)
        return _End(laid) if laid else None
    if link.item.id == "mock-up":
        signed = [made.date or today for made in floor.mock_ups if made.finish == finish and made.signed_by]
        return _End(min(signed)) if signed and min(signed) <= today else None
    shown = {"photograph-slab": "slab", "photograph-after-preparation": "after-preparation"}.get(link.item.id)
    taken = [photo.taken.date() if photo.taken else today for photo in floor.photos if photo.shows == shown]
    return _End(min(taken)) if taken and min(taken) <= today else None


def _recorded(task: str, floor: Floor, today: datetime.date) -> Done | None:
    found = [done for done in floor.done if done.task == task and done.date <= today]
    return max(found, key=lambda done: done.date, default=None)


def _day_laid(link: Link, floor: Floor, today: datetime.date) -> datetime.date | None:
    """Return the day on which a coat was laid by the amounts used, None where it is still to come."""
    task = link.task
    if task.layer is None or task.coat is None:
        return None
    coats = 0
    for used in sorted(floor.used, key=lambda used: used.date):
        if used.layer == task.layer and used.date <= today:
            coats += used.coats
            if coats >= task.coat:
                return used.date
    return None


def _rh_test_pending(site: Site) -> Done | None:
    """Return the drilling of the holes that wait to be read, None where they are read or there are none."""
    floor, today = site.floor, site.clock.first_day
    drilled = _recorded(RH_TEST, floor, today)
    read = [reading.date for reading in floor.readings if reading.kind == "slab-rh" and reading.date <= today]
    return drilled if drilled is not None and (not read or max(read) < drilled.date) else None


def _joints_left_open(link: Link, ended: _End | None, laid: _End | None, ready: Ready) -> bool:
    """Return whether joints under a coat were not filled because the slab was too young for it."""
    day = ready.joints_not_before
    return link.item.id == JOINT_FILLING and ended is None and laid is not None and day is not None and laid.day < day


def _was_screened(laid: _End, floor: Floor, today: datetime.date) -> bool:
    """Return whether a coat has been screened since it was laid."""
    return any(done.task.startswith(SCREENING) and laid.day <= done.date <= today for done in floor.done)


# --- in slots of the plan --------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Wait:
    """What is left behind a task that is done waits until then."""

    after: int
    """Place of the task in the chain, -1 where it is not in it."""
    until: int
    why: str
    of_test: bool


def _end_slot(end: _End, clock: Clock) -> int:
    finish = clock.workday_of(end.day)[1]
    moment = datetime.datetime.combine(end.day, end.time, clock.zone) if end.time else finish
    return math.ceil(clock.slot_of(moment))


def _lead(link: Link, ended: _End | None, site: Site, crew: int) -> Link:
    """Return the last coat that is down with the slots that hold its laying: by its recorded end, or the workday."""
    clock = site.clock
    end = ended or _End(clock.first_day)
    begin = math.floor(clock.slot_of(clock.workday_of(end.day)[0]))
    stop = _end_slot(end, clock)
    if end.time is not None:
        begin = stop - link.slots(crew)
    screened = _was_screened(end, site.floor, clock.first_day)
    return replace(link, laid=(min(begin, stop - 1), stop), screened=screened)


def _waits(links: Sequence[Link], ended: Sequence[_End | None], site: Site) -> list[_Wait]:
    """Return the waits after everything that is done, drying and the like; coats wait by their data sheets."""
    waits = []
    for number, (link, end) in enumerate(zip(links, ended, strict=True)):
        if end is not None and link.wait_slots:
            until = _end_slot(end, site.clock) + link.wait_slots
            hours = link.wait_slots / SLOTS_PER_HOUR
            why = f'"{link.task.title}" was done on {end.day.isoformat()}, and {hours:g} h must pass after it'
            waits.append(_Wait(number, until, why, of_test=link.item.phase <= FIND_OUT))
    drilled = _rh_test_pending(site)
    item = site.catalog.work_items[RH_TEST]
    if drilled is not None and item.wait_hours is not None:
        hours = item.wait_hours.expected
        until = _end_slot(_End(drilled.date, drilled.time), site.clock) + math.ceil(hours * SLOTS_PER_HOUR)
        why = f"the holes drilled on {drilled.date.isoformat()} are read after {hours:g} h; write the readings down"
        waits.append(_Wait(-1, until, why, of_test=True))
    return waits


def _waited(link: Link, number: int, waits: Sequence[_Wait]) -> Link:
    """Return a task that is left, not before the waits of what is done in front of it are over."""
    is_test = link.item.phase <= FIND_OUT and not link.item.hold_point
    binding = [wait for wait in waits if wait.after < number and not (wait.of_test and is_test)]
    last = max(binding, key=lambda wait: wait.until, default=None)
    if last is None or last.until <= max(0, link.not_before_slot):
        return link
    return replace(link, not_before_slot=last.until, not_before_why=last.why)
