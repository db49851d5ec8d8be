"""The plan as a calendar file (RFC 5545): steps, ends of recoat windows, return to service, days to inspect."""

import datetime
import hashlib
from typing import Any
from zoneinfo import ZoneInfo

from finishadvisor.job.document import Job
from finishadvisor.records.plan import Plan, Step

_YEAR = datetime.timedelta(days=366)
_BACK = {
    "foot": "feet", "water": "water", "furniture": "furniture", "cover": "rugs and covers", "vehicle": "vehicles",
}  # fmt: skip
_INSPECT = (
    "Look for what the care sheet names: does water bead, is it dull, is it scratched? Renew by that, not by the date."
)
_MONEY = "It costs about"
"""How the note begins that tells what an added task costs: the crew, whose calendar this is, is told no money."""


def make_calendar(plan: Plan, job: Job, stamp: datetime.datetime | None = None) -> bytes:
    """Return the plan as an iCalendar file.

    An event has the same UID whenever the same task of the same job is planned, so that a newer file moves it.

    Args:
        plan: the plan.
        job: the job, for its name and time zone.
        stamp: when the file is made, aware; now if not given.
    """
    from icalendar import Calendar

    made = Calendar()
    made.add("prodid", "-//finishadvisor//plan of the days//EN")
    made.add("version", "2.0")
    made.add("x-wr-calname", job.name)
    zone = ZoneInfo(job.time_zone)
    stamped = (stamp or datetime.datetime.now(datetime.UTC)).astimezone(datetime.UTC).replace(microsecond=0)
    seen: dict[str, int] = {}
    for step in plan.steps:
        for key, event in _events_of(step):
            seen[key] = seen.get(key, 0) + 1
            made.add_component(_event(event, f"{job.name}/{key}/{seen[key]}", stamped, zone))
    for floor, back in plan.back_in_service.items():
        for field, words in _BACK.items():
            moment = getattr(back, field)
            if moment is not None:
                event = {"summary": f"{floor}: back for {words}", "dtstart": moment, "dtend": moment}
                made.add_component(_event(event, f"{job.name}/{floor}/back/{field}", stamped, zone))
    for floor, days in plan.inspect.items():
        for number, day in enumerate(days, start=1):
            event = {"summary": f"{floor}: inspect the finish", "dtstart": day, "description": _INSPECT}
            made.add_component(_event(event, f"{job.name}/{floor}/inspect/{number}", stamped, zone))
    planned = [step.start.date() for step in plan.steps] or [stamped.date()]
    made.add_missing_timezones(first_date=min(planned) - _YEAR, last_date=max(planned) + _YEAR)
    return bytes(made.to_ical())


def _notes(step: Step) -> list[str]:
    return [note for note in step.notes if not note.startswith(_MONEY)]


def _events_of(step: Step) -> list[tuple[str, dict[str, Any]]]:
    """Return the step and, where it has one, the end of its recoat window."""
    key = f"{step.floor}/{step.task}"
    events: list[tuple[str, dict[str, Any]]] = [
        (
            key,
            {
                "summary": f"{step.floor}: {step.task}",
                "dtstart": step.start,
                "dtend": step.end,
                "description": "\n".join([f"{step.hours:g} crew-hours, {step.crew_words}", *_notes(step)]),
            },
        )
    ]
    if step.latest is not None and step.latest > step.end:
        late = {
            "summary": f"{step.floor}: recoat window ends ({step.task})",
            "dtstart": step.latest,
            "dtend": step.latest,
        }
        events.append((f"{key}/latest", late))
    return events


def _event(fields: dict[str, Any], key: str, stamp: datetime.datetime, zone: ZoneInfo) -> Any:
    from icalendar import Event

    event = Event()
    event.add("uid", f"{hashlib.sha256(key.encode()).hexdigest()[:32]}@finishadvisor")
    event.add("dtstamp", stamp)
    for name, value in fields.items():
        event.add(name, value.astimezone(zone) if isinstance(value, datetime.datetime) else value)
    return event
