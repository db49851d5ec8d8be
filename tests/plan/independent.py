"""Checks of a plan and a brute-force search that share nothing with the plan's own search: raw hours, step by step."""

import math
from collections.abc import Sequence
from functools import cache

from finishadvisor.formulas.cure import fit_cure_line, hours_until_over
from finishadvisor.plan.chain import Link
from finishadvisor.plan.clock import SLOTS_PER_HOUR, Clock
from finishadvisor.plan.search import Placed
from finishadvisor.plan.slab import FloorAir

STEADY_F_PER_H = 1.0


def slots_until_over(link: Link, event: str, start: int, slab_f: tuple[float, ...]) -> float:
    """Slots from a slot until a time of the data sheet is over, by quarter hours; infinite where it never is."""
    assert link.coat is not None
    return _until_over(tuple((p.slab_f, getattr(p, event)) for p in link.coat.cure), event, start, slab_f)


@cache
def _until_over(
    points: tuple[tuple[float, float | None], ...], event: str, start: int, slab_f: tuple[float, ...]
) -> float:
    given = [(f, value) for f, value in points if value is not None]
    if not given:
        return math.inf
    line = fit_cure_line(given, "at-most" if event == "recoat_max_h" else "at-least")
    quarters = [slab_f[slot // SLOTS_PER_HOUR] for slot in range(start, len(slab_f) * SLOTS_PER_HOUR)]
    hours = hours_until_over(line, quarters, 0.25).hours if quarters else None
    return math.inf if hours is None else hours * SLOTS_PER_HOUR


def in_work_hours(start: int, end: int, clock: Clock) -> bool:
    """Whether a span lies in one working day, by the clock on the wall."""
    first, last = clock.moment(start), clock.moment(end)
    day = first.date()
    names = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    return (
        last.date() == day
        and names[day.weekday()] in clock.workday.days
        and first.time() >= clock.workday.start
        and last.time() <= clock.workday.end
    )


def may_lie(link: Link, start: int, end: int) -> bool:
    """Whether every hour of laying and of setting keeps the limits of the material's row."""
    air = link.conditions.air
    if link.coat is None:
        return not any(air.rain[hour] for hour in _hours(start, end))
    limits = link.coat.limits
    assert limits is not None
    for hour in _hours(start, end):
        warms = air.slab_f[min(hour + 1, len(air.slab_f) - 1)] - air.slab_f[hour]
        if not (
            limits.air_low_f <= air.air_f[hour] <= limits.air_high_f
            and limits.slab_low_f <= air.slab_f[hour] <= limits.slab_high_f
            and limits.rh_low_pct <= air.rh_pct[hour] <= limits.rh_high_pct
            and warms <= STEADY_F_PER_H
            and not air.direct_sun[hour]
        ):
            return False
    tack_free = end + slots_until_over(link, "tack_free_h", end, air.slab_f)
    if tack_free == math.inf:
        return False
    if any(
        air.rain[hour]
        for hour in _hours(end, min(end + slots_until_over(link, "water_h", end, air.slab_f), end_of(air)))
    ):
        return False
    return all(
        not air.rain[hour]
        and air.slab_f[hour] - air.dew_point_f[hour] >= limits.dew_margin_f
        and air.air_f[hour] >= limits.air_low_f
        and air.slab_f[hour] >= limits.slab_low_f
        for hour in _hours(start, tack_free)
    )


def end_of(air: FloorAir) -> int:
    """The slot behind the last hour."""
    return len(air.rain) * SLOTS_PER_HOUR


def _hours(start: float, end: float) -> range:
    return range(int(start // SLOTS_PER_HOUR), math.ceil((end - 1e-6) / SLOTS_PER_HOUR))


def breaches(placed: Sequence[Placed], clock: Clock) -> list[str]:
    """What a plan breaks: work hours, limits, order, or a recoat window."""
    found = []
    below: Placed | None = None
    end_before = 0
    for number, here in enumerate(placed):
        if not all(in_work_hours(start, end, clock) for start, end in here.spans):
            found.append(f"{number}: outside the work hours")
        if not all(may_lie(here.link, start, end) for start, end in here.spans):
            found.append(f"{number}: limits")
        if here.start < end_before:
            found.append(f"{number}: before the task in front of it is done")
        end_before = here.end
        if here.link.coat is None:
            continue
        if below is not None:
            slab_f = here.link.conditions.air.slab_f
            if here.start < below.end + slots_until_over(below.link, "recoat_min_h", below.end, slab_f) - 1e-6:
                found.append(f"{number}: recoat minimum")
            if here.end > below.start + slots_until_over(below.link, "recoat_max_h", below.start, slab_f) + 1e-6:
                found.append(f"{number}: recoat maximum")
        below = here
    return found


def brute_force_end(links: Sequence[Link], clock: Clock, crew: int) -> float:
    """The earliest end of a chain of tasks done in one go, by trying every quarter hour for every task."""
    starts = [slot for slot in range(clock.slots) if in_work_hours(slot, slot + 1, clock)]
    lengths = [link.slots(crew) for link in links]

    @cache
    def best(number: int, after: int, coat: int, coat_start: int) -> float:
        if number == len(links):
            return after
        link, least = links[number], math.inf
        low, high = float(after), math.inf
        if coat >= 0:
            slab_f = link.conditions.air.slab_f
            coat_end = coat_start + lengths[coat]
            low = max(low, coat_end + slots_until_over(links[coat], "recoat_min_h", coat_end, slab_f) - 1e-6)
            if link.coat is not None:
                high = coat_start + slots_until_over(links[coat], "recoat_max_h", coat_start, slab_f) + 1e-6
        for start in starts:
            end = start + lengths[number]
            if start < low or end > high or not in_work_hours(start, end, clock) or not may_lie(link, start, end):
                continue
            here = (number, start) if link.coat is not None else (coat, coat_start)
            least = min(least, best(number + 1, end, *here))
        return least

    return best(0, 0, -1, 0)
