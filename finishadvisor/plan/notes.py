"""What a step bears beside its times: why not sooner, hold points, pot life, what is assumed, what it costs."""

import datetime
import math

from finishadvisor.job.document import Job
from finishadvisor.plan.chain import COVERING
from finishadvisor.plan.clock import SLOTS_PER_HOUR
from finishadvisor.plan.phases import AFTER
from finishadvisor.plan.planned import PlannedFloor
from finishadvisor.plan.readiness import JOINT_FILLING, test_notes
from finishadvisor.plan.search import Placed
from finishadvisor.plan.service import back_in_service
from finishadvisor.plan.setting import line_of


def opening_notes(floor: PlannedFloor) -> tuple[str, ...]:
    """Return what the whole plan of a floor rests on."""
    planned = {placed.link.item.id for placed in floor.plan.placed}
    possible = [task.title for task in floor.works.tasks if not task.certain and task.work_item not in planned]
    perhaps = f"Perhaps also, by what is still to be found out: {'; '.join(possible)}." if possible else ""
    laid = floor.plan.laid
    since = (
        f"{laid.link.task.title} is down since {_day(floor, laid.start)}; the plan goes on from there." if laid else ""
    )
    done = f"Done by the record: {'; '.join(floor.recorded)}." if floor.recorded else ""
    return tuple(said for said in (since, done, *floor.air.assumptions, perhaps) if said)


def notes_of(floor: PlannedFloor, placed: Placed, job: Job) -> tuple[str, ...]:
    """Return what has to be known for one task, a sentence each."""
    link, notes = placed.link, []
    if link.not_before_why and link.not_before_slot > 0:
        notes.append(f"Not before {_day(floor, link.not_before_slot)}: {link.not_before_why}.")
    begun = floor.begun.get(link.task.id)
    if begun is not None:
        notes.append(f"{begun.said}; this is the rest of it.")
    if link.first_laid is not None:
        notes.append("Each part ends at a joint, and the next coat keeps the window of the part that was laid first.")
    if link.item.hold_point:
        notes.append("Hold point: go on only when this is done and right.")
    notes += test_notes(link, floor.site)
    if link.inserted and link.coat is None:
        notes.append(f"{link.task.why}; the plan added it, and the order holds its material.")
    if link.item.id == JOINT_FILLING and floor.plan.placed[-1] == placed and link.not_before_slot > 0:
        notes.append("Put behind the rest: before the coats the slab is too young to fill its joints.")
    if link.inserted:
        notes.append(_cost_note(floor, placed, job))
    if link.item.phase > AFTER:
        notes += _not_yet_notes(floor, placed)
    if link.item.wets_slab and floor.finish.film == "tight":
        notes.append("It wets the slab: older moisture readings no longer count, and drying starts again.")
    if link.coat is not None:
        notes += _coat_notes(floor, placed)
    return tuple(notes)


def _not_yet_notes(floor: PlannedFloor, placed: Placed) -> list[str]:
    """Return what the floor may not yet bear when it is closed off or handed over."""
    back = back_in_service(floor)
    now = floor.site.clock.moment(placed.end)
    times = (("water", back.water), ("furniture", back.furniture), ("rugs and covers", back.cover),
             ("vehicles", back.vehicle))  # fmt: skip
    later = [f"{words} from {moment_words(when)}" for words, when in times if when is not None and when > now]
    if not later:
        return []
    if placed.link.item.id == COVERING:
        if back.cover is None or back.cover <= now:
            return []
        return [f"The cover stays rolled up until {moment_words(back.cover)}: leave it there with that day on it."]
    return [f"Not yet at handover, and written on the care sheet: {', '.join(later)}."]


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
    notes = [*floor.ready.conditions] if coats[:1] == [placed] and floor.plan.laid is None else []
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
        shade = "cover the glass" if site.place == "indoors" else "put up shade"
        notes.append(f"Keep sun strips off: lay each part while it is in the shade, or {shade}.")
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
    bears_water = setting.over("water_h", placed.end) if setting and floor.air.outdoors else None
    said += f" No rain and no hose until {_time(floor, bears_water)}." if bears_water else ""
    line = line_of(placed.link.coat, "pot_life_min") if placed.link.coat else None
    if line is None:
        return said
    hour = placed.start // SLOTS_PER_HOUR
    warmest_f = max(floor.air.slab_f[hour], floor.air.air_f[hour])
    minutes = line.at(min(max(warmest_f, -40.0), 160.0)).value
    return f"Pot life about {minutes:.0f} min at {warmest_f:.0f} °F: pour out at once. {said}"


def moment_words(moment: datetime.datetime) -> str:
    """Return a time as the plan's notes write it."""
    return f"{moment:%a} {moment.date().isoformat()} {moment:%H:%M}"


def _time(floor: PlannedFloor, slot: float) -> str:
    return moment_words(floor.site.clock.moment(slot))


def _day(floor: PlannedFloor, slot: float) -> str:
    return floor.site.clock.moment(slot).date().isoformat()
