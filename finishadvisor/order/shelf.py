"""Whether what is bought today still keeps on the day that it is laid."""

import datetime
from collections.abc import Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.plan import Plan
from finishadvisor.records.works import FloorWorks

_DAYS_PER_MONTH = 365.25 / 12


def shelf_warnings(works: Sequence[FloorWorks], plan: Plan, bought: datetime.date, catalog: Catalog) -> tuple[str, ...]:
    """Return a sentence for each material whose shelf life ends before its last use in the plan.

    Args:
        works: the works that the plan was made for.
        plan: the plan of the days.
        bought: the day of the order.
        catalog: the catalog as this job sees it.
    """
    tasks = {(each.floor, task.id): task for each in works for task in each.tasks}
    last_use: dict[str, datetime.date] = {}
    for step in plan.steps:
        task = tasks.get((step.floor, step.task_id or ""))
        for use in task.materials if task else ():
            day = step.end.date()
            last_use[use.material] = max(day, last_use.get(use.material, day))
    return tuple(
        f"{catalog.materials[id_].name} keeps {months:g} months unopened; bought on {bought.isoformat()} it is too old "
        f"for its last use on {day.isoformat()}. Order it later."
        for id_, day in last_use.items()
        for months in [catalog.materials[id_].shelf_life_months]
        if months is not None and (day - bought).days > months * _DAYS_PER_MONTH
    )
