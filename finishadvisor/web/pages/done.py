"""The form for what is finished: all of a task, or the zones or the area of it that are done."""

import datetime
import math
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from finishadvisor.errors import JobError, UsageError
from finishadvisor.records.whole import WholeJob
from finishadvisor.web.forms import Fields, read_day
from finishadvisor.web.job_units import number_from
from finishadvisor.web.rendering import at
from finishadvisor.web.site import JobAt, job_at

ZONE: Final = "zone:"
"""How the fields of the zones begin; the floor's number and the zone's letter follow."""


@dataclass(frozen=True)
class Part:
    """How much of a task was done: an area, zones by their letters, or all of it where both are empty."""

    area_ft2: float | None = None
    zones: tuple[str, ...] = ()


def zones_to_tick(whole: WholeJob) -> list[dict[str, Any]]:
    """Return the floors that joints cut into zones, each with its number in the job and the letters of its zones."""
    from finishadvisor.works.zone_names import zone_label

    rows = []
    for number, outcome in enumerate(whole.floors, start=1):
        zones = outcome.works.zones if outcome.works else ()
        if len(zones) > 1:
            rows.append({"number": number, "floor": outcome.floor.name, "zones": [zone_label(zone) for zone in zones]})
    return rows


def finished(request: Request, fields: Fields) -> Response:
    """Write down that a task is finished, or which part of it is done.

    Raises:
        UsageError: no task is chosen, or the day, the hour or the part is missing or wrong.
        JobError: the floor has no such task, or the task no such part; nothing is written then.
    """
    from finishadvisor.whole_job.changes import record_done

    here = job_at(request)
    floor, task, day, ended = _when(fields)
    part = part_of(fields, here, floor)
    done = next((len(each.done) for each in here.job.floors if each.name == floor), 0)
    try:
        record_done(
            here.folder, floor, task, day,
            ended=ended, and_before="before" in fields, area_ft2=part.area_ft2, zones=part.zones,
        )  # fmt: skip
    except JobError as error:  # the form shows which floor and task are meant
        place = f'floor "{floor}", done {done + 1} ({task}): '
        raise JobError(*(_begun_large(line.removeprefix(place)) for line in error.mistakes)) from None
    return RedirectResponse(at("job", here.name, "days") + "?saved", 303)


def is_about_part(fields: Fields) -> bool:
    """Return whether a refused form was refused for the part that it names: task, day and hour can be read."""
    with suppress(UsageError):
        _when(fields)
        return fields.get("how") == "part" or _names_part(fields)
    return False


def _when(fields: Fields) -> tuple[str, str, datetime.date, datetime.time | None]:
    """Return the floor, the task, the day and the hour that a form names.

    Raises:
        UsageError: one is missing or wrong.
    """
    floor, _, task = fields.get("task", "").partition("\n")
    day = read_day(fields.get("date", ""), "Finished on")
    if day is None or not task.strip():
        raise UsageError("Choose the task, and the day on which it was finished.")
    hour = fields.get("time", "").strip()
    try:
        ended = datetime.time.fromisoformat(hour) if hour else None
    except ValueError:
        raise UsageError("The hour must be a time of day in 24 hours, like 14:30.") from None
    return floor.strip(), task.strip(), day, ended


def part_of(fields: Fields, here: JobAt, floor: str) -> Part:
    """Return how much of a task a form says is done.

    Raises:
        UsageError: it says both all and a part, both zones and an area, neither, or a zone of another floor.
    """
    if fields.get("how", "all") != "part":
        if _names_part(fields):
            raise UsageError('Zones or an area are entered, but "all of it" is chosen. Choose one of the two.')
        return Part()
    if "before" in fields:
        raise UsageError('"And everything before it" goes with all of a task. Save the part of one task at a time.')
    zones, area = _zones_of(fields, here, floor), fields.get("area", "").strip()
    if bool(zones) == bool(area):
        raise UsageError("Tick the zones that are done, or type the area: one of the two.")
    return Part(zones=zones) if zones else Part(area_ft2=_area_ft2(area, here.job.units))


def _names_part(fields: Fields) -> bool:
    return bool(fields.get("area", "").strip()) or any(name.startswith(ZONE) for name in fields)


def _zones_of(fields: Fields, here: JobAt, floor: str) -> tuple[str, ...]:
    names = {str(number): each.name for number, each in enumerate(here.job.floors, start=1)}
    zones = []
    for name in fields:
        number, _, zone = name.removeprefix(ZONE).partition(":")
        if not name.startswith(ZONE):
            continue
        if names.get(number) != floor:
            raise UsageError(f"Zone {zone} of {names.get(number, 'no floor')} is ticked, but the task is on {floor}.")
        zones.append(zone)
    return tuple(zones)


def _area_ft2(typed: str, units: str) -> float:
    unit = "m²" if units == "metric" else "ft²"
    try:
        area = float(typed.replace(",", ""))
    except ValueError:
        area = math.nan
    if not 0 < area < math.inf:
        raise UsageError(f'The area must be a number of {unit} above zero, like 60. "{typed[:40]}" is not.')
    return number_from(area, "ft²", units)


def _begun_large(line: str) -> str:
    return line[:1].upper() + line[1:]
