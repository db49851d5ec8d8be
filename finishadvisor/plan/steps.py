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
    clock, task = floor.site.clock, placed.link.task
    beside = 1 if placed.link.thrown_in and placed.crew > 1 else 0
    return Step(
        floor=floor.works.floor,
        task=task.title,
        layer=task.layer,
        coat=task.coat,
        start=clock.moment(span[0]),
        end=clock.moment(span[1]),
        earliest=clock.moment(min(placed.earliest, span[0])),
        latest=None if placed.latest is None else clock.moment_by(placed.latest),
        crew=placed.crew - beside,
        hours=round(task.crew_hours.expected * share, 2),
        air=_air_at(floor.air, span[0]),
        notes=notes,
        task_id=task.id,
    )


def _stirred_in(floor: PlannedFloor, placed: Placed, span: tuple[int, int], share: float) -> list[Step]:
    """Return what goes into the mix of a coat: in its hours, by the hands that mix it."""
    said = "Stirred into each mix of the coat as it is laid, never ahead of it: bead sinks in a mix that stands."
    mixed = [_beside(floor, task, span, share, (0, said)) for task in placed.link.stirred_in]
    return [step.model_copy(update={"latest": None}) for step in mixed]


def _thrown_in(floor: PlannedFloor, placed: Placed, span: tuple[int, int], share: float) -> list[Step]:
    """Return the broadcasts into a coat: in its hours, by one of the crew, or by the same hands where there is one."""
    said = "Thrown bay by bay into the wet coat" + ("." if placed.crew > 1 else ", by the same hands.")
    return [
        _beside(floor, task, span, share, (1 if placed.crew > 1 and number == 0 else 0, said))
        for number, task in enumerate(placed.link.thrown_in)
    ]


def _beside(floor: PlannedFloor, task: Task, span: tuple[int, int], share: float, done_by: tuple[int, str]) -> Step:
    """Return the step of a task done with a coat, in the coat's hours; `done_by`: so many of the crew, and how."""
    clock = floor.site.clock
    return Step(
        floor=floor.works.floor,
        task=task.title,
        layer=task.layer,
        coat=task.coat,
        start=clock.moment(span[0]),
        end=clock.moment(span[1]),
        earliest=clock.moment(span[0]),
        latest=clock.moment(span[1]),
        crew=done_by[0],
        hours=round(task.crew_hours.expected * share, 2),
        air=_air_at(floor.air, span[0]),
        notes=(done_by[1],),
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
