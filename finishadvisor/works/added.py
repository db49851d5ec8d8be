"""Work that the plan had to add to a floor: a test that is missing, screening past a recoat window."""

from collections.abc import Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.errors import CatalogError
from finishadvisor.formulas.slab_tests import COUNT_RULES
from finishadvisor.records.plan import Added
from finishadvisor.records.works import FloorWorks, MaterialUse, Task
from finishadvisor.works.labor import crew_hours
from finishadvisor.works.stack import source_note, work_item
from finishadvisor.works.takeoff import UNITS


def added_task(item_id: str, works: FloorWorks, why: str, catalog: Catalog, before: str | None = None) -> Task:
    """Return a task over the whole floor for a work item that the works do not hold.

    Args:
        item_id: a work item that is done over an area, or on as many pieces as a counting rule gives for the area.
        works: the floor's works.
        why: the reason a person reads.
        catalog: work items and materials.
        before: id of the task that it goes before, where more than one of it may be added.

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
    return Task(
        id=f"{item_id}-before-{before}" if before else item_id,
        work_item=item_id,
        title=item.title,
        layer=None,
        coat=None,
        extent=item.extent,
        quantity=quantity,
        unit=UNITS[item.extent],
        crew_hours=crew_hours(item, quantity),
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
