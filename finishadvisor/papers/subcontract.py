"""The scope of a subcontractor who grinds or polishes a floor: what to cut, how far, and what to read. No prices."""

from collections.abc import Iterator, Sequence
from typing import Final

from finishadvisor.catalog.models import Finish
from finishadvisor.papers.blocks import (
    Block,
    Sheet,
    facts,
    heading,
    hold,
    picture,
    points,
    quiet,
    signatures,
    subheading,
    table,
    together,
    write_in,
)
from finishadvisor.papers.cautions import sentences_of
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.floor_plan import floor_plan, places_of
from finishadvisor.papers.plans_of_floor import CAPTION
from finishadvisor.papers.wording import area_text, length_text, moment_text, sentence
from finishadvisor.papers.work_steps import steps_of
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks, Task

CUTTING: Final = ("polish-", "grind", "edge-grind", "shot-blast", "screen", "burnish", "collect-slurry", "densify")
"""How the ids of work items that this trade does begin."""
GLOSS_PLACES: Final = 6
EDGES_JOINTS_SLURRY: Final = (
    "Edges go through the same grits as the field and match it from standing height.",
    "Joints stay open unless the steps above fill them; fill is shaved flush after the first cut.",
    "Never drill, saw or anchor before tubes and tendons are located.",
    "Slurry is collected and taken away as local rules say: no drain, no soil.",
)


def subcontract_scope(whole: WholeJob, outcome: FloorOutcome) -> Sheet | None:
    """Return the scope of one floor, None where nothing on it is ground, blasted or polished."""
    works = outcome.works
    tasks = cutting_tasks(works) if works is not None else []
    if works is None or not any(task.work_item != "collect-slurry" for task in tasks):
        return None
    finish = whole.catalog.finishes[works.finish]
    plan = floor_plan(outcome.floor, whole.job.units, tests=places_of(outcome.floor))
    polish = finish.family == "polish"
    square = "with the finished look" if polish else "ground to profile"
    blocks = [
        heading("What is wanted"),
        facts(_wanted(works, finish, whole.job.units)),
        *([picture("plan.svg", f"Plan of {works.floor} to scale", caption=CAPTION)] if plan else []),
        heading("Steps, in this order"),
        hold(f"A square {square} is approved by the contractor before the field is cut."),
        table(
            ("No.", "Step", "On", "When"),
            [_row(number, task, whole, works) for number, task in enumerate(tasks, start=1)],
            shares=(0, 1),
        ),
        *_what_to_do(tasks, whole),
        heading("Edges, joints, slurry"),
        points(EDGES_JOINTS_SLURRY),
        *_readings(polish=polish),
        heading("Cautions"),
        points(
            sentences_of(
                (id_ for task in tasks for id_ in whole.catalog.work_items[task.work_item].cautions), whole.catalog
            ),
            small=True,
        ),
        signatures(["For the subcontractor, date", "For the contractor, date"]),
    ]
    answer = f"{'Polish' if polish else 'Prepare'} {area_text(works.area_ft2, whole.job.units)} in {len(tasks)} steps."
    pictures = {"plan.svg": plan} if plan else {}
    return Sheet(f"{works.floor}: scope of grinding and polishing", answer, blocks, foot(whole, works.floor), pictures)


def _wanted(works: FloorWorks, finish: Finish, units: str) -> list[tuple[str, str]]:
    return [
        ("Floor", f"{area_text(works.area_ft2, units)}, edge {length_text(works.edge_ft, units)}"),
        ("Finish", finish.name),
        ("Look", finish.look),
        ("Sheen", ", ".join(finish.sheen)),
        ("Joints", _joints_text(works, units)),
    ]


def _what_to_do(tasks: Sequence[Task], whole: WholeJob) -> Iterator[Block]:
    for number, task in enumerate(tasks, start=1):
        steps = whole.catalog.work_items[task.work_item].steps
        if steps:
            yield together([subheading(f"{number}. {task.title}"), points(steps)])


def _joints_text(works: FloorWorks, units: str) -> str:
    cracks = f"; cracks {length_text(works.crack_ft, units)}" if works.crack_ft else ""
    return f"{length_text(works.joint_ft, units) if works.joint_ft else 'none'}{cracks}"


def cutting_tasks(works: FloorWorks) -> list[Task]:
    """Return the certain tasks of a floor that a grinding and polishing trade does."""
    return [task for task in works.tasks if task.certain and task.work_item.startswith(CUTTING)]


def _row(number: int, task: Task, whole: WholeJob, works: FloorWorks) -> tuple[str, ...]:
    units = whole.job.units
    on = {"area": area_text(task.quantity, units), "edge": length_text(task.quantity, units)}.get(task.extent, "")
    placed = steps_of(task, works.floor, whole.plan.steps if whole.plan else ())
    return (
        str(number),
        sentence(task.title).rstrip("."),
        on,
        moment_text(placed[0].start, units) if placed else "as agreed",
    )


def _readings(*, polish: bool) -> Iterator[Block]:
    if not polish:
        yield heading("Profile to be read and written down")
        yield quiet("The profile is compared with the plates of the standard (ICRI) at each place below.")
        yield write_in([f"Profile, place {number}" for number in range(1, GLOSS_PLACES + 1)], columns=3)
        return
    yield heading("Gloss to be read and written down")
    yield quiet(
        "ASTM D523 at 60°; at 20° where it reads over 70, at 85° where it reads under 10. Clean, dry, after the guard."
    )
    yield write_in([f"Gloss, place {number}" for number in range(1, GLOSS_PLACES + 1)], columns=3)
