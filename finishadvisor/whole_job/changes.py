"""What the command line and the page change in a job folder."""

import datetime
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.errors import JobError, UsageError, nearest_of
from finishadvisor.job.document import Decision, Done, Floor, Used
from finishadvisor.job.edits import add_done, add_used
from finishadvisor.job.folder import OpenJob, open_job, user_files
from finishadvisor.job.new import new_job
from finishadvisor.records.works import Begun, FloorWorks, Task
from finishadvisor.whole_job.named import material_named
from finishadvisor.works.check_parts import check_parts
from finishadvisor.works.parts import begun, progress_of

NO_LAYER: Final = "surface"
"""What stands for a layer where a material belongs to none."""


def questions_for_new() -> tuple[Fact, ...]:
    """Return the decisive questions that a new job asks."""
    return tuple(fact for fact in load_catalog(user_files()).facts.values() if fact.asked_by_new)


def begin_job(
    folder: Path, name: str, answers: Mapping[str, str | float | bool], units: Literal["us", "metric"] = "us"
) -> OpenJob:
    """Write a first job.toml with these answers; a job that is there already is never touched."""
    return new_job(folder, name, answers, load_catalog(user_files()).facts, units=units)


def record_used(folder: Path, floor: str, used: Used) -> tuple[str, ...]:
    """Write down what was really used of a material, and return the user's own row that the material is, if it is one.

    Raises:
        JobError: there is no such material or layer, or the entry is refused; nothing is written then.
    """
    opened = open_job(folder)
    catalog = load_catalog(opened.own_paths)
    used = used.model_copy(update={"material": material_named(used.material, catalog)})
    decisions = {each.name: each.decision for each in opened.job.floors}
    _check_layer(used, decisions.get(floor), catalog)
    add_used(folder, floor, used)
    return tuple(row for row in catalog.own_rows if row.startswith(f"material {used.material} ("))


def _check_layer(used: Used, decision: Decision | None, catalog: Catalog) -> None:
    """Refuse a layer that no finish lays with this material: neither plan nor next estimate would find it again.

    Raises:
        JobError: the layer is not one of the material, nor of the finish that was decided on.
    """
    layers = [(finish.id, layer) for finish in catalog.finishes.values() for layer in finish.layers]
    of_material = {layer.name for _, layer in layers if layer.material == used.material}
    of_finish = {layer.name for id_, layer in layers if decision and id_ == decision.finish}
    if of_material and used.layer not in {NO_LAYER} | of_material | of_finish:
        allowed = ", ".join(sorted(of_material | of_finish))
        raise JobError(f'"{used.layer}" is not a layer that {used.material} goes into; write one of: {allowed}.')


@dataclass(frozen=True)
class Recorded:
    """What was written down of the work on a floor."""

    tasks: tuple[Task, ...]
    rest: Begun | None
    """What is left of the task, where only a part of it was recorded."""
    units: str
    own_rows: tuple[str, ...]
    """The user's own rows that the works were made with."""


def record_done(
    path: Path,
    floor: str,
    task: str,
    on: datetime.date,
    *,
    ended: datetime.time | None,
    and_before: bool,
    area_ft2: float | None = None,
    zones: Sequence[str] = (),
) -> Recorded:
    """Write down that a task of a floor's works is finished, or which part of it is done.

    Args:
        path: the job folder or its job.toml.
        floor: the floor's name.
        task: the task's id, or its title.
        on: the day on which it ended.
        ended: when on that day, None where nobody knows.
        and_before: also everything that stands before it in the works and is neither recorded nor under a coat.
        area_ft2: how much of it was done this time, where it is not finished.
        zones: instead of the area, which zones were done this time.

    Raises:
        JobError: there is no such floor or task, or the entry is refused; nothing is written then.
        UsageError: a part was given together with all that stands before it.
    """
    from finishadvisor.whole_job.work_through import work_through

    is_part = area_ft2 is not None or bool(zones)
    if is_part and and_before:
        raise UsageError("--and-before goes with a finished task. Record the part of one task at a time.")
    whole = work_through(path, on, floor_name=floor, with_order=False)
    (outcome,) = whole.floors
    works = outcome.works
    if works is None or whole.plan is None:
        raise JobError(f'There are no works on "{floor}" yet: give it an outline, and decide on a finish.')
    recorded = {each.task for each in outcome.floor.done if not each.is_part}
    behind = {*recorded, *whole.plan.done.get(outcome.floor.name, ())}
    tasks = [each for each in works.tasks if each.certain]
    place = _place_of(task, tasks, recorded)
    named = tasks[place]
    if is_part and named.id in behind:
        raise JobError(f'"{named.title}" is done already, by the record or under a coat: no part of it is left.')
    before = [each for each in tasks[:place] if each.id not in behind] if and_before else []
    rows = [Done(task=each.id, date=on) for each in before]
    rows.append(Done(task=named.id, date=on, time=ended, area_ft2=area_ft2, zones=tuple(zones)))
    after = outcome.floor.model_copy(update={"done": (*outcome.floor.done, *rows)})
    check_parts(after, whole.catalog, whole.job.units)
    add_done(whole.folder, outcome.floor.name, rows)
    rest = _rest(named, works, after, on, whole.catalog) if is_part else None
    return Recorded((*before, named), rest, whole.job.units, whole.catalog.own_rows)


def _rest(task: Task, works: FloorWorks, floor: Floor, on: datetime.date, catalog: Catalog) -> Begun | None:
    """Return what is left of a task of which parts are recorded, None where they make the whole."""
    progress = progress_of(works, floor, on, catalog)[task.id]
    return None if progress.finished else begun(task, progress, works, catalog)


def _place_of(named: str, tasks: Sequence[Task], recorded: Collection[str]) -> int:
    """Return the place of a task by its id or title; of several with one title, the first that is not recorded.

    Raises:
        JobError: there is none.
    """
    wanted = named.strip().casefold()
    found = [n for n, task in enumerate(tasks) if wanted in {task.id.casefold(), task.title.casefold()}]
    if not found:
        ids = [task.id for task in tasks]
        listed = nearest_of(named, ids) or f" The works are: {', '.join(ids)}."
        raise JobError(f'There is no task "{named}" on this floor.{listed}')
    return next((n for n in found if tasks[n].id not in recorded), found[0])
