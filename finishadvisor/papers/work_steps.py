"""The work of a floor step by step, in the order of the days: when, how long, what to do, and the batches."""

import re
from collections.abc import Collection, Iterator, Sequence
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.blocks import Block, hold, points, quiet, subheading, table, together
from finishadvisor.papers.client_options import open_conditions
from finishadvisor.papers.recorded import begun_on, done_text, is_done, recorded, used_text
from finishadvisor.papers.wording import (
    area_text,
    clock_text,
    counted,
    film_text,
    hours_text,
    length_text,
    measured_text,
    moment_text,
    number_text,
    quantity_text,
    sentence,
)
from finishadvisor.records.order import Batch
from finishadvisor.records.plan import Step
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks, Task
from finishadvisor.units import square_meters_per_liter_from_square_feet_per_gallon
from finishadvisor.works.zone_names import zone_letter

MOST_ROWS_TOGETHER: Final = 12
"""A task with more batches than this may go over two pages."""
SAID_ELSEWHERE: Final = ("Perhaps also", "Done by the record:", "Hold point:", "Part ", "It costs about")
"""How notes of the plan begin that the sheet gives in its own way, as steps, boxes or times; and what the crew is not
told: money."""
HIDING: Final = ("solid", "flake")
"""Covers under which the shade of the slab is not seen."""
_ZONE: Final = re.compile(r"\bzone (\d+)\b")


def work_steps(whole: WholeJob, outcome: FloorOutcome, works: FloorWorks, batches: Sequence[Batch]) -> Iterator[Block]:
    """Yield what is done in a table, then every task that is left: its head and its batches never parted."""
    chosen = next((finish for finish in outcome.advice.finishes if finish.id == works.finish), None)
    held = {sentence(condition) for condition in open_conditions(chosen)} if chosen else set()
    numbered = list(enumerate(in_order_of_days(whole, works), start=1))
    yield from _done_already(numbered, whole, outcome)
    for number, task in numbered:
        if is_done(task, whole, outcome):
            continue
        mixed = [batch for batch in batches if batch.floor == works.floor and batch.task == task.id]
        begun = begun_on(task, whole, outcome)
        left = begun.rest if begun else task
        head = [*_head(number, left, whole, works), _batch_table(mixed, whole.job.units)]
        if not mixed:  # a few lines, which are never parted
            yield together([*head, *_steps(task, whole, works, held)])
            continue
        yield from head if len(mixed) > MOST_ROWS_TOGETHER else [together(head)]
        yield from _steps(task, whole, works, held)


def _done_already(numbered: Sequence[tuple[int, Task]], whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    """Yield what lies behind the crew, by its number among the steps, with what it took."""
    rows = []
    for number, task in numbered:
        if is_done(task, whole, outcome):
            found = recorded(task, outcome, whole)
            rows.append((
                str(number),
                task.title,
                done_text(task, whole, outcome),
                used_text(found, whole) if found else "",
            ))
    if rows:
        yield subheading("Done already")
        yield table(("No.", "Step", "Done", "Used"), rows, shares=(0, 2, 1.4, 1.6), small=True)


def in_order_of_days(whole: WholeJob, works: FloorWorks) -> list[Task]:
    """Return every task in the order of the days; one without a day keeps its place behind the task before it."""
    steps = whole.plan.steps if whole.plan else ()
    begins: list[float] = []
    latest = 0.0
    for task in works.tasks:
        placed = steps_of(task, works.floor, steps)
        begins.append(min((step.start.timestamp() for step in placed), default=latest))
        latest = max(latest, begins[-1]) if task.certain else latest
    order = sorted(range(len(begins)), key=begins.__getitem__)
    return [works.tasks[place] for place in order]


def steps_of(task: Task, floor: str, steps: Sequence[Step]) -> list[Step]:
    """Return the places of a task on the calendar."""
    return [step for step in steps if step.floor == floor and _carries_out(step, task)]


def _carries_out(step: Step, task: Task) -> bool:
    if step.task_id is not None:
        return step.task_id == task.id
    return (step.task, step.layer, step.coat) == (task.title, task.layer, task.coat)


def zones_lettered(words: str) -> str:
    """Return words in which each zone bears the letter that the plan shows: "zone 2" becomes "zone B"."""
    return _ZONE.sub(lambda found: f"zone {zone_letter(int(found[1]) - 1)}", words)


def _head(number: int, task: Task, whole: WholeJob, works: FloorWorks) -> Iterator[Block]:
    """Yield what a task is: when, how much, how long, and until when it may be laid."""
    units, placed = whole.job.units, steps_of(task, works.floor, whole.plan.steps if whole.plan else ())
    spans = [f"{moment_text(step.start, units)} to {clock_text(step.end, step.start, units)}" for step in placed]
    when = spans[0] if len(spans) == 1 else f"in {len(spans)} parts" if spans else "not planned"
    parts = f" {'; '.join(spans)}." if len(spans) > 1 else ""
    maybe = "" if task.certain else " (only if asked for)"
    yield subheading(f"{number}. {task.title}{maybe}", when, tick=True)
    hours = task.crew_hours
    crew = f"{placed[0].crew_words}, " if placed else ""
    why = "" if task.why.startswith("Part of") else f" {sentence(task.why)}"
    window = next((step for step in placed if step.latest is not None), None)
    until = ""
    if window is not None and window.latest is not None:
        until = f" Window: {moment_text(window.earliest, units)} to {moment_text(window.latest, units)}."
    expected = number_text(hours.expected)
    lasts = f"{expected} crew-hour{'' if expected == '1' else 's'}"
    range_words = f"({number_text(hours.low)} to {number_text(hours.high)})"
    yield quiet(f"{sentence(f'{_extent_text(task, units)}{crew}{lasts} {range_words}')}{parts}{until}{why}")


def _steps(task: Task, whole: WholeJob, works: FloorWorks, held: Collection[str]) -> Iterator[Block]:
    """Yield what to do, and what must be released after it; what holds everything up is a box on the first page."""
    item = whole.catalog.work_items[task.work_item]
    placed = steps_of(task, works.floor, whole.plan.steps if whole.plan else ())
    rests_on = whole.plan.assumptions if whole.plan else ()
    notes = dict.fromkeys(
        sentence(note)
        for step in placed
        for note in step.notes
        if note not in rests_on and not note.startswith(SAID_ELSEWHERE)
    )
    told = [note for note in notes if note not in held]
    released = ["Every hold point on the first page is released."] if len(told) < len(notes) else []
    yield points([*item.steps, *released, *told])
    if item.hold_point:
        yield hold(f"{sentence(task.title)} Nobody goes on before this is released.")
    if wants_photo(task, whole.catalog, works):
        yield quiet("This changes the shade: photograph the dry slab again before anything clear is laid on it.")


def wants_photo(task: Task, catalog: Catalog, works: FloorWorks) -> bool:
    """Return whether a photo is asked for after a task: it is the last to change a shade that will be seen."""
    changing = [other for other in works.tasks if catalog.work_items[other.work_item].changes_shade]
    certain = [other for other in changing if other.certain]
    last = task in [*certain[-1:], *changing[-1:]]  # what only may be asked for can come behind what is certain
    asked_for = any(other.work_item == "photograph-after-preparation" for other in works.tasks)
    return last and not asked_for and catalog.finishes[works.finish].cover not in HIDING


def _extent_text(task: Task, units: str) -> str:
    match task.extent:
        case "area":
            return f"{area_text(task.quantity, units)}, "
        case "edge" | "joint":
            return f"{length_text(task.quantity, units)}, "
        case "count":
            return f"{counted(round(task.quantity), 'piece')}, "
        case _:
            return ""


def _batch_table(batches: Sequence[Batch], units: str) -> Block:
    """Return the batches of one coat: mixed amount, its zones and area, the wet film, the time until it must lie."""
    rows = [
        (
            str(batch.number),
            zones_lettered(batch.zone),
            quantity_text(batch.volume_gal, "gal", units),
            area_text(batch.area_ft2, units),
            film_or_rate(batch, units),
            hours_text(batch.use_within_min / 60) if batch.use_within_min is not None else "no limit",
            "",
        )
        for batch in batches
    ]
    head = ("Batch", "Zone", "Mix", "Covers", "Film or rate", "On the floor within", "Gauge read")
    return table(head, rows, align="llrrrrl", shares=(0, 0, 0, 0, 0, 0, 1))


def film_or_rate(batch: Batch, units: str) -> str:
    """Return the wet film to gauge, or where the material is laid by rate what a unit must cover."""
    if batch.wet_film_mils is not None:
        return film_text(batch.wet_film_mils, units)
    rate = batch.area_ft2 / batch.volume_gal if batch.volume_gal > 0 else 0.0
    metric = (square_meters_per_liter_from_square_feet_per_gallon, "m²/L", 1)
    return measured_text(rate, units, ("ft²/gal", 0), metric)
