"""What the works use up beside the tasks' own materials: protective equipment by crew and days, the wet-film gauge."""

import math

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Job
from finishadvisor.order.amounts import counted_amount
from finishadvisor.order.need import Coats, Line
from finishadvisor.order.wording import WORDS, coat_words
from finishadvisor.records.works import FloorWorks, MaterialUse
from finishadvisor.works.stack import source_note

GAUGE = "wet-film-gauge"


def hours_per_day(job: Job) -> float:
    """Return the length of the crew's workday [h]."""
    return job.workday.hours


def consumable_lines(works: FloorWorks, job: Job, catalog: Catalog) -> tuple[Line, ...]:
    """Return protective equipment for every certain task that asks for it, and a gauge where a film is laid."""
    hours = _hours_by_equipment(works, catalog)
    lines = [_equipment_line(works, id_, crew_hours, job, catalog) for id_, crew_hours in hours.items()]
    lays_film = any(use.basis == "film" and use.layer for task in works.tasks for use in task.materials)
    if lays_film and GAUGE in catalog.materials:
        lines.append(_counted_line(works, GAUGE, (1.0, "1 floor"), catalog))
    return tuple(lines)


def _hours_by_equipment(works: FloorWorks, catalog: Catalog) -> dict[str, float]:
    """Return crew-hours by piece of equipment; what is no material of the catalog is only printed on the job sheet."""
    hours: dict[str, float] = {}
    for task in works.tasks:
        if not task.certain:
            continue
        named = dict.fromkeys(catalog.work_items[task.work_item].ppe)
        for use in task.materials:
            named |= dict.fromkeys(catalog.materials[use.material].ppe)
        for id_ in named:
            if id_ in catalog.materials:
                hours[id_] = hours.get(id_, 0.0) + task.crew_hours.expected
    return hours


def _equipment_line(works: FloorWorks, id_: str, crew_hours: float, job: Job, catalog: Catalog) -> Line:
    days = max(1, math.ceil(crew_hours / (job.crew * hours_per_day(job)) - 1e-9))
    words = f"{job.crew} workers × {days} {'days' if days > 1 else 'day'}"
    return _counted_line(works, id_, (float(job.crew * days), words), catalog)


def _counted_line(works: FloorWorks, id_: str, pieces: tuple[float, str], catalog: Catalog) -> Line:
    """Return the line of a counted supply; `pieces` is how many times it is needed, and that in words."""
    material = catalog.materials[id_]
    source = source_note(material.source)
    use = MaterialUse(material=id_, layer=None, coats=1, basis=material.basis, first_coat=False, source=source)
    words = pieces[1] + coat_words(use, 1, works, catalog, WORDS["us"])
    coats = Coats(pieces[0], counted_amount(use, works, catalog), 1, words)
    return Line(works.floor, id_, None, True, material.basis, (coats,), source)
