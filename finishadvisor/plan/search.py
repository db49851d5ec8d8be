"""The earliest plan of one floor: its tasks on the crew's calendar, every coat inside its window.

Exact for a given crew: no choice of quarter hours ends the chain of tasks earlier. A later start never lets a follower
start earlier, so each task is done at the first quarter hour that lets all that follows fit; coats tied by recoat
windows are searched as one block, going back where a window cannot be met.

Heuristic: the crew works as one team on one task at a time; a coat longer than the longest workday is laid in equal
parts that end at joints. Several floors are planned in `floors`.
"""

import bisect
import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from finishadvisor.plan.chain import Link, bound_coats, event_before
from finishadvisor.plan.phases import BEFORE_COATS, FIND_OUT, SITE
from finishadvisor.plan.placing import (
    ROUNDING,
    Calendar,
    Interval,
    allowed_time,
    earliest_spans,
    joined_up,
    lay_slots,
)

NEVER: Final = 10**9
"""A slot behind every plan."""


@dataclass(frozen=True)
class Placed:
    """One task on the calendar: its working spans, and between which slots it had to lie (`latest`: recoat window)."""

    link: Link
    spans: tuple[Interval, ...]
    earliest: float
    latest: float | None
    crew: int
    drawn: bool = False
    """True: nothing hindered it sooner; it was drawn up to the coat that it prepares for."""

    @property
    def start(self) -> int:
        """First slot."""
        return self.spans[0][0]

    @property
    def end(self) -> int:
        """Slot behind the last."""
        return self.spans[-1][1]


@dataclass(frozen=True)
class FloorPlan:
    """One floor planned. Where nothing fits, `placed` holds what comes before, `stuck` the tasks that do not fit."""

    placed: tuple[Placed, ...]
    laid: Placed | None = None
    """The last coat that is down already."""
    stuck: tuple[Link, ...] = ()
    stuck_from: int = 0

    @property
    def feasible(self) -> bool:
        """Whether every task found its place."""
        return not self.stuck

    @property
    def end(self) -> int:
        """Slot behind the last task."""
        return max((placed.end for placed in self.placed), default=0)


class FloorSearch:
    """The search over one floor's chain with one crew on one calendar."""

    def __init__(self, links: Sequence[Link], calendar: Calendar, crew: int) -> None:
        self.links = tuple(links)
        self.calendar = calendar
        self.crew = crew
        self._bound = dict(bound_coats(self.links))

    def run(self) -> FloorPlan:
        """Return the earliest plan, or as much of it as fits."""
        laid = self._laid()
        placed: list[Placed] = []
        number = 1 if laid else 0
        due = self._due(laid) if laid and 0 in self._bound else None
        while number < len(self.links):
            before = [*([laid] if laid else ()), *placed]
            block = self._block(0 if due is not None else number)
            tied = self.links[number : block + 1]
            if block > number or due is not None:
                found = self._place_block(number, block, before, due)
            else:
                found = self._place_one(number, before)
            if not found:
                stuck = tuple(link for link in tied if link.coat is not None) or tied
                return FloorPlan(tuple(placed), laid, stuck, self._earliest(tied[0], before))
            placed += found
            number, due = block + 1, None
        return FloorPlan(tuple(placed) if laid else self._drawn_together(placed), laid)

    def _laid(self) -> Placed | None:
        first = self.links[0] if self.links else None
        if first is None or first.laid is None:
            return None
        return Placed(first, (first.laid,), first.laid[0], None, first.crew(self.crew))

    def _block(self, number: int) -> int:
        """Return the place of the last coat that is tied, window by window, to the task at a place."""
        while number in self._bound:
            number = self._bound[number]
        return number

    def _earliest(self, link: Link, placed: Sequence[Placed]) -> int:
        """Return the first slot at which a task may begin after those placed: order, waits and the coat below."""
        slot = link.not_before_slot
        for before in placed:
            slot = max(slot, before.end)
            tests = before.link.item.phase <= FIND_OUT and link.item.phase <= FIND_OUT
            if not tests or link.item.hold_point:
                slot = max(slot, before.end + before.link.wait_slots)
        below = next((before for before in reversed(placed) if before.link.setting is not None), None)
        if below is None or below.link.setting is None:
            return slot
        over = below.link.setting.over(event_before(link), below.end)
        return max(slot, math.ceil(over - ROUNDING)) if over is not None else NEVER

    def _place_one(self, number: int, placed: Sequence[Placed]) -> list[Placed]:
        link = self.links[number]
        earliest = self._earliest(link, placed)
        if link.coat is not None:
            spans = next(iter(self._coat_spans(link, earliest, None)), ())
        else:
            slots = link.slots(self.crew)
            unbroken = link.unbroken(self.crew) and slots <= self.calendar.longest
            spans = earliest_spans(link, self.calendar, slots, earliest, unbroken=unbroken)
        return [Placed(link, spans, earliest, None, link.crew(self.crew))] if spans else []

    def _coat_spans(self, link: Link, earliest: int, due: float | None) -> Iterable[tuple[Interval, ...]]:
        """Yield where a coat can be laid, by its start: in one go, or in equal parts where it outlasts a workday."""
        slots, longest = link.slots(self.crew), self.calendar.longest
        if not longest:
            return
        parts = math.ceil(slots / longest)
        length = math.ceil(slots / parts)
        for start in lay_slots(link, self.calendar, length, earliest, due):
            spans = [(start, start + length)]
            while len(spans) < parts:
                again = next(iter(lay_slots(link, self.calendar, length, spans[-1][1], due)), None)
                if again is None:
                    return
                spans.append((again, again + length))
            yield tuple(spans)

    def _place_block(self, first: int, last: int, placed: Sequence[Placed], due: float | None) -> list[Placed]:
        """Return the coats from one place to another, tied by their windows, so that the last ends earliest.

        `due` ends the window of a coat that is down already.

        The first start that lets everything behind it fit is the best one: a later start ends no window earlier and
        opens none earlier. So a coat is laid as early as it can be, and what follows placed as if its window had no
        end; where that is too late, the coat is moved to the first start whose window reaches so far.
        """
        link = self.links[first]
        if link.coat is None:
            here = self._place_one(first, placed)
            rest = self._place_block(first + 1, last, [*placed, *here], due) if here else []
            return [*here, *rest] if rest else []
        earliest = begin = self._earliest(link, placed)
        while spans := next(iter(self._coat_spans(link, begin, due)), ()):
            laid = Placed(link, spans, earliest, due, link.crew(self.crew))
            if first == last:
                return [laid]
            rest = self._place_block(first + 1, last, [*placed, laid], None)
            if not rest:
                return []
            window_end = self._due(laid)
            upper = next(number for number, here in enumerate(rest) if here.link.coat is not None)
            if window_end is None or rest[upper].end <= window_end + ROUNDING:
                rest[upper] = replace(rest[upper], latest=window_end)
                return [laid, *rest]
            if link.first_laid is not None:
                return []  # its window runs from what is down already, whenever the rest is laid
            begin = self._start_that_waits(laid, rest[upper].end)
        return []

    def _start_that_waits(self, laid: Placed, end: int) -> int:
        """Return the first start after a coat's own from which its recoat window reaches until a slot."""

        def reaches(start: int) -> bool:
            window_end = self._window_end(laid.link, start)
            return window_end is None or end <= window_end + ROUNDING

        return bisect.bisect_left(range(end), True, lo=laid.start + 1, key=reaches)

    def _due(self, laid: Placed) -> float | None:
        """Return when the recoat window of a coat ends, counted from the first of it that lies open."""
        first = laid.link.first_laid
        return self._window_end(laid.link, laid.start if first is None else min(first, laid.start))

    def _window_end(self, coat: Link, start: int) -> float | None:
        return None if coat.setting is None else coat.setting.over("recoat_max_h", start)

    def _drawn_together(self, placed: Sequence[Placed]) -> tuple[Placed, ...]:
        """Return the plan with the preparation as late as it can be, so that no floor lies clean and waits."""
        first_coat = next((number for number, here in enumerate(placed) if here.link.coat is not None), 0)
        moved = list(placed)
        for number in range(first_coat - 1, -1, -1):
            here = moved[number]
            if not SITE <= here.link.item.phase <= BEFORE_COATS:
                break
            limit = moved[number + 1].start - here.link.wait_slots
            spans = self._latest_spans(here.link, here.start, limit)
            if spans and spans[0][0] > here.start:
                moved[number] = replace(here, spans=spans, drawn=True)
        return self._from_the_morning(moved, placed, first_coat)

    def _from_the_morning(
        self, drawn: Sequence[Placed], placed: Sequence[Placed], first_coat: int
    ) -> tuple[Placed, ...]:
        """Return the plan with the preparation on the days to which it was drawn, each from when the crew begins."""
        moved = list(drawn)
        for number, here in enumerate(drawn[:first_coat]):
            if here.start == placed[number].start:
                continue
            morning = self.calendar.begin_at(here.start)
            earliest = max(morning, self._earliest(here.link, moved[:number]))
            unbroken = here.link.unbroken(self.crew)
            spans = earliest_spans(here.link, self.calendar, here.link.slots(self.crew), earliest, unbroken=unbroken)
            if spans and spans[-1][1] <= here.end:
                moved[number] = replace(here, spans=spans)
        return tuple(moved)

    def _latest_spans(self, link: Link, earliest: int, limit: int) -> tuple[Interval, ...]:
        """Return where a task is done latest so that it ends by a limit; nothing where it finds no place."""
        slots = link.slots(self.crew)
        before = itertools.takewhile(lambda span: span[0] < limit, allowed_time(link, self.calendar, earliest))
        free = [(a, min(b, limit)) for a, b in before]
        if link.unbroken(self.crew):
            fitting = [b for a, b in joined_up(free) if b - a >= slots]
            return ((fitting[-1] - slots, fitting[-1]),) if fitting else ()
        spans: list[Interval] = []
        for begin, end in reversed(free):
            taken = min(slots, end - begin)
            spans.insert(0, (end - taken, end))
            slots -= taken
            if slots == 0:
                return joined_up(spans)
        return ()
