"""The record of one floor: what was found, used and done, and lines for what is still to be done."""

from collections.abc import Iterator, Sequence

from finishadvisor.catalog.models import Finish
from finishadvisor.job.document import Floor
from finishadvisor.papers.blocks import Block, Sheet, facts, heading, signatures, subheading, table, text
from finishadvisor.papers.care_sheet import chosen
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.on_record import air_at_coats, lots, readings
from finishadvisor.papers.readings import small_length_text
from finishadvisor.papers.recorded import (
    begun_texts,
    days_on,
    done_elsewhere,
    done_text,
    is_done,
    lots_of,
    recorded,
    title_of,
    used_text,
    when_text,
)
from finishadvisor.papers.wording import area_text, day_text, hour_text, moment_text, quantity_text
from finishadvisor.papers.work_steps import film_or_rate, in_order_of_days, zones_lettered
from finishadvisor.records.order import Batch
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import Task


def record_of_work(whole: WholeJob, outcome: FloorOutcome, batches: Sequence[Batch] = ()) -> Sheet | None:
    """Return the record of one floor, None where no finish is chosen: what is known is filled in, the rest is lines.

    Args:
        whole: the job worked through.
        outcome: the floor.
        batches: the batches of the whole job.
    """
    finish = chosen(whole, outcome)
    if finish is None:
        return None
    floor = outcome.floor
    blocks = [
        heading("The floor"),
        facts(_floor_rows(whole, outcome, finish)),
        *_loads(floor, whole.job.units),
        *_layers(floor, whole.job.units),
        heading("What it rests on"),
        *lots(whole, outcome),
        *readings(whole, outcome),
        *air_at_coats(whole, outcome),
        *_mock_ups(floor, whole),
        heading("What was done"),
        *_done(whole, outcome),
        *_batches(whole, outcome, batches),
        signatures(["Kept by", "Handed over on"]),
    ]
    answer = f"{finish.name}{_days_words(whole, outcome)}: what was found, used and done."
    return Sheet(f"{floor.name}: record", answer, blocks, foot(whole, floor.name))


def _days_words(whole: WholeJob, outcome: FloorOutcome) -> str:
    """Return the first and last day on a floor, those that are recorded with those that are planned."""
    days = sorted(days_on(whole, outcome))
    if not days:
        return ""
    first, last = (day_text(day, whole.job.units) for day in (days[0], days[-1]))
    return f", {first}" if first == last else f", {first} to {last}"


def _floor_rows(whole: WholeJob, outcome: FloorOutcome, finish: Finish) -> Iterator[tuple[str, str]]:
    floor = outcome.floor
    yield "Finish", f"{finish.name}, {outcome.chosen_because}"
    if outcome.works is not None:
        yield "Area", area_text(outcome.works.area_ft2, whole.job.units)
    if floor.pour is not None:
        yield "Poured", f"{'about ' if floor.pour.about else ''}{day_text(floor.pour.date, whole.job.units)}"
    if floor.last_wetting is not None:
        yield "Last wetting", day_text(floor.last_wetting, whole.job.units)
    if floor.photos:
        yield "Photos", ", ".join(photo.file for photo in floor.photos)
    if outcome.evenness is not None:
        yield (
            "Shade",
            ", ".join(
                f"{photo.photo}: {(photo.grade or 'refused').replace('-', ' ')}" for photo in outcome.evenness.photos
            ),
        )


def _loads(floor: Floor, units: str) -> Iterator[Block]:
    if not floor.loads:
        return
    yield heading("Truck loads")
    rows = [
        (
            load.name or str(number),
            small_length_text(load.slump, units) if load.slump is not None else "",
            quantity_text(load.water_added_gal, "gal", units) if load.water_added_gal is not None else "",
            moment_text(load.time, units) if load.time else "",
            load.placed_by or "",
            load.finisher or "",
            load.weather or "",
        )
        for number, load in enumerate(floor.loads, start=1)
    ]
    yield table(
        ("Load", "Slump", "Water added", "Time", "Placed by", "Finisher", "Weather"),
        rows,
        "lrrllll",
        shares=(0, 0, 0, 0, 0, 0, 1),
    )


def _layers(floor: Floor, units: str) -> Iterator[Block]:
    if floor.layers_down:
        yield heading("Layers found on the slab")
        rows = [
            (
                layer.material,
                day_text(layer.laid, units) if layer.laid else "not known",
                str(layer.coats or "not known"),
                {True: "yes", False: "no", None: "not known"}[layer.bonded],
            )
            for layer in floor.layers_down
        ]
        yield table(("Material", "Laid", "Coats", "Bonded"), rows)


def _mock_ups(floor: Floor, whole: WholeJob) -> Iterator[Block]:
    if not floor.mock_ups:
        return
    yield heading("Mock-ups")
    rows = []
    for made in floor.mock_ups:
        finish, material = whole.catalog.finishes.get(made.finish), whole.catalog.materials.get(made.material)
        rows.append((
            finish.name if finish else made.finish,
            material.name if material else made.material,
            area_text(made.area_ft2, whole.job.units),
            quantity_text(made.used, material.unit if material else "", whole.job.units),
            day_text(made.date, whole.job.units) if made.date else "",
            made.signed_by or "not signed",
        ))
    yield table(("Finish", "Material", "Area", "Used", "Date", "Signed by"), rows, "llrrll")


def _done(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    """Yield every step with the day on which it was done, and a line where it is still to be done."""
    units = whole.job.units
    tasks = in_order_of_days(whole, outcome.works) if outcome.works else []
    rows = [_done_row(task, whole, outcome) for task in tasks]
    for done in done_elsewhere(outcome, whole.on):
        hour = f", {hour_text(done.time, units)}" if done.time else ""
        rows.append((title_of(done, whole.catalog), f"{day_text(done.date, units)}{hour}", "", ""))
    if not rows:
        yield text("Nothing is planned yet.")
        return
    numbered = [(str(number), *row) for number, row in enumerate(rows, start=1)]
    yield table(("No.", "Step", "Done", "By", "Remarks"), numbered, shares=(0, 2.4, 1.1, 0.8, 1.7), tall=True)


def _done_row(task: Task, whole: WholeJob, outcome: FloorOutcome) -> tuple[str, str, str, str]:
    maybe = "" if task.certain else " (only if asked for)"
    found = recorded(task, outcome, whole)
    used = used_text(found, whole) if found else ""
    if is_done(task, whole, outcome):
        return f"{task.title}{maybe}", done_text(task, whole, outcome), "", used
    day, part = begun_texts(task, whole, outcome)
    return f"{task.title}{maybe}", day, "", "; ".join(said for said in (part, used) if said)


def _batches(whole: WholeJob, outcome: FloorOutcome, batches: Sequence[Batch]) -> Iterator[Block]:
    """Yield the batches of each coat as planned, with the lot where one is recorded and lines for what is not."""
    tasks = {task.id: task for task in outcome.works.tasks} if outcome.works else {}
    for task_id in dict.fromkeys(batch.task for batch in batches if batch.floor == outcome.floor.name):
        task = tasks.get(task_id)
        found = recorded(task, outcome, whole) if task is not None else None
        lot = lots_of(task.layer, outcome.floor) if task is not None and task.layer else ""
        down = task is not None and is_done(task, whole, outcome)
        laid = when_text(found, whole.job.units) if found and down else ""
        yield subheading(f"Batches {'as planned' if down else 'still to mix'}: {task.title if task else task_id}", laid)
        rows = [
            (
                str(batch.number),
                zones_lettered(batch.zone),
                quantity_text(batch.volume_gal, "gal", whole.job.units),
                area_text(batch.area_ft2, whole.job.units),
                film_or_rate(batch, whole.job.units),
                lot,
                "",
            )
            for batch in batches
            if batch.floor == outcome.floor.name and batch.task == task_id
        ]
        head = ("Batch", "Zone", "Mix", "Covers", "Film or rate", "Lot", "Mixed at, gauge read")
        yield table(head, rows, "llrrrll", shares=(0, 0, 0, 0, 0, 1, 1.4), tall=True)
