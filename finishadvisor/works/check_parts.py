"""What is wrong with the parts of tasks that a job records: zones that there are not, more than there is to do."""

from collections.abc import Iterator, Mapping
from typing import Final, Literal

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import WorkItem
from finishadvisor.errors import JobError
from finishadvisor.job.catalog_check import plain_task, task_items
from finishadvisor.job.document import Done, Floor
from finishadvisor.units import SQUARE_METERS_PER_SQUARE_FOOT
from finishadvisor.works.parts import part_ft2
from finishadvisor.works.takeoff import Takeoff, take_off
from finishadvisor.works.zone_names import zone_label, zone_named

Units = Literal["us", "metric"]

_ROUNDED: Final = 1.01
"""An area written down in round numbers may be this much of what is left: our choice."""
_LINES: Final = frozenset({"edge", "joint"})


def check_parts(floor: Floor, catalog: Catalog, units: Units) -> None:
    """Refuse parts of tasks that cannot be meant.

    Args:
        floor: the floor with its records.
        catalog: the catalog as this job sees it.
        units: units of the job, in which areas are told.

    Raises:
        JobError: a part names no zone of the floor, one twice, more than is left, or a task that has no parts;
            `mistakes` lists every one.
    """
    if any(done.is_part for done in floor.done):
        items = task_items(catalog)
        lines = [
            f'floor "{floor.name}", {mistake}' for mistake in _mistakes(floor, items, take_off(floor, catalog), units)
        ]
        if lines:
            raise JobError(*lines)


def _mistakes(floor: Floor, items: Mapping[str, WorkItem], takeoff: Takeoff, units: Units) -> Iterator[str]:
    seen: dict[str, set[str]] = {}
    left: dict[str, float] = {}
    for number, done in enumerate(floor.done, start=1):
        item = items.get(plain_task(done.task, items))
        if not done.is_part or item is None:
            continue
        here = f"done {number} ({done.task})"
        wrong = _unfit(done, item) or _wrong_zone(done, takeoff, seen.setdefault(done.task, set()))
        if wrong:
            yield f"{here}: {wrong}"
            continue
        there = left.get(done.task, takeoff.area_ft2)
        part = part_ft2(done, takeoff.zones)
        if part > there * _ROUNDED + 1e-6:
            told, left_of_it, whole = (_told(area_ft2, units) for area_ft2 in (part, there, takeoff.area_ft2))
            most = (
                f"the whole floor of {whole}" if left_of_it == whole else f"the {left_of_it} of {whole} that are left"
            )
            yield f"{here}: {told} is more than {most}. Correct the area, or leave it out: then the whole task is done."
        left[done.task] = max(0.0, there - part)


def _unfit(done: Done, item: WorkItem) -> str | None:
    """Return what is wrong where a task has no such part; what a plan put in between coats is done in one go."""
    put_in = "-before-" in done.task
    if not put_in and (item.extent == "area" or (item.extent in _LINES and done.zones)):
        return None
    if not put_in and item.extent in _LINES:
        return "it is measured along lines, not by area. Name the zones that are done, or record it when all of it is."
    return "this work has no parts. Leave out area and zones, and record it when it is finished."


def _wrong_zone(done: Done, takeoff: Takeoff, seen: set[str]) -> str | None:
    labels = [zone_label(zone) for zone in takeoff.zones]
    for typed in done.zones:
        zone = zone_named(typed, takeoff.zones)
        if zone is None and len(labels) == 1:
            return f'there is no zone "{typed}": no joint cuts this floor into zones. Give the area that is done.'
        if zone is None:
            return f'there is no zone "{typed}" on this floor; it has {", ".join(labels)}.'
        if zone.name in seen:
            return f"zone {zone_label(zone)} is recorded already. Name each zone once."
        seen.add(zone.name)
    return None


def _told(area_ft2: float, units: Units) -> str:
    if units == "metric":
        return f"{area_ft2 * SQUARE_METERS_PER_SQUARE_FOOT:,.1f} m²"
    return f"{area_ft2:,.0f} ft²"
