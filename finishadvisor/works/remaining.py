"""What is left to do of a floor's works, and to buy for, once some of it is done."""

from collections.abc import Collection, Mapping
from typing import Final

from finishadvisor.records.works import Begun, FloorWorks, Task

_MOCK_UP: Final = "mock-up"


def remaining(works: FloorWorks, done: Collection[str], begun: Mapping[str, Begun]) -> FloorWorks:
    """Return the works without what is done; the same works where nothing of them is.

    With a coat that is down, what was only possible under it has lapsed, and so has the mock-up, with one begun too.

    Args:
        works: the works of the floor.
        done: ids of tasks that are done.
        begun: by task id, what is left of tasks that are done in part.
    """
    finished = [number for number, task in enumerate(works.tasks) if task.id in done]
    parts = [number for number, task in enumerate(works.tasks) if task.id in begun and task.id not in done]
    if not finished and not parts:
        return works
    last_coat = max((number for number in finished if works.tasks[number].coat is not None), default=-1)
    left = [
        begun[task.id].rest if number in parts else task
        for number, task in enumerate(works.tasks)
        if task.id not in done and (task.certain or number > last_coat)
    ]
    made = last_coat >= 0 or _MOCK_UP in done or any(works.tasks[number].coat is not None for number in parts)
    return works.model_copy(update={"tasks": tuple(left), "mock_up_ft2": 0.0 if made else works.mock_up_ft2})


def supplied(works: FloorWorks, done: Collection[str]) -> tuple[Task, ...]:
    """Return the tasks that are done and took material, in the order of the works."""
    return tuple(task for task in works.tasks if task.id in done and task.materials)
