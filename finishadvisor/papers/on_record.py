"""What warranty and record rest on: lots, readings, air and slab at each coat; filled in as far as it is recorded."""

from collections.abc import Iterator
from typing import Final

from finishadvisor.papers.blocks import Block, quiet, subheading, table
from finishadvisor.papers.readings import reading_rows
from finishadvisor.papers.recorded import air_read, recorded
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

BLANK_LOTS: Final = 3
"""Lines to write on where nothing is planned yet."""


def lots(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    """Yield the materials used with their lots, and a line for each layer of which no use is recorded yet."""
    units = whole.job.units
    rows = []
    for used in outcome.floor.used:
        material = whole.catalog.materials.get(used.material)
        rows.append((
            material.name if material else used.material,
            used.layer,
            used.lot or "",
            quantity_text(used.used, material.unit if material else "", units),
            area_text(used.area_ft2, units),
            day_text(used.date, units),
        ))
    recorded_layers = {used.layer for used in outcome.floor.used}
    uses = [use for task in outcome.works.tasks for use in task.materials] if outcome.works else []
    planned = dict.fromkeys((use.material, use.layer) for use in uses if use.layer and use.layer not in recorded_layers)
    rows += [(whole.catalog.materials[id_].name, layer or "", "", "", "", "") for id_, layer in planned]
    rows = rows or [("", "", "", "", "", "")] * BLANK_LOTS
    yield subheading("Materials and lots")
    head = ("Material", "Layer", "Lot", "Used", "On", "Date")
    yield table(head, rows, "lllrrl", shares=(2.2, 0, 1.2, 0.8, 0.8, 1.3), tall=bool(planned) or not outcome.floor.used)


def readings(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    """Yield the readings, numbered as on the plan."""
    if outcome.floor.readings:
        yield subheading("Readings")
        head = ("No.", "Test", "Value", "Date", "Place", "Note")
        yield table(head, reading_rows(outcome.floor, whole.job.units), shares=(0, 0, 0, 0, 0, 1))


def air_at_coats(whole: WholeJob, outcome: FloorOutcome, *, planned: bool = True) -> Iterator[Block]:
    """Yield air and slab at each coat as read on the day, a line where nothing was read.

    Args:
        whole: the job worked through.
        outcome: the floor.
        planned: also what the plan reckons with.
    """
    units, works = whole.job.units, outcome.works
    steps = [step for step in whole.plan.steps if step.floor == outcome.floor.name and step.coat] if whole.plan else []
    placed = {step.task_id: step for step in steps}
    rows = []
    for task in works.tasks if works else ():
        if task.coat is None:
            continue
        found, step = recorded(task, outcome, whole), placed.get(task.id)
        when = day_text(found.day, units) if found else moment_text(step.start, units) if step else "not planned"
        read = air_read(outcome.floor, found.day, units) if found else ""
        rows.append((task.title, when, _planned_air(step, units) if step and not found else "", read))
    if not rows:
        return
    yield subheading("Air and slab at each coat")
    if planned:
        head: tuple[str, ...] = ("Coat", "When", "As planned: air, RH, slab, dew point", "Read at the floor")
        yield table(head, rows, shares=(1.6, 0, 0, 1), tall=True)
    else:
        head = ("Coat", "When", "Air, RH, slab, dew point, read at the floor")
        yield table(head, [(coat, when, read) for coat, when, _, read in rows], shares=(1.4, 0, 1), tall=True)
    if planned and not all(read for *_, read in rows):
        yield quiet("What was not read at the floor is written in by hand; the plan's figures are no readings.")


def _planned_air(step: Step, units: str) -> str:
    if step.air is None:
        return ""
    air = step.air
    shown = [temperature_text(air.air_f, units), f"{number_text(air.rh_pct, 0)} %"]
    return ", ".join([*shown, temperature_text(air.slab_f, units), temperature_text(air.dew_point_f, units)])
