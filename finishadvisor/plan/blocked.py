"""When and why tasks could not be done, and the hours behind it for drawing."""

import math
from collections.abc import Sequence
from typing import Final

from finishadvisor.plan.clock import SLOTS_PER_HOUR
from finishadvisor.plan.planned import PlannedFloor
from finishadvisor.plan.search import Placed
from finishadvisor.plan.setting import Event, Setting
from finishadvisor.plan.windows import NIGHT, blocked_spans
from finishadvisor.records.plan import AirHour, Blocked

_SHOWN_H: Final = 14 * 24
"""How far blocked hours and the picture reach: two weeks, as far as a forecast."""


def blocked_of(floor: PlannedFloor, changes: Sequence[str]) -> tuple[Blocked, ...]:
    """Return when and why each task of a floor could not be done before its place, or at all."""
    clock = floor.site.clock
    found: list[Blocked] = []
    for placed in floor.plan.placed:
        found += _not_ready(floor, placed.link.task.title, placed.link.not_before_slot, placed.link.not_before_why)
        found += () if placed.drawn else _weather_spans(floor, placed)
    for link in floor.plan.stuck:
        title = link.task.title
        begin = min(floor.plan.stuck_from, clock.slots - 1)
        end = min(clock.slots, begin + _SHOWN_H * SLOTS_PER_HOUR)
        found += _not_ready(floor, title, link.not_before_slot, link.not_before_why)
        found.append(_blocked(floor, title, (begin, clock.slots), _stuck_why(floor, changes)))
        found += [
            _blocked(floor, title, (span.first_slot, span.end_slot), span.why)
            for span in blocked_spans(link.conditions, clock, begin, end, **_ahead_h(link.setting, begin))
        ]
    return tuple(found)


def _stuck_why(floor: PlannedFloor, changes: Sequence[str]) -> str:
    if not floor.site.clock.stretches:
        return "the workday has no working hours"
    what = (
        "no hours fit all its limits" if len(floor.plan.stuck) < 2 else "no days keep all coats in their recoat windows"
    )
    if not changes:
        return f"{what}; no single change would let it fit, nor cover over the floor and other hours together"
    return f"{what}; it would fit with: {'; or '.join(changes)}"


def _not_ready(floor: PlannedFloor, title: str, slot: int, why: str) -> list[Blocked]:
    return [_blocked(floor, title, (0, slot), f"not ready: {why}")] if slot > 0 and why else []


def _weather_spans(floor: PlannedFloor, placed: Placed) -> list[Blocked]:
    """Return what blocked a task between the time it was due and its start; nothing where only the night did."""
    link, clock = placed.link, floor.site.clock
    ahead_h = _ahead_h(link.setting, placed.start)
    spans = blocked_spans(link.conditions, clock, math.floor(placed.earliest), placed.start, **ahead_h)
    if all(span.why == NIGHT for span in spans):
        return []
    return [_blocked(floor, link.task.title, (span.first_slot, span.end_slot), span.why) for span in spans]


def _ahead_h(setting: Setting | None, slot: int) -> dict[str, float]:
    """Return how far ahead to look for what spoils a coat laid at a slot [h]."""

    def hours(event: Event) -> float:
        over = setting.over(event, slot) if setting else None
        return 0.0 if over is None else (over - slot) / SLOTS_PER_HOUR

    return {"needed_h": hours("tack_free_h"), "rainless_h": hours("water_h")}


def _blocked(floor: PlannedFloor, title: str, span: tuple[int, int], why: str) -> Blocked:
    clock = floor.site.clock
    return Blocked(
        start=clock.moment(span[0]), end=clock.moment(span[1]), task=f"{floor.works.floor}: {title}", why=why
    )


def air_hours(floor: PlannedFloor) -> tuple[AirHour, ...]:
    """Return the hours from a day before the first coat until a day after the last, two weeks at most, for drawing."""
    air, clock = floor.air, floor.site.clock
    coats = [placed for placed in floor.plan.placed if placed.link.coat is not None]
    ahead = [(placed.end, placed.link.conditions) for placed in coats]
    ahead += [(clock.slots, link.conditions) for link in floor.plan.stuck]
    begin, end = _drawn_slots(floor, coats)
    hours = []
    for hour in range(begin // SLOTS_PER_HOUR, min(-(-end // SLOTS_PER_HOUR), len(air.air_f))):
        following = next((c for done, c in ahead if done > hour * SLOTS_PER_HOUR), ahead[-1][1] if ahead else None)
        hours.append(
            AirHour(
                start=clock.moment(hour * SLOTS_PER_HOUR),
                air_f=air.air_f[hour],
                rh_pct=air.rh_pct[hour],
                slab_f=air.slab_f[hour],
                dew_point_f=air.dew_point_f[hour],
                rain=air.rain[hour],
                allowed=following is None or not following.whys_to_lay(hour),
                assumed=air.state[hour] != "known",
            )
        )
    return tuple(hours)


def _drawn_slots(floor: PlannedFloor, coats: Sequence[Placed]) -> tuple[int, int]:
    """Return first and end slot of what is worth drawing: full days about the coats, or from where nothing fits."""
    day, most = 24 * SLOTS_PER_HOUR, _SHOWN_H * SLOTS_PER_HOUR
    if floor.plan.feasible and coats:
        begin, end = coats[0].start - day, coats[-1].end + day
    elif floor.plan.feasible:
        begin, end = 0, floor.plan.end + day
    else:
        begin, end = floor.plan.stuck_from - day, floor.plan.stuck_from + most
    begin = max(0, begin) // day * day
    return begin, min(-(-end // day) * day, begin + most)
