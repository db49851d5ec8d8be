"""What may be done now, floor by floor: today's steps, the windows that are closing, who may walk and drive."""

import datetime
from dataclasses import dataclass

from finishadvisor.job.document import Workday
from finishadvisor.plan.notes import moment_words
from finishadvisor.records.plan import BackInService, Plan, Step

_BACK = {"foot": "feet", "water": "water", "furniture": "furniture", "cover": "rugs and covers", "vehicle": "vehicles"}


@dataclass(frozen=True)
class Due:
    """One step of the day in a sentence, and what to mind at it."""

    task: str
    limit: str | None
    """Until when it must be begun, where that matters."""
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Today:
    """What may be done on one floor on a day, and what not yet, a sentence each."""

    due: tuple[Due, ...]
    after: tuple[str, ...]
    """What comes next, or why nothing is due; none where nothing follows the last step."""
    not_yet: tuple[str, ...]
    """Who may not use the floor yet, and from when on."""

    @property
    def lines(self) -> list[str]:
        """Every sentence, in order."""
        due = (line for due in self.due for line in (due.task, due.limit, *due.notes) if line)
        return [*due, *self.after, *self.not_yet]


def today_on(plan: Plan, on: datetime.date, workday: Workday) -> dict[str, Today]:
    """Return what may be done on a day on each floor of a plan, and what not yet.

    Args:
        plan: the plan; its times are in the job's zone.
        on: the day in the job's zone.
        workday: the crew's hours; what is done after midnight belongs to the evening before.
    """
    return {floor: _today(plan, floor, on, workday) for floor in plan.back_in_service}


def workday_of(step: Step, workday: Workday) -> datetime.date:
    """Return the day on whose workday, or evening, the crew begins that does a step."""
    at_night = workday.end < workday.start and step.start.time() < workday.end
    return step.start.date() - datetime.timedelta(days=at_night)


def _today(plan: Plan, floor: str, on: datetime.date, workday: Workday) -> Today:
    steps = [step for step in plan.steps if step.floor == floor]
    due = [step for step in steps if workday_of(step, workday) == on]
    later = next((step for step in steps if workday_of(step, workday) > on), None)
    after: tuple[str, ...] = ()
    if not due:
        after = (_waiting_line(plan, floor, later, on),)
    elif later is not None:
        after = (f"Next, {moment_words(later.start)}: {later.task}.",)
    return Today(tuple(map(_due, due)), after, tuple(_back_lines(plan.back_in_service[floor], on)))


def _due(step: Step) -> Due:
    limit, notes = None, []
    if step.latest is not None and step.coat is not None:
        limit = f"Not after {moment_words(step.latest)}: then its recoat window is over."
    if step.air is not None and step.coat is not None:
        air = step.air
        notes.append(
            f"Reckoned with air {air.air_f:.0f} °F, {air.rh_pct:.0f} %, slab {air.slab_f:.0f} °F, dew point "
            f"{air.dew_point_f:.0f} °F: read them at the floor before you begin."
        )
    task = f"{step.start:%H:%M} to {step.end:%H:%M}: {step.task} ({step.crew_words})."
    return Due(task, limit, (*notes, *step.notes))


def _waiting_line(plan: Plan, floor: str, later: Step | None, on: datetime.date) -> str:
    if later is None:
        blocked = [b for b in plan.blocked if b.task.startswith(f"{floor}: ") and b.end.date() >= on]
        if plan.feasible or not blocked:
            return "Nothing is left to do."
        return f"Nothing fits: {blocked[0].why}."
    task = f"{floor}: {later.task}"
    why = next((b.why for b in plan.blocked if b.task == task and b.start.date() <= on <= b.end.date()), None)
    because = f", because {why.removeprefix('not ready: ')}" if why else ""
    return f"Nothing today{because}. Next, {moment_words(later.start)}: {later.task}."


def _back_lines(back: BackInService, on: datetime.date) -> list[str]:
    lines = []
    for field, words in _BACK.items():
        moment = getattr(back, field)
        if moment is not None and moment.date() >= on:
            lines.append(f"Not yet for {words}: from {moment_words(moment)} on.")
    return lines
