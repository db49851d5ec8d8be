"""The job sheet of one floor: what the crew does, in order, with times, batches, hold points and stop rules."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.blocks import (
    Block,
    Sheet,
    checks,
    facts,
    heading,
    hold,
    picture,
    points,
    quiet,
    subheading,
    table,
    text,
    together,
)
from finishadvisor.papers.cautions import work_cautions
from finishadvisor.papers.client_sheet import foot, open_conditions
from finishadvisor.papers.due_tests import due_tests
from finishadvisor.papers.floor_plan import floor_plan, places_of, zone_letter
from finishadvisor.papers.own_rows import named_with_file, of_finishes, of_works
from finishadvisor.papers.places_of_tests import PlacesDue, places_of_tests
from finishadvisor.papers.stop_rules import limits_table, stop_rules
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
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.order import Batch
from finishadvisor.records.plan import Step
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks, Task
from finishadvisor.units import square_meters_per_liter_from_square_feet_per_gallon

PLAN_CAPTION: Final = (
    "To scale. Dot: origin corner. Dashed: control joint; dash and dots: construction joint; dotted: isolation joint; "
    "rust: crack. Crosses: readings by their number, T, B, D and P: where "
    "tests are still due."
)
MOST_ROWS_TOGETHER: Final = 12
"""A task with more batches than this may go over two pages."""
SAID_ELSEWHERE: Final = ("Perhaps also", "Hold point:")
"""How notes of the plan begin that the sheet gives in its own way: as steps, as boxes to release."""
_ZONE = re.compile(r"\bzone (\d+)\b")


def job_sheet(
    whole: WholeJob, outcome: FloorOutcome, batches: Sequence[Batch], days_figure: bytes | None = None
) -> Sheet | None:
    """Return the job sheet of one floor, None where no finish is chosen or nothing can be measured.

    Args:
        whole: the job worked through.
        outcome: the floor.
        batches: the batches of the whole job.
        days_figure: the drawn days (SVG), where there is a plan.
    """
    works = outcome.works
    if works is None:
        return None
    due = due_tests(outcome, whole.catalog)
    where = places_of_tests(outcome, due)
    places = (*places_of(outcome.floor), *where.marks)
    pictures = {}
    plan = floor_plan(outcome.floor, whole.job.units, tests=places)
    if plan:
        pictures["plan.svg"] = plan
    if days_figure:
        pictures["days.svg"] = days_figure
    blocks = [
        *_before(whole, outcome),
        *_tests(due, where),
        *([heading("The floor"), _plan_block(works)] if plan else []),
        *_days(whole, works, drawn=days_figure is not None),
        heading("The work, step by step"),
        *_tasks(whole, works, batches),
        *_stops(whole, works),
        *_own_rows(whole, outcome, works),
        heading("Protective equipment"),
        checks(equipment(works, whole.catalog), columns=2),
        heading("Cautions"),
        quiet("The data sheets of the products at hand, local code and licensed practice come before this sheet."),
        points(work_cautions(works, whole.catalog), small=True),
    ]
    title, words = f"{outcome.floor.name}: job sheet", foot(whole, outcome.floor.name)
    return Sheet(title, _answer(whole, works), blocks, words, pictures)


def zones_lettered(words: str) -> str:
    """Return words in which each zone bears the letter that the plan shows: "zone 2" becomes "zone B"."""
    return _ZONE.sub(lambda found: f"zone {zone_letter(int(found[1]) - 1)}", words)


def equipment(works: FloorWorks, catalog: Catalog) -> list[str]:
    """Return the protective equipment of every task and material by name, each once."""
    ids = [id_ for task in works.tasks for id_ in catalog.work_items[task.work_item].ppe]
    ids += [id_ for task in works.tasks for use in task.materials for id_ in catalog.materials[use.material].ppe]
    return [catalog.materials[id_].name if id_ in catalog.materials else id_ for id_ in dict.fromkeys(ids)]


def steps_of(task: Task, floor: str, steps: Sequence[Step]) -> list[Step]:
    """Return the places of a task on the calendar."""
    return [step for step in steps if step.floor == floor and _carries_out(step, task)]


def _carries_out(step: Step, task: Task) -> bool:
    if step.task_id is not None:
        return step.task_id == task.id
    return (step.task, step.layer, step.coat) == (task.title, task.layer, task.coat)


def _answer(whole: WholeJob, works: FloorWorks) -> str:
    finish = whole.catalog.finishes[works.finish].name
    size = area_text(works.area_ft2, whole.job.units)
    steps = [step for step in whole.plan.steps if step.floor == works.floor] if whole.plan else []
    if not steps:
        return f"{finish} on {size}, crew of {whole.job.crew}. No day is planned yet."
    first, last = min(step.start for step in steps), max(step.end for step in steps)
    when = f"{moment_text(first, whole.job.units)} to {moment_text(last, whole.job.units)}"
    blocked = "" if whole.plan and whole.plan.feasible else " Not everything fits: see the plan."
    return f"{finish} on {size}, crew of {whole.job.crew}: {when}.{blocked}"


def _before(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    """Yield what must be settled before anything is laid."""
    chosen = next((finish for finish in outcome.advice.finishes if finish.id == outcome.finish), None)
    works = outcome.works
    yield heading("Before the first step")
    finish = whole.catalog.finishes[outcome.finish].name if outcome.finish else ""
    yield facts([
        ("Finish", f"{finish}, {outcome.chosen_because}"),
        ("Takeoff", _takeoff_words(works, whole.job.units) if works else ""),
    ])
    if works and works.mock_up_ft2 > 0:
        size = area_text(works.mock_up_ft2, whole.job.units)
        yield hold(f"Mock-up of {size} on the real slab with the real preparation: made, dry, signed by the client.")
    for condition in open_conditions(chosen) if chosen else []:
        yield hold(sentence(condition))
    yield checks([
        "The data sheets of the products at hand are read; where they differ from this sheet, they win.",
        "Everything on the order list is here, of one lot where it says so, and as warm as the room.",
        "Slab, air and dew point are read at the floor, not taken from the forecast.",
    ])


def _takeoff_words(works: FloorWorks, units: str) -> str:
    parts = [area_text(works.area_ft2, units), f"edge {length_text(works.edge_ft, units)}"]
    if works.joint_ft:
        parts.append(f"joints {length_text(works.joint_ft, units)}")
    if works.crack_ft:
        parts.append(f"cracks {length_text(works.crack_ft, units)}")
    return ", ".join([*parts, f"absorption {works.absorption}"])


def _tests(due: Sequence[OpenFact], where: PlacesDue) -> Iterator[Block]:
    yield heading("Tests still due")
    if not due:
        yield text("None for this finish: every test that could change it has been done.")
        return
    rows = [(fact.question, fact.how, sentence(where.words[fact.fact]), "") for fact in due]
    yield table(("Test", "How", "Where", "Result, date"), rows, shares=(1.2, 2, 1.3, 0.9))


def _own_rows(whole: WholeJob, outcome: FloorOutcome, works: FloorWorks) -> Iterator[Block]:
    """Yield the user's own rows that this sheet rests on."""
    catalog = whole.catalog
    chosen = [finish for finish in outcome.advice.finishes if finish.id == works.finish]
    rows = dict.fromkeys([*of_finishes(chosen, catalog), *of_works(works, catalog)])
    if rows:
        yield heading("From your own rows")
        yield points(named_with_file(rows, catalog))


def _plan_block(works: FloorWorks) -> Block:
    zones = ", ".join(zones_lettered(zone.name) for zone in works.zones)
    return picture(
        "plan.svg",
        f"Plan of {works.floor} to scale: {zones}.",
        caption=PLAN_CAPTION,
    )


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


def _days(whole: WholeJob, works: FloorWorks, *, drawn: bool) -> Iterator[Block]:
    """Yield the days drawn, and what they rest on."""
    if not drawn or whole.plan is None:
        return
    yield heading("The days")
    yield picture("days.svg", "The days of the job, step by step")
    steps = [step for step in whole.plan.steps if step.floor == works.floor]
    rests_on = [note for note in (steps[0].notes if steps else ()) if note in whole.plan.assumptions]
    if rests_on:
        yield quiet(" ".join(sentence(note.removeprefix(f"{works.floor}: ")) for note in rests_on))


def _tasks(whole: WholeJob, works: FloorWorks, batches: Sequence[Batch]) -> Iterator[Block]:
    for number, task in enumerate(in_order_of_days(whole, works), start=1):
        mixed = [batch for batch in batches if batch.floor == works.floor and batch.task == task.id]
        head = [*_head(number, task, whole, works), _batch_table(mixed, whole.job.units)]
        if not mixed:  # a few lines, which are never parted
            yield together([*head, *_steps(task, whole, works)])
            continue
        yield from head if len(mixed) > MOST_ROWS_TOGETHER else [together(head)]
        yield from _steps(task, whole, works)


def _head(number: int, task: Task, whole: WholeJob, works: FloorWorks) -> Iterator[Block]:
    """Yield what a task is: when, how much, how long, and until when it may be laid."""
    units, placed = whole.job.units, steps_of(task, works.floor, whole.plan.steps if whole.plan else ())
    done = whole.plan is not None and task.id in whole.plan.done.get(works.floor, ())
    when = "; ".join(
        f"{moment_text(step.start, units)} to {clock_text(step.end, step.start, units)}" for step in placed
    )
    maybe = "" if task.certain else " (only if asked for)"
    yield subheading(f"{number}. {task.title}{maybe}", when or ("done" if done else "not planned"), tick=True)
    hours = task.crew_hours
    crew = f"crew of {placed[0].crew}, " if placed else ""
    why = "" if task.why.startswith("Part of") else f" {sentence(task.why)}"
    window = next((step for step in placed if step.latest is not None), None)
    until = ""
    if window is not None and window.latest is not None:
        until = f" Window: {moment_text(window.earliest, units)} to {moment_text(window.latest, units)}."
    yield quiet(
        f"{_extent_text(task, units)}{crew}{number_text(hours.expected)} crew-hours "
        f"({number_text(hours.low)} to {number_text(hours.high)}).{until}{why}"
    )


def _steps(task: Task, whole: WholeJob, works: FloorWorks) -> Iterator[Block]:
    """Yield what to do, and what must be released after it."""
    item = whole.catalog.work_items[task.work_item]
    placed = steps_of(task, works.floor, whole.plan.steps if whole.plan else ())
    rests_on = whole.plan.assumptions if whole.plan else ()
    notes = [
        note for step in placed for note in step.notes if note not in rests_on and not note.startswith(SAID_ELSEWHERE)
    ]
    yield points([*item.steps, *(sentence(note) for note in notes)])
    if item.hold_point:
        yield hold(f"{sentence(task.title)} Nobody goes on before this is released.")
    if item.changes_shade and not _followed_by_photo(works):
        yield quiet("This changes the shade: photograph the dry slab again before anything clear is laid on it.")


def _followed_by_photo(works: FloorWorks) -> bool:
    return any(task.work_item == "photograph-after-preparation" for task in works.tasks)


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


def _stops(whole: WholeJob, works: FloorWorks) -> Iterator[Block]:
    units = whole.job.units
    rules = [limits_table(works, whole.catalog, units), points(stop_rules(works, whole.catalog, units))]
    yield together([heading("Stop rules"), *rules])
