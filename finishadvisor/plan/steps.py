"""Places on the calendar as the steps, return times, blocked spans and inspect dates that a person reads."""

import calendar
import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.catalog.models import Finish
from finishadvisor.job.document import Job
from finishadvisor.plan.clock import SLOTS_PER_HOUR
from finishadvisor.plan.readiness import JOINT_FILLING, Ready, test_notes
from finishadvisor.plan.search import FloorPlan, Placed
from finishadvisor.plan.setting import Event, Setting, line_of
from finishadvisor.plan.slab import FloorAir, Site
from finishadvisor.plan.windows import NIGHT, blocked_spans
from finishadvisor.records.plan import AirHour, BackInService, Blocked, Step, StepAir
from finishadvisor.records.works import FloorWorks

_SHOWN_H: Final = 14 * 24
"""How far blocked hours and the picture reach: two weeks, as far as a forecast."""
_INSPECTIONS: Final = 4


@dataclass(frozen=True)
class PlannedFloor:
    """One floor with everything that its steps are told from."""

    site: Site
    works: FloorWorks
    finish: Finish
    air: FloorAir
    ready: Ready
    plan: FloorPlan


# --- steps -----------------------------------------------------------------------------------------------------------


def steps_of(floor: PlannedFloor, job: Job) -> tuple[Step, ...]:
    """Return a step for every working span of every task, and for every broadcast beside its coat."""
    steps: list[Step] = []
    for number, placed in enumerate(floor.plan.placed):
        notes = [*(_opening_notes(floor) if number == 0 else ()), *_notes(floor, placed, job)]
        whole = sum(end - start for start, end in placed.spans)
        for part, (start, end) in enumerate(placed.spans, start=1):
            again = [f"Part {part} of {len(placed.spans)}."] if len(placed.spans) > 1 else []
            share = (end - start) / whole
            steps.append(_step(floor, placed, (start, end), share, (*again, *(notes if part == 1 else ()))))
            steps += _thrown_in(floor, placed, (start, end), share)
    return tuple(steps)


def _step(floor: PlannedFloor, placed: Placed, span: tuple[int, int], share: float, notes: tuple[str, ...]) -> Step:
    clock, task = floor.site.clock, placed.link.task
    beside = 1 if placed.link.thrown_in and placed.crew > 1 else 0
    return Step(
        floor=floor.works.floor,
        task=task.title,
        layer=task.layer,
        coat=task.coat,
        start=clock.moment(span[0]),
        end=clock.moment(span[1]),
        earliest=clock.moment(min(placed.earliest, span[0])),
        latest=None if placed.latest is None else clock.moment_by(placed.latest),
        crew=placed.crew - beside,
        hours=round(task.crew_hours.expected * share, 2),
        air=_air_at(floor.air, span[0]),
        notes=notes,
    )


def _thrown_in(floor: PlannedFloor, placed: Placed, span: tuple[int, int], share: float) -> list[Step]:
    """Return the broadcasts into a coat: in its hours, by one of the crew, or by the same hands where there is one."""
    clock = floor.site.clock
    said = "Thrown bay by bay into the wet coat" + ("." if placed.crew > 1 else ", by the same hands.")
    return [
        Step(
            floor=floor.works.floor,
            task=task.title,
            layer=task.layer,
            coat=task.coat,
            start=clock.moment(span[0]),
            end=clock.moment(span[1]),
            earliest=clock.moment(span[0]),
            latest=clock.moment(span[1]),
            crew=1 if placed.crew > 1 and number == 0 else 0,
            hours=round(task.crew_hours.expected * share, 2),
            air=_air_at(floor.air, span[0]),
            notes=(said,),
        )
        for number, task in enumerate(placed.link.thrown_in)
    ]


def _air_at(air: FloorAir, slot: int) -> StepAir:
    hour = min(slot // SLOTS_PER_HOUR, len(air.air_f) - 1)
    return StepAir(
        air_f=round(air.air_f[hour], 1),
        rh_pct=round(air.rh_pct[hour], 1),
        slab_f=round(air.slab_f[hour], 1),
        dew_point_f=round(air.dew_point_f[hour], 1),
    )


# --- notes -----------------------------------------------------------------------------------------------------------


def _opening_notes(floor: PlannedFloor) -> tuple[str, ...]:
    """Return what the whole plan of a floor rests on."""
    possible = [f"Perhaps also: {task.title} ({task.why})." for task in floor.works.tasks if not task.certain]
    return (*floor.air.assumptions, *possible)


def _notes(floor: PlannedFloor, placed: Placed, job: Job) -> tuple[str, ...]:
    link, notes = placed.link, []
    if link.not_before_why and link.not_before_slot > 0:
        notes.append(f"Not before {_day(floor, link.not_before_slot)}: {link.not_before_why}.")
    if link.item.hold_point:
        notes.append("Hold point: go on only when this is done and right.")
    notes += test_notes(link, floor.site.floor, floor.site.facts)
    if link.inserted and link.coat is None:
        notes.append(f"{link.task.why}; the plan added it, the order does not hold it.")
    if link.item.id == JOINT_FILLING and floor.plan.placed[-1] == placed and link.not_before_slot > 0:
        notes.append("Come back for it: the slab is too young when the rest is done.")
    if link.inserted and link.task.extent == "area":
        notes.append(_cost_note(floor, placed, job))
    if link.item.wets_slab and floor.finish.film == "tight":
        notes.append("It wets the slab: older moisture readings no longer count, and drying starts again.")
    if link.coat is not None:
        notes += _coat_notes(floor, placed)
    return tuple(notes)


def _cost_note(floor: PlannedFloor, placed: Placed, job: Job) -> str:
    limits, item = floor.site.catalog.limits, placed.link.item
    per_hour = job.business.labor_per_hour
    hourly = limits["labor-per-hour"].value if per_hour is None else per_hour
    rental = item.rental_per_day.expected if item.rental_per_day else 0.0
    cost = placed.link.hours * hourly + rental
    return f"It costs about {cost:,.0f} {job.currency if per_hour is not None else 'USD'} in labor and rental."


def _coat_notes(floor: PlannedFloor, placed: Placed) -> list[str]:
    setting, link, site = placed.link.setting, placed.link, floor.site
    if setting is None or link.coat is None:
        return []
    coats = [other for other in floor.plan.placed if other.link.coat is not None]
    notes = [*floor.ready.conditions] if coats[:1] == [placed] else []
    notes.append(_wet_note(floor, placed))
    if len(placed.spans) > 1:
        notes.append("The coat takes longer than a workday: each part ends at a joint.")
    end = placed.end
    last_event = setting.over("recoat_max_h" if setting.gives("recoat_max_h") else "recoat_min_h", end) or end
    if setting.beyond_sheet("recoat_min_h", placed.start, math.ceil(last_event)):
        notes.append(
            "The slab leaves the temperatures of the data sheet: longer waits are reckoned in the cold, "
            "shorter windows in the heat, never the other way."
        )
    if len(link.coat.cure) == 1:
        notes.append(
            "The data sheet gives one temperature only: times are halved for each 18 °F warmer, a rule of thumb."
        )
    hours = range(placed.start // SLOTS_PER_HOUR, min(math.ceil(last_event / SLOTS_PER_HOUR), len(floor.air.state)))
    if any(floor.air.state[hour] == "assumed" for hour in hours) and any(s == "known" for s in floor.air.state):
        notes.append("Behind the end of the forecast its mean day is assumed: plan again with a newer one.")
    if site.facts.get("sun") == "part" or (site.place == "indoors" and site.facts.get("sun") == "full"):
        notes.append("Keep sun strips off: lay each part while it is in the shade, or cover the glass.")
    winds = [
        wind
        for hour in hours[: (placed.end - placed.start) // SLOTS_PER_HOUR + 1]
        if (wind := floor.air.wind_mph[hour])
    ]
    if winds and max(winds) >= site.catalog.limits["wind-note-mph"].value:
        notes.append(f"Wind up to {max(winds):.0f} mph: no spraying, and nothing that blows into the wet coat.")
    if coats[-1:] == [placed] and site.facts.get("heat_in_slab") is True:
        back_on = placed.end + site.catalog.limits["heat-back-on-hours"].value * SLOTS_PER_HOUR
        notes.append(f"Raise the floor heating again from {_time(floor, back_on)} on at the earliest.")
    return notes


def _wet_note(floor: PlannedFloor, placed: Placed) -> str:
    """Return pot life and the time until tack-free."""
    setting = placed.link.setting
    tack_free = setting.over("tack_free_h", placed.end) if setting else None
    said = f"Tack-free about {_time(floor, tack_free)}; keep dust and damp off until then." if tack_free else ""
    line = line_of(placed.link.coat, "pot_life_min") if placed.link.coat else None
    if line is None:
        return said
    hour = placed.start // SLOTS_PER_HOUR
    warmest_f = max(floor.air.slab_f[hour], floor.air.air_f[hour])
    minutes = line.at(min(max(warmest_f, -40.0), 160.0)).value
    return f"Pot life about {minutes:.0f} min at {warmest_f:.0f} °F: pour out at once. {said}"


def _time(floor: PlannedFloor, slot: float) -> str:
    moment = floor.site.clock.moment(slot)
    return f"{moment:%a} {moment.date().isoformat()} {moment:%H:%M}"


def _day(floor: PlannedFloor, slot: float) -> str:
    return floor.site.clock.moment(slot).date().isoformat()


# --- return to service -----------------------------------------------------------------------------------------------


def back_in_service(floor: PlannedFloor) -> BackInService:
    """Return when a floor can be used again: when the slowest of its coats allows it.

    A floor without coats is back when its last task and wait are over. None: the last coat sets no such limit, no plan
    fits, or the time lies behind the plan's end.
    """
    clock, plan = floor.site.clock, floor.plan
    coats = [placed for placed in plan.placed if placed.link.setting is not None]
    if not plan.feasible or not plan.placed:
        return BackInService(foot=None, water=None, furniture=None, cover=None, vehicle=None)
    if not coats:
        done = clock.moment(max(placed.end + placed.link.wait_slots for placed in plan.placed))
        return BackInService(foot=done, water=done, furniture=done, cover=done, vehicle=done)

    def over(event: Event) -> datetime.datetime | None:
        last = coats[-1].link.setting
        if last is None or not last.gives(event):
            return None
        ends = [placed.link.setting.over(event, placed.end) for placed in coats if placed.link.setting]
        given = [
            end
            for end, placed in zip(ends, coats, strict=True)
            if placed.link.setting and placed.link.setting.gives(event)
        ]
        return None if None in given else clock.moment(max(end for end in given if end is not None))

    return BackInService(
        foot=over("foot_h"), water=over("water_h"), furniture=over("furniture_h"), cover=over("cover_h"),
        vehicle=over("vehicle_h"),
    )  # fmt: skip


def inspect_days(floor: PlannedFloor) -> tuple[datetime.date, ...]:
    """Return days on which to look whether water beads and whether it is dull; what is found decides, no date does."""
    if not floor.plan.feasible or not floor.plan.placed:
        return ()
    done = floor.site.clock.moment(floor.plan.end).date()
    every = max(1, round(floor.finish.upkeep.inspect_months))
    return tuple(months_later(done, every * number) for number in range(1, _INSPECTIONS + 1))


def months_later(day: datetime.date, months: int) -> datetime.date:
    """Return the same day of a later month, the month's last where it has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return datetime.date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


# --- what blocks -----------------------------------------------------------------------------------------------------


def blocked_of(floor: PlannedFloor, changes: Sequence[str]) -> tuple[Blocked, ...]:
    """Return when and why each task of a floor could not be done before its place, or at all."""
    clock = floor.site.clock
    found: list[Blocked] = []
    for placed in floor.plan.placed:
        found += _not_ready(floor, placed.link.task.title, placed.link.not_before_slot, placed.link.not_before_why)
        found += _weather_spans(floor, placed)
    for link in floor.plan.stuck:
        title = link.task.title
        begin = min(floor.plan.stuck_from, clock.slots - 1)
        end = min(clock.slots, begin + _SHOWN_H * SLOTS_PER_HOUR)
        found += _not_ready(floor, title, link.not_before_slot, link.not_before_why)
        found.append(_blocked(floor, title, (begin, clock.slots), _stuck_why(floor, changes)))
        found += [
            _blocked(floor, title, (span.first_slot, span.end_slot), span.why)
            for span in blocked_spans(link.conditions, clock, begin, end, needed_h=_tack_free_h(link.setting, begin))
        ]
    return tuple(found)


def _stuck_why(floor: PlannedFloor, changes: Sequence[str]) -> str:
    if not floor.site.clock.stretches:
        return "the workday has no working hours"
    what = (
        "no hours fit all its limits" if len(floor.plan.stuck) < 2 else "no days keep all coats in their recoat windows"
    )
    return f"{what}; " + (
        f"it would fit with: {'; or '.join(changes)}" if changes else "no single change would let it fit"
    )


def _not_ready(floor: PlannedFloor, title: str, slot: int, why: str) -> list[Blocked]:
    return [_blocked(floor, title, (0, slot), f"not ready: {why}")] if slot > 0 and why else []


def _weather_spans(floor: PlannedFloor, placed: Placed) -> list[Blocked]:
    """Return what blocked a task between the time it was due and its start; nothing where only the night did."""
    link, clock = placed.link, floor.site.clock
    needed_h = _tack_free_h(link.setting, placed.start)
    spans = blocked_spans(link.conditions, clock, math.floor(placed.earliest), placed.start, needed_h=needed_h)
    if all(span.why == NIGHT for span in spans):
        return []
    return [_blocked(floor, link.task.title, (span.first_slot, span.end_slot), span.why) for span in spans]


def _tack_free_h(setting: Setting | None, slot: int) -> float:
    over = setting.over("tack_free_h", slot) if setting else None
    return 0.0 if over is None else (over - slot) / SLOTS_PER_HOUR


def _blocked(floor: PlannedFloor, title: str, span: tuple[int, int], why: str) -> Blocked:
    clock = floor.site.clock
    return Blocked(
        start=clock.moment(span[0]), end=clock.moment(span[1]), task=f"{floor.works.floor}: {title}", why=why
    )


# --- for drawing -----------------------------------------------------------------------------------------------------


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
