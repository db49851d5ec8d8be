"""Places on the calendar as the steps that a person reads."""

from finishadvisor.job.document import Job
from finishadvisor.plan.clock import SLOTS_PER_HOUR
from finishadvisor.plan.notes import notes_of, opening_notes
from finishadvisor.plan.planned import PlannedFloor
from finishadvisor.plan.search import Placed
from finishadvisor.plan.slab import FloorAir
from finishadvisor.records.plan import Step, StepAir
from finishadvisor.records.works import Task


def steps_of(floor: PlannedFloor, job: Job) -> tuple[Step, ...]:
    """Return a step for every working span of every task, and for what is stirred or thrown into a coat beside it."""
    steps: list[Step] = []
    for number, placed in enumerate(floor.plan.placed):
        notes = [*(opening_notes(floor) if number == 0 else ()), *notes_of(floor, placed, job)]
        whole = sum(end - start for start, end in placed.spans)
        for part, (start, end) in enumerate(placed.spans, start=1):
            again = [f"Part {part} of {len(placed.spans)}."] if len(placed.spans) > 1 else []
            share = (end - start) / whole
            steps += _stirred_in(floor, placed, (start, end), share)
            steps.append(_step(floor, placed, (start, end), share, (*again, *(notes if part == 1 else ()))))
            steps += _thrown_in(floor, placed, (start, end), share)
    return tuple(steps)


def _step(floor: PlannedFloor, placed: Placed, span: tuple[int, int], share: float, notes: tuple[str, ...]) -> Step:
    beside = 1 if placed.link.thrown_in and placed.crew > 1 else 0
    made = _made(floor, placed.link.task, span, share, crew=placed.crew - beside, notes=notes)
    clock = floor.site.clock
    latest = None if placed.latest is None else clock.moment_by(placed.latest)
    return made.model_copy(update={"earliest": clock.moment(min(placed.earliest, span[0])), "latest": latest})


def _stirred_in(floor: PlannedFloor, placed: Placed, span: tuple[int, int], share: float) -> list[Step]:
    """Return what goes into the mix of a coat: in its hours, by the hands that mix it."""
    said = "Stirred into each mix of the coat as it is laid, never ahead of it: bead sinks in a mix that stands."
    return [_made(floor, task, span, share, crew=0, notes=(said,)) for task in placed.link.stirred_in]


def _thrown_in(floor: PlannedFloor, placed: Placed, span: tuple[int, int], share: float) -> list[Step]:
    """Return the broadcasts into a coat: in its hours, by one of the crew, or by the same hands where there is one."""
    said = "Thrown bay by bay into the wet coat" + ("." if placed.crew > 1 else ", by the same hands.")
    made = [
        _made(floor, task, span, share, crew=1 if placed.crew > 1 and number == 0 else 0, notes=(said,))
        for number, task in enumerate(placed.link.thrown_in)
    ]
    return [step.model_copy(update={"latest": step.end}) for step in made]


def _made(
    floor: PlannedFloor, task: Task, span: tuple[int, int], share: float, *, crew: int, notes: tuple[str, ...]
) -> Step:
    """Return the step of a task in its hours, with no limit on when it must begin."""
    start, end = (floor.site.clock.moment(slot) for slot in span)
    return Step(
        floor=floor.works.floor,
        task=task.title,
        layer=task.layer,
        coat=task.coat,
        start=start,
        end=end,
        earliest=start,
        latest=None,
        crew=crew,
        hours=round(task.crew_hours.expected * share, 2),
        air=_air_at(floor.air, span[0]),
        notes=notes,
        task_id=task.id,
    )


def _air_at(air: FloorAir, slot: int) -> StepAir:
    hour = min(slot // SLOTS_PER_HOUR, len(air.air_f) - 1)
    return StepAir(
        air_f=round(air.air_f[hour], 1),
        rh_pct=round(air.rh_pct[hour], 1),
        slab_f=round(air.slab_f[hour], 1),
        dew_point_f=round(air.dew_point_f[hour], 1),
    )
