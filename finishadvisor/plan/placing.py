"""The crew's free time, and where one task can lie in it: in allowed hours, in one go or not, safe until it is set."""

import bisect
import itertools
import math
from collections.abc import Iterable, Sequence
from typing import Final

from finishadvisor.plan.chain import Link
from finishadvisor.plan.clock import SLOTS_PER_HOUR

ROUNDING: Final = 1e-6
"""Slots; sums of shares of an hour end this little beside the full minute."""

Interval = tuple[int, int]


class Calendar:
    """The crew's free working time."""

    def __init__(self, stretches: Iterable[Interval], longest: int) -> None:
        """Take stretches of which no two overlap."""
        self.free = sorted(stretches)
        self.longest = longest

    def without(self, busy: Iterable[Interval]) -> "Calendar":
        """Return the calendar with spans of work taken out."""
        free = list(self.free)
        for begin, end in busy:
            first = max(0, bisect.bisect_right(free, (begin, math.inf)) - 1)
            last = bisect.bisect_left(free, (end,), first)
            parts = [part for a, b in free[first:last] for part in ((a, min(b, begin)), (max(a, end), b))]
            free[first:last] = [part for part in parts if part[0] < part[1]]
        return Calendar(free, self.longest)

    def begin_at(self, slot: int) -> int:
        """Return where the last free interval that begins by a slot begins."""
        return self.free[bisect.bisect_right(self.free, (slot, math.inf)) - 1][0]

    def from_slot(self, slot: int) -> Iterable[Interval]:
        """Yield free intervals from a slot on, the first cut to begin there."""
        number = max(0, bisect.bisect_right(self.free, (slot, math.inf)) - 1)
        for begin, end in itertools.islice(self.free, number, None):
            if end > slot:
                yield max(begin, slot), end


def lay_slots(link: Link, calendar: Calendar, slots: int, earliest: int, due: float | None) -> Iterable[int]:
    """Yield every slot at which a task can begin in one go: in free time, in allowed hours, the coat safe until set.

    Args:
        link: the task.
        calendar: the crew's free time.
        slots: how long it takes.
        earliest: first slot allowed.
        due: it must have ended by then; None: no matter when.
    """
    next_bad = link.conditions.next_bad_to_lay
    for begin, end in calendar.from_slot(earliest):
        start = begin
        while start + slots <= end:
            if due is not None and start + slots > due + ROUNDING:
                return
            bad = next_bad[start // SLOTS_PER_HOUR]
            if bad <= (start + slots - 1) // SLOTS_PER_HOUR:
                start = (bad + 1) * SLOTS_PER_HOUR
                continue
            if _safe_until_set(link, start, start + slots):
                yield start
            start += 1


def _safe_until_set(link: Link, start: int, end: int) -> bool:
    """Return whether nothing spoils a coat: until the last of it is tack-free, and rain not until it bears water."""
    if link.setting is None:
        return True
    tack_free = link.setting.over("tack_free_h", end)
    if tack_free is None:
        return False
    hour, rains = start // SLOTS_PER_HOUR, link.conditions.next_rain
    if link.conditions.next_bad_to_set[hour] * SLOTS_PER_HOUR < tack_free:
        return False
    if rains[hour] == rains[-1]:
        return True
    bears_water = link.setting.over("water_h", end)
    return bears_water is not None and rains[hour] * SLOTS_PER_HOUR >= bears_water


def earliest_spans(
    link: Link, calendar: Calendar, slots: int, earliest: int, *, unbroken: bool
) -> tuple[Interval, ...]:
    """Return where a task is done earliest, in one go or over several days; nothing where it finds no place."""
    if unbroken:
        start = next(iter(lay_slots(link, calendar, slots, earliest, None)), None)
        return () if start is None else ((start, start + slots),)
    spans: list[Interval] = []
    left = slots
    for begin, end in allowed_time(link, calendar, earliest):
        taken = min(left, end - begin)
        spans.append((begin, begin + taken))
        left -= taken
        if left == 0:
            return joined_up(spans)
    return ()


def allowed_time(link: Link, calendar: Calendar, earliest: int) -> Iterable[Interval]:
    """Yield the crew's free time from a slot on, as far as the hours are allowed."""
    next_bad = link.conditions.next_bad_to_lay
    for begin, end in calendar.from_slot(earliest):
        start = begin
        while start < end:
            stop = min(end, next_bad[start // SLOTS_PER_HOUR] * SLOTS_PER_HOUR)
            if stop > start:
                yield start, stop
            start = max(stop, (start // SLOTS_PER_HOUR + 1) * SLOTS_PER_HOUR) if stop < end else end


def joined_up(spans: Sequence[Interval]) -> tuple[Interval, ...]:
    """Return spans in order with those that touch made one."""
    joined: list[Interval] = []
    for begin, end in spans:
        if joined and joined[-1][1] == begin:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((begin, end))
    return tuple(joined)
