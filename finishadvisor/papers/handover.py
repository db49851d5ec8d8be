"""The warranty page of one floor and the record of what was done on it."""

from collections.abc import Iterator
from typing import Final

from finishadvisor.catalog.models import Finish
from finishadvisor.job.document import Floor
from finishadvisor.papers.blocks import (
    Block,
    Sheet,
    checks,
    facts,
    heading,
    points,
    quiet,
    signatures,
    table,
    write_in,
)
from finishadvisor.papers.care_sheet import chosen
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.job_sheet import in_order_of_days, planned_days
from finishadvisor.papers.readings import reading_rows, small_length_text
from finishadvisor.papers.wording import (
    area_text,
    day_text,
    moment_text,
    number_text,
    quantity_text,
    temperature_text,
)
from finishadvisor.records.plan import Step
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import MaterialUse

EXCLUDED: Final = (
    "cracks, and joints that open as the slab shrinks and moves",
    "curling and settling of the slab",
    "white salts, and damage by vapor or water from below",
    "differences in shade, and their change with age and light",
    "wear, scratches, stains and burns from use, tires, rubber and spills left standing",
    "de-icing salt, frost and standing water where the slab was not made for them",
    "cleaning, coating or repair by others, and care other than the care sheet says",
)


def warranty_page(whole: WholeJob, outcome: FloorOutcome) -> Sheet | None:
    """Return the warranty page of one floor, None where no finish is chosen: terms to fill in, what is on record."""
    finish = chosen(whole, outcome)
    if finish is None:
        return None
    blocks = [
        quiet("A page to complete and sign; what the law of the place gives the client stays untouched."),
        write_in(["Warranted by", "Warranted to", "From (day of handover)", "Until"]),
        heading("What is warranted"),
        points([
            f"{finish.name} was laid as the record says, on a slab prepared and tested as the record says.",
            "Where it lets go or wears through earlier than agreed, in normal use and care, it is mended joint to "
            "joint.",
            "The shade is that of the signed mock-up, within what concrete does from place to place.",
        ]),
        heading("What it excludes"),
        points(EXCLUDED),
        heading("What it rests on"),
        *_lots(outcome.floor, whole),
        *_readings(outcome.floor, whole.job.units),
        *_weather(whole, outcome),
        signatures(["For the contractor, date", f"For {whole.job.client or 'the client'}, date"]),
    ]
    answer = f"{finish.name}: what is warranted, what is not, and on what record."
    return Sheet(f"{outcome.floor.name}: warranty", answer, blocks, foot(whole, outcome.floor.name))


def record_of_work(whole: WholeJob, outcome: FloorOutcome) -> Sheet | None:
    """Return the record of one floor: what is known to have been done, and lines for what is done from now on."""
    finish = chosen(whole, outcome)
    if finish is None:
        return None
    floor = outcome.floor
    blocks = [
        heading("The floor"),
        facts(_floor_rows(whole, outcome, finish)),
        *_loads(floor, whole.job.units),
        *_layers(floor, whole.job.units),
        *_readings(floor, whole.job.units),
        *_mock_ups(floor, whole),
        *_lots(floor, whole),
        heading("What was done"),
        *_done(whole, outcome),
        *_weather(whole, outcome),
        signatures(["Kept by", "Handed over on"]),
    ]
    answer = f"{finish.name}, {planned_days(whole, floor.name)}: what was found, used and done."
    return Sheet(f"{floor.name}: record", answer, blocks, foot(whole, floor.name))


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


def _readings(floor: Floor, units: str) -> Iterator[Block]:
    if floor.readings:
        yield heading("Readings")
        yield table(
            ("No.", "Test", "Value", "Date", "Place", "Note"), reading_rows(floor, units), shares=(0, 0, 0, 0, 0, 1)
        )


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


def _lots(floor: Floor, whole: WholeJob) -> Iterator[Block]:
    yield heading("Materials and lots")
    rows = []
    for used in floor.used:
        material = whole.catalog.materials.get(used.material)
        rows.append((
            material.name if material else used.material,
            used.layer,
            used.lot or "",
            quantity_text(used.used, material.unit if material else "", whole.job.units),
            area_text(used.area_ft2, whole.job.units),
            day_text(used.date, whole.job.units),
        ))
    if rows:
        yield table(("Material", "Layer", "Lot", "Used", "On", "Date"), rows, "lllrrl")
        return
    planned = {use.material: use.layer for use in _layer_uses(whole, floor)}
    blank = [(whole.catalog.materials[id_].name, layer or "", "", "", "") for id_, layer in planned.items()]
    yield table(("Material", "Layer", "Lot", "Used", "Date"), blank, shares=(0, 0, 2, 1, 1), tall=True)


def _layer_uses(whole: WholeJob, floor: Floor) -> Iterator[MaterialUse]:
    """Yield the materials of the floor's layers, as planned."""
    for outcome in whole.floors:
        if outcome.floor.name == floor.name and outcome.works is not None:
            yield from (use for task in outcome.works.tasks for use in task.materials if use.layer)


def _done(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    tasks = in_order_of_days(whole, outcome.works) if outcome.works else []
    rows = [(str(n), task.title, "", "", "") for n, task in enumerate(tasks, start=1)]
    yield table(("No.", "Step", "Date", "By", "Remarks"), rows, shares=(0, 3, 1, 1, 1.6), tall=True)
    if not rows:
        yield checks(["Nothing is planned yet."])


def _weather(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    """Yield air and slab at each coat: as planned, with lines for what was read."""
    steps = [step for step in whole.plan.steps if step.floor == outcome.floor.name and step.coat] if whole.plan else []
    if not steps:
        return
    yield heading("Air and slab at each coat")
    rows = [
        (step.task, moment_text(step.start, whole.job.units), _air_text(step, whole.job.units), "") for step in steps
    ]
    head = ("Coat", "Planned", "Air, RH, slab, dew point", "Read at the floor")
    yield table(head, rows, shares=(1.6, 0, 0, 1), tall=True)


def _air_text(step: Step, units: str) -> str:
    if step.air is None:
        return "–"
    air = step.air
    shown = [temperature_text(air.air_f, units), f"{number_text(air.rh_pct, 0)} %"]
    return ", ".join([*shown, temperature_text(air.slab_f, units), temperature_text(air.dew_point_f, units)])
