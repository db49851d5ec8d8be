"""What the job records of the work: when each task was done, with what, and what air and slab were read that day."""

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Done, Floor, Reading, Used
from finishadvisor.papers.quantities import said
from finishadvisor.papers.readings import reading_text
from finishadvisor.papers.wording import area_text, day_text, hour_text, quantity_text
from finishadvisor.records.order import Batch
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import Begun, Task
from finishadvisor.works.parts import uses_of

AIR_READINGS: Final = {"air-temperature": "air", "air-rh": "RH", "slab-temperature": "slab"}
PHOTOS: Final = {"photograph-slab": "slab", "photograph-after-preparation": "after-preparation"}
"""By work item: what the photo shows that says the item is done."""


@dataclass(frozen=True)
class Recorded:
    """One task that is done: the day, the hour where it is known, and what was used for it."""

    day: datetime.date
    time: datetime.time | None = None
    used: tuple[Used, ...] = ()


def recorded(task: Task, outcome: FloorOutcome, whole: WholeJob) -> Recorded | None:
    """Return what the job records of a task up to a day, None where it is still to be done or nothing says when."""
    floor, on = outcome.floor, whole.on
    done = _last_done(task.id, floor, on)
    used = used_for(task, outcome, whole)
    if done is not None:
        return Recorded(done.date, done.time, used)
    if used:
        return Recorded(used[-1].date, None, used)
    if task.work_item == "mock-up":
        days = [made.date for made in floor.mock_ups if made.finish == outcome.finish and made.signed_by and made.date]
    else:
        shown = PHOTOS.get(task.work_item)
        days = [photo.taken.date() for photo in floor.photos if photo.taken and photo.shows == shown]
    known = [day for day in days if day <= on]
    return Recorded(min(known)) if known else None


def is_done(task: Task, whole: WholeJob, outcome: FloorOutcome) -> bool:
    """Return whether a task is behind the crew: as the plan has it, without one by the records alone."""
    done = whole.plan.done.get(outcome.floor.name) if whole.plan else None
    return recorded(task, outcome, whole) is not None if done is None else task.id in done


def still_to_mix(batches: Sequence[Batch], whole: WholeJob) -> tuple[Batch, ...]:
    """Return the batches of coats that are not down yet, of every floor."""
    down = {
        (outcome.floor.name, task.id)
        for outcome in whole.floors
        for task in (outcome.works.tasks if outcome.works else ())
        if is_done(task, whole, outcome)
    }
    return tuple(batch for batch in batches if (batch.floor, batch.task) not in down)


def done_text(task: Task, whole: WholeJob, outcome: FloorOutcome) -> str:
    """Return when a task that is done was done: "Tue Sep 22, 2026, 2:30 PM"."""
    found = recorded(task, outcome, whole) or _last_part(task, outcome, whole.on)
    return when_text(found, whole.job.units) if found else "done, day not recorded"


def begun_texts(task: Task, whole: WholeJob, outcome: FloorOutcome) -> tuple[str, str]:
    """Return of a task that is done in part the day of its last part, and what is done; of any other nothing."""
    begun = begun_on(task, whole, outcome)
    if begun is None:
        return "", ""
    return f"in part, {day_text(begun.last, whole.job.units)}", said(begun.said, whole.job.units)


def begun_on(task: Task, whole: WholeJob, outcome: FloorOutcome) -> Begun | None:
    """Return what is left of a task that is done in part, None of any other."""
    return whole.plan.begun.get(outcome.floor.name, {}).get(task.id) if whole.plan else None


def _last_part(task: Task, outcome: FloorOutcome, on: datetime.date) -> Recorded | None:
    parts = [done for done in outcome.floor.done if done.task == task.id and done.date <= on]
    last = max(parts, key=lambda done: (done.date, done.time or datetime.time.max), default=None)
    return Recorded(last.date, last.time) if last else None


def _last_done(task: str, floor: Floor, on: datetime.date) -> Done | None:
    found = [done for done in floor.done if done.task == task and done.date <= on and not done.is_part]
    return max(found, key=lambda done: done.date, default=None)


def used_for(task: Task, outcome: FloorOutcome, whole: WholeJob) -> tuple[Used, ...]:
    """Return the records of use that a coat rests on, the last of them the one that laid it; empty: not begun yet."""
    if outcome.works is None:
        return ()
    return tuple(used for used, _ in uses_of(task, outcome.works, outcome.floor, whole.on, whole.catalog))


def done_elsewhere(outcome: FloorOutcome, on: datetime.date) -> list[Done]:
    """Return what is recorded as done and is no task of the works: what the plan put in, or another finish's."""
    known = {task.id for task in outcome.works.tasks} if outcome.works else set()
    return [done for done in outcome.floor.done if done.task not in known and done.date <= on]


def title_of(done: Done, catalog: Catalog) -> str:
    """Return what a record of work done is called: its work item's title, else its id in plain words."""
    found = next((row for id_, row in catalog.work_items.items() if done.task in {id_, f"{id_}-1"}), None)
    return found.title if found else done.task.replace("-", " ").capitalize()


def when_text(found: Recorded, units: str) -> str:
    """Return the day, and the hour where it was written down: "Tue Sep 22, 2026, 2:30 PM"."""
    day = day_text(found.day, units)
    return day if found.time is None else f"{day}, {hour_text(found.time, units)}"


def used_text(found: Recorded, whole: WholeJob) -> str:
    """Return what a coat took and of which lot: "1.9 gal on 452 ft², lot A-17"."""
    return "; ".join(_one_use(used, whole) for used in found.used)


def _one_use(used: Used, whole: WholeJob) -> str:
    material = whole.catalog.materials.get(used.material)
    amount = quantity_text(used.used, material.unit if material else "", whole.job.units)
    lot = f", lot {used.lot}" if used.lot else ""
    return f"{amount} on {area_text(used.area_ft2, whole.job.units)}{lot}"


def lots_of(layer: str, floor: Floor) -> str:
    """Return the lots recorded for a layer, each once."""
    return ", ".join(dict.fromkeys(used.lot for used in floor.used if used.layer == layer and used.lot))


def air_read(floor: Floor, day: datetime.date, units: str) -> str:
    """Return what was read of air and slab on a day: "air 68 °F, RH 50 %, slab 66 °F"; empty where nothing was."""
    read: dict[str, Reading] = {reading.kind: reading for reading in floor.readings if reading.date == day}
    return ", ".join(f"{name} {reading_text(read[kind], units)}" for kind, name in AIR_READINGS.items() if kind in read)


def days_on(whole: WholeJob, outcome: FloorOutcome) -> Iterator[datetime.date]:
    """Yield every day on which the floor was or will be worked on."""
    for task in outcome.works.tasks if outcome.works else ():
        found = recorded(task, outcome, whole)
        if found is not None and task.work_item not in PHOTOS:
            yield found.day
    for step in whole.plan.steps if whole.plan else ():
        if step.floor == outcome.floor.name:
            yield from (step.start.date(), step.end.date())
