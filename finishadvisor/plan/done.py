"""Where a floor stands: what the job records as done is left out, and the plan goes on from there."""

import datetime
import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from finishadvisor.job.document import Done, Floor
from finishadvisor.plan.chain import SCREENING, Link
from finishadvisor.plan.clock import SLOTS_PER_HOUR, Clock
from finishadvisor.plan.phases import FIND_OUT
from finishadvisor.plan.readiness import JOINT_FILLING, RH_TEST, Ready, rh_tests_on
from finishadvisor.plan.slab import Site
from finishadvisor.records.works import Begun, FloorWorks, Task
from finishadvisor.works.parts import Piece, Progress, begun, progress_of, rest_of


@dataclass(frozen=True)
class Standing:
    """What is left of a chain, led by the last coat where one is down, and what is done."""

    links: tuple[Link, ...]
    recorded: tuple[str, ...]
    """Titles of what the job records."""
    done: tuple[str, ...]
    """Ids of these tasks, of those under a coat that is down, and of what was stirred or thrown into a coat."""
    begun: dict[str, Begun]
    """By task id: what is left of what is done in part."""
    rh_test_pending: bool
    """Slab RH is being tested: its holes are drilled, and no reading has been written down since."""


def from_where_it_stands(works: FloorWorks, links: Sequence[Link], site: Site, ready: Ready, crew: int) -> Standing:
    """Return what is left of a chain.

    Done is what the job says: a finished task, a coat whose use is recorded, a mock-up signed, a photo taken. Under a
    coat that is down everything is done, and under one that is begun all but what is recorded in part: nobody grinds
    beside a wet coat. A record without an hour may mean
    any time of that workday, so the wait after it, or the coat's recoat minimum, is counted from the end of the
    workday, and the coat's maximum from its beginning. A coat laid in parts waits for its last part, and its maximum
    counts from the first part that is not covered yet.

    Args:
        works: the works that the chain was made of.
        links: the chain of the floor.
        site: the floor with its records, on the plan's clock; its first day is today.
        ready: from when on the floor is ready; a slab too young for joint filler had its joints left open.
        crew: workers, for how long a coat took whose end is recorded.
    """
    progress = progress_of(works, site.floor, site.clock.first_day, site.catalog)
    ended = [_ended(link, site, works.finish, progress) for link in links]
    last = max((n for n, link in enumerate(links) if link.coat is not None and ended[n] is not None), default=None)
    left = _left(links, ended, progress, ready)
    upper = max((n for n, link in enumerate(links) if link.coat is not None and link.task.id in progress), default=-1)
    waits = [wait for wait in _waits(links, ended, site) if wait.after >= upper]
    covered, now = _covered(links, left, progress), _worked_until(progress, site.clock)
    rest = {n: _rest(links[n], progress, covered[n], site, crew) for n in left}
    lead = [] if last is None else [_lead(links[last], ended[last], progress, covered[last], site, crew)]
    return Standing(
        links=(*lead, *(_not_before(_waited(rest[n], n, waits), now) for n in left)),
        recorded=tuple(link.task.title for link, end in zip(links, ended, strict=True) if end is not None),
        done=tuple(task.id for n, link in enumerate(links) if n not in left for task in link.tasks),
        begun={
            task.id: begun(task, said, works, site.catalog)
            for n in left
            if (said := progress.get(links[n].task.id)) is not None and not said.finished
            for task in links[n].tasks
        },
        rh_test_pending=_rh_test_pending(site) is not None,
    )


# --- what the job says -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _End:
    """The day on which a task ended, and the hour where it is known."""

    day: datetime.date
    time: datetime.time | None = None


def _ended(link: Link, site: Site, finish: str, progress: Mapping[str, Progress]) -> _End | None:
    """Return when a task ended by what the job records up to today, None where it is still to come."""
    floor, today = site.floor, site.clock.first_day
    recorded = progress.get(link.task.id)
    if recorded is not None and recorded.finished:
        return _End(recorded.pieces[-1].day, recorded.pieces[-1].time)
    if link.item.id == "mock-up":
        signed = [made.date or today for made in floor.mock_ups if made.finish == finish and made.signed_by]
        return _End(min(signed)) if signed and min(signed) <= today else None
    shown = {"photograph-slab": "slab", "photograph-after-preparation": "after-preparation"}.get(link.item.id)
    taken = [photo.taken.date() if photo.taken else today for photo in floor.photos if photo.shows == shown]
    return _End(min(taken)) if taken and min(taken) <= today else None


def _covered(
    links: Sequence[Link], left: Collection[int], progress: Mapping[str, Progress]
) -> Mapping[int, frozenset[str]]:
    """Return, by place in the chain, the zones that the next coat covers already."""
    zones: dict[int, frozenset[str]] = {}
    above: frozenset[str] = frozenset()
    for number in range(len(links) - 1, -1, -1):
        zones[number] = above
        if links[number].coat is not None:
            said = progress.get(links[number].task.id)
            above = said.zones if said is not None and number in left else frozenset()
    return zones


def _rh_test_pending(site: Site) -> Done | None:
    """Return the drilling of the holes that wait to be read, None where they are read or there are none."""
    floor, today = site.floor, site.clock.first_day
    drilled = max(rh_tests_on(site), key=lambda done: done.date, default=None)
    read = [reading.date for reading in floor.readings if reading.kind == "slab-rh" and reading.date <= today]
    return drilled if drilled is not None and (not read or max(read) < drilled.date) else None


def _left(
    links: Sequence[Link], ended: Sequence[_End | None], progress: Mapping[str, Progress], ready: Ready
) -> list[int]:
    """Return the places of what is still to be done, joints that were left open under a coat behind the rest."""
    down = [n for n, link in enumerate(links) if link.coat is not None and ended[n] is not None]
    begun = [n for n, link in enumerate(links) if ended[n] is None and link.task.id in progress]
    coats = [n for n in begun if links[n].coat is not None]
    last, under = max(down, default=-1), max(coats, default=-1)
    left = [n for n, end in enumerate(ended) if end is None and n > last and (n >= under or n in begun)]
    laid = [progress[links[n].task.id].pieces[0].day for n in coats]
    laid += [end.day for n in down if (end := ended[n]) is not None]
    open_joints = [n for n in range(max(last, under)) if n not in left and ended[n] is None]
    return [*left, *(n for n in open_joints if _joints_left_open(links[n], min(laid), ready))]


def _joints_left_open(link: Link, laid: datetime.date, ready: Ready) -> bool:
    """Return whether joints under a coat were not filled because the slab was too young for it."""
    day = ready.joints_not_before
    return link.item.id == JOINT_FILLING and day is not None and laid < day


def _was_screened(laid: _End, floor: Floor, today: datetime.date) -> bool:
    """Return whether a coat has been screened since it was laid."""
    return any(done.task.startswith(SCREENING) and laid.day <= done.date <= today for done in floor.done)


# --- in slots of the plan --------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Wait:
    """What is left behind a task that is done waits until then, unless a coat lies on it already."""

    after: int
    """Place of the task in the chain, -1 where it is not in it."""
    until: int
    why: str
    of_test: bool


def _end_slot(end: _End, clock: Clock) -> int:
    finish = clock.workday_of(end.day)[1]
    moment = datetime.datetime.combine(end.day, end.time, clock.zone) if end.time else finish
    return math.ceil(clock.slot_of(moment))


def _begin_slot(link: Link, piece: Piece, clock: Clock, crew: int) -> int:
    """Return when a recorded part of a coat was begun: by its end, or with the workday."""
    if piece.time is None:
        return math.floor(clock.slot_of(clock.workday_of(piece.day)[0]))
    return _end_slot(_End(piece.day, piece.time), clock) - math.ceil(link.slots(crew) * piece.share)


def _first_slot(
    link: Link, progress: Mapping[str, Progress], covered: frozenset[str], clock: Clock, crew: int
) -> int | None:
    """Return when the first of a coat was laid that lies open still, None where no record tells."""
    said = progress.get(link.task.id)
    pieces = [piece for piece in said.pieces if not piece.zones or piece.zones - covered] if said else []
    return min((_begin_slot(link, piece, clock, crew) for piece in pieces), default=None)


def _lead(  # noqa: PLR0917
    link: Link, ended: _End | None, progress: Mapping[str, Progress], covered: frozenset[str], site: Site, crew: int
) -> Link:
    """Return the last coat that is down with the slots that hold its laying: by its recorded end, or the workday."""
    end = ended or _End(site.clock.first_day)
    stop = _end_slot(end, site.clock)
    begin = _first_slot(link, progress, covered, site.clock, crew)
    begin = _begin_slot(link, Piece(1.0, frozenset(), end.day, end.time), site.clock, crew) if begin is None else begin
    screened = _was_screened(end, site.floor, site.clock.first_day)
    return replace(link, laid=(min(begin, stop - 1), stop), screened=screened)


def _rest(link: Link, progress: Mapping[str, Progress], covered: frozenset[str], site: Site, crew: int) -> Link:
    """Return what is left of a task, with everything that goes into it."""
    said = progress.get(link.task.id)
    if said is None or said.finished:
        return link

    def left(tasks: Sequence[Task]) -> tuple[Task, ...]:
        return tuple(rest_of(task, said.share, site.catalog) for task in tasks)

    return replace(
        link,
        task=rest_of(link.task, said.share, site.catalog),
        stirred_in=left(link.stirred_in),
        thrown_in=left(link.thrown_in),
        begun=True,
        first_laid=_first_slot(link, progress, covered, site.clock, crew) if link.coat is not None else None,
    )


def _worked_until(progress: Mapping[str, Progress], clock: Clock) -> int:
    """Return until when the records of today say that the floor was worked on, 0 where they name no hour."""
    today = [_End(piece.day, piece.time) for said in progress.values() for piece in said.pieces
             if piece.time is not None and piece.day == clock.first_day]  # fmt: skip
    return max((_end_slot(end, clock) for end in today), default=0)


def _not_before(link: Link, slot: int) -> Link:
    return link if slot <= link.not_before_slot else replace(link, not_before_slot=slot, not_before_why="")


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
