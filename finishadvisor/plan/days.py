"""A quick estimate of how long a floor is out of service, to compare finishes; the plan proper comes from `make`."""

import math

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import Material
from finishadvisor.job.document import Floor, Job
from finishadvisor.plan.phases import FIND_OUT
from finishadvisor.plan.setting import Event, line_of
from finishadvisor.records.works import FloorWorks, Task

_FOR_VEHICLES = frozenset({"garage", "driveway", "warehouse", "wash-bay"})


def days_out(works: FloorWorks, job: Job, catalog: Catalog) -> float:
    """Return about how many days a floor is out of service for a finish.

    Working days of everything but tests, drying between tasks, recoat minimums, and the last coat's cure until
    furniture or, where cars drive, vehicles may come; in the room of the job, else at 70 °F. Weather, weekends, recoat
    maximums and other floors are left to the plan.

    Args:
        works: one finish on one floor.
        job: crew, workday, and the floor with its room and use.
        catalog: work items, materials and limits.
    """
    floor = next((floor for floor in job.floors if floor.name == works.floor), None)
    slab_f = _slab_f(floor, catalog)
    tasks = [t for t in works.tasks if t.certain and catalog.work_items[t.work_item].phase > FIND_OUT]
    hours = sum(task.crew_hours.expected for task in tasks) / job.crew
    coats = [coat for task in tasks if (coat := _coat(task, catalog)) is not None]
    waits = sum(_wait_h(task, catalog) for task in tasks)
    waits += sum(_time_h(coat, "recoat_min_h", slab_f) for coat in coats[:-1])
    return math.ceil(hours / max(1.0, job.workday.hours)) + (waits + _last_h(coats, floor, slab_f)) / 24


def _coat(task: Task, catalog: Catalog) -> Material | None:
    return next((m for use in task.materials if (m := catalog.materials[use.material]).cure), None)


def _wait_h(task: Task, catalog: Catalog) -> float:
    wait = catalog.work_items[task.work_item].wait_hours
    return wait.expected if wait is not None and _coat(task, catalog) is None else 0.0


def _last_h(coats: list[Material], floor: Floor | None, slab_f: float) -> float:
    if not coats:
        return 0.0
    use = floor.answers.get("use") if floor else None
    driven = use in _FOR_VEHICLES and line_of(coats[-1], "vehicle_h") is not None
    return _time_h(coats[-1], "vehicle_h" if driven else "furniture_h", slab_f)


def _time_h(coat: Material, event: Event, slab_f: float) -> float:
    line = line_of(coat, event)
    return 0.0 if line is None else line.at(slab_f).value


def _slab_f(floor: Floor | None, catalog: Catalog) -> float:
    room = floor.room if floor else None
    if room is None:
        return catalog.limits["room-temperature-f"].value
    return room.air if room.slab is None else room.slab
