"""Work beside that of the finish: what the plan had to add to a floor, and what is recorded as done and not asked for.

A plan adds a test that is missing, or screening past a recoat window.
"""

import datetime
from collections.abc import Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import WorkItem
from finishadvisor.errors import CatalogError
from finishadvisor.formulas.slab_tests import COUNT_RULES
from finishadvisor.job.catalog_check import plain_task
from finishadvisor.job.document import Done, Floor
from finishadvisor.records.plan import Added
from finishadvisor.records.works import FloorWorks, MaterialUse, Task
from finishadvisor.works.labor import crew_hours
from finishadvisor.works.parts import rest_of
from finishadvisor.works.stack import source_note, work_item
from finishadvisor.works.takeoff import UNITS, Extents, extents_of, take_off
from finishadvisor.works.zone_names import zone_named


def added_task(
    item_id: str, works: FloorWorks, why: str, catalog: Catalog, *, before: str | None = None, times: int = 1
) -> Task:
    """Return a task over the whole floor for a work item that the works do not hold.

    Args:
        item_id: a work item that is done over an area, or on as many pieces as a counting rule gives for the area.
        works: the floor's works.
        why: the reason a person reads.
        catalog: work items and materials.
        before: id of the task that it goes before, where more than one of it may be added.
        times: which time it is done on this floor, where the times before are recorded.

    Raises:
        CatalogError: there is no such work item, or its extent does not follow from the area.
    """
    item = work_item(item_id, catalog)
    if item.extent == "area":
        quantity = works.area_ft2
    elif item.extent == "count" and item.count_rule in COUNT_RULES:
        quantity = float(COUNT_RULES[item.count_rule](works.area_ft2))
    else:
        raise CatalogError(
            f'Work item "{item_id}": its extent is "{item.extent}"; what a plan adds is done over an "area", or is a '
            f'"count" with one of the rules {", ".join(COUNT_RULES)}.'
        )
    id_ = f"{item_id}-before-{before}" if before else item_id if times == 1 else f"{item_id}-{times}"
    return _task(id_, item, Extents(quantity, UNITS[item.extent]), why, catalog)


def recorded_beside(works: FloorWorks, floor: Floor, on: datetime.date, catalog: Catalog) -> tuple[Added, ...]:
    """Return the tasks that the job records as done and the works do not hold, each with the task that follows it.

    A rule that asked for a task may ask no more once it is done, and what a plan added is no part of the works. Coats
    of another finish are left out: what lies on the slab is told by `layer_down`.

    Args:
        works: the works of the floor.
        floor: the floor with its records.
        on: the day; later records do not count yet.
        catalog: the catalog as this job sees it.
    """
    held = {task.id for task in works.tasks if task.certain}
    rows: dict[str, list[Done]] = {}
    for done in floor.done:
        if done.task not in held and done.date <= on:
            rows.setdefault(done.task, []).append(done)
    found = []
    for id_, records in rows.items():
        item = catalog.work_items.get(plain_task(id_, catalog.work_items))
        if item is None:
            continue
        extents = extents_of(item, take_off(floor, catalog), catalog, asked_for=True)
        task = _task(id_, item, extents, "Recorded as done", catalog)
        part = _share(records, works)
        found.append(
            Added(task=task if part >= 1 else rest_of(task, 1 - part, catalog), before=_following(task, works, catalog))
        )
    return tuple(found)


def _share(records: Sequence[Done], works: FloorWorks) -> float:
    """Return how much of a task its records say is done."""
    if not all(done.is_part for done in records) or not works.area_ft2:
        return 1.0
    zones = [zone for done in records for name in done.zones if (zone := zone_named(name, works.zones)) is not None]
    area_ft2 = sum(zone.area_ft2 for zone in zones) + sum(done.area_ft2 or 0.0 for done in records)
    return min(1.0, area_ft2 / works.area_ft2)


def _following(task: Task, works: FloorWorks, catalog: Catalog) -> str | None:
    """Return the task of the works that a task goes before: the one that its id names, or by its phase."""
    named = task.id.partition("-before-")[2]
    phase = catalog.work_items[task.work_item].phase
    later = (each.id for each in works.tasks if catalog.work_items[each.work_item].phase > phase)
    return named if any(each.id == named for each in works.tasks) else next(later, None)


def _task(id_: str, item: WorkItem, extents: Extents, why: str, catalog: Catalog) -> Task:
    return Task(
        id=id_,
        work_item=item.id,
        title=item.title,
        layer=None,
        coat=None,
        extent=item.extent,
        quantity=extents.quantity,
        volume_ft3=extents.volume_ft3,
        unit=extents.unit,
        crew_hours=crew_hours(item, extents.quantity),
        materials=tuple(
            MaterialUse(
                material=used.material, layer=None, coats=used.coats, basis=catalog.materials[used.material].basis,
                first_coat=False, source=source_note(catalog.materials[used.material].source),
            )
            for used in item.materials
        ),
        certain=True,
        why=why,
        rule=None,
        source=source_note(item.source),
    )  # fmt: skip


def with_added(works: FloorWorks, added: Sequence[Added]) -> FloorWorks:
    """Return the works with what the plan added, each before its task; what was only possible of it makes way."""
    tasks = [task for task in works.tasks if task.certain or task.id not in {new.task.id for new in added}]
    for new in added:
        place = next((number for number, task in enumerate(tasks) if task.id == new.before), 0)
        tasks.insert(place, new.task)
    return works.model_copy(update={"tasks": tuple(tasks)})
