"""The floor on the job sheet: its plan with zones, batches and test places; small plans where coats part it unlike."""

from collections.abc import Sequence
from typing import Final

from finishadvisor.papers.batch_areas import Layout, batch_areas, layouts_of
from finishadvisor.papers.blocks import Block, drawings, heading, picture, quiet
from finishadvisor.papers.floor_plan import MarkedPlace, batch_plan, floor_plan, places_of
from finishadvisor.papers.wording import counted
from finishadvisor.papers.work_steps import in_order_of_days, zones_lettered
from finishadvisor.records.order import Batch
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks

SMALL_IN: Final = (3.1, 2.3)
"""The most that the plan of one layout is wide and tall, where there are several."""
CAPTION: Final = (
    "To scale. Dot: origin corner. Dashed: control joint; dash and dots: construction joint; dotted: isolation joint; "
    "rust: crack. Crosses: readings by their number, T, B, D and P: where tests are still due."
)
BATCHES: Final = "Framed: the batch by its number. Blue line: where it ends if the work goes on from the origin side."


def plan_blocks(
    whole: WholeJob, outcome: FloorOutcome, works: FloorWorks, batches: Sequence[Batch], due: Sequence[MarkedPlace]
) -> tuple[list[Block], dict[str, bytes]]:
    """Return the floor drawn, and the pictures by file name; nothing where it has no outline.

    Where every coat takes the same batches they stand on the plan itself; else each way has a small plan of its own.

    Args:
        whole: the job worked through.
        outcome: the floor.
        works: its works.
        batches: its batches that are still to be mixed.
        due: where tests are still due.
    """
    layouts = layouts_of(works, batches)
    only = layouts[0] if len(layouts) == 1 else None
    plan = floor_plan(outcome.floor, whole.job.units, tests=(*places_of(outcome.floor), *due), layout=only)
    if plan is None:
        return [], {}
    shown = [layout for layout in layouts if any(batch_areas(outcome.floor, layout, ft_per_in=1.0))]
    zones = ", ".join(zones_lettered(zone.name) for zone in works.zones)
    told = f" {BATCHES}" if only and shown else ""
    blocks: list[Block] = [
        heading("The floor"),
        picture("plan.svg", f"Plan of {works.floor} to scale: {zones}.", caption=f"{CAPTION}{told}"),
    ]
    pictures = {"plan.svg": plan}
    if only is None and shown:
        small = {
            f"batches-{n}.svg": batch_plan(outcome.floor, layout, SMALL_IN) or b"" for n, layout in enumerate(shown, 1)
        }
        pictures |= small
        blocks += [drawings(small, [_coats(layout, whole) for layout in shown]), quiet(BATCHES)]
    return blocks, pictures


def _coats(layout: Layout, whole: WholeJob) -> str:
    """Return which steps a layout is for: "Step 7, base, and step 10, top: 4 batches each"."""
    tasks = in_order_of_days(whole, layout.works)
    steps = [
        f"step {n}, {task.layer or task.title}" for n, task in enumerate(tasks, start=1) if task.id in layout.tasks
    ]
    told = " and ".join(steps)
    each = " each" if len(steps) > 1 else ""
    return f"{told[:1].upper()}{told[1:]}: {counted(len(layout.batches), 'batch', 'batches')}{each}"
