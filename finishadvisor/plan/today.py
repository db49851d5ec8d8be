"""What may be done now, floor by floor: today's steps, the windows that are closing, who may walk and drive."""

import datetime

from finishadvisor.job.document import Workday
from finishadvisor.plan.notes import moment_words
from finishadvisor.records.plan import BackInService, Plan, Step

_BACK = {"foot": "feet", "water": "water", "furniture": "furniture", "cover": "rugs and covers", "vehicle": "vehicles"}


def today_lines(plan: Plan, on: datetime.date, workday: Workday) -> dict[str, list[str]]:
    """Return, for each floor of a plan, what may be done on a day and what not yet, a sentence each.

    Args:
        plan: the plan; its times are in the job's zone.
        on: the day in the job's zone.
        workday: the crew's hours; what is done after midnight belongs to the evening before.
    """
    return {floor: _lines(plan, floor, on, workday) for floor in plan.back_in_service}


def workday_of(step: Step, workday: Workday) -> datetime.date:
    """Return the day on whose workday, or evening, the crew begins that does a step."""
    at_night = workday.end < workday.start and step.start.time() < workday.end
    return step.start.date() - datetime.timedelta(days=at_night)


def _lines(plan: Plan, floor: str, on: datetime.date, workday: Workday) -> list[str]:
    steps = [step for step in plan.steps if step.floor == floor]
    due = [step for step in steps if workday_of(step, workday) == on]
    lines = [line for step in due for line in _due_lines(step)]
    later = next((step for step in steps if workday_of(step, workday) > on), None)
    if not due:
        lines.append(_waiting_line(plan, floor, later, on))
    elif later is not None:
        lines.append(f"Next, {moment_words(later.start)}: {later.task}.")
    return [*lines, *_back_lines(plan.back_in_service[floor], on)]


def _due_lines(step: Step) -> list[str]:
    lines = [f"{step.start:%H:%M} to {step.end:%H:%M}: {step.task} (crew {step.crew})."]
    if step.latest is not None and step.coat is not None:
        lines.append(f"Not after {moment_words(step.latest)}: then its recoat window is over.")
    if step.air is not None and step.coat is not None:
        air = step.air
        lines.append(
            f"Reckoned with air {air.air_f:.0f} °F, {air.rh_pct:.0f} %, slab {air.slab_f:.0f} °F, dew point "
            f"{air.dew_point_f:.0f} °F: read them at the floor before you begin."
        )
    return [*lines, *step.notes]


def _waiting_line(plan: Plan, floor: str, later: Step | None, on: datetime.date) -> str:
    if later is None:
        blocked = [b for b in plan.blocked if b.task.startswith(f"{floor}: ") and b.end.date() >= on]
        if plan.feasible or not blocked:
            return "Nothing is left to do."
        return f"Nothing fits: {blocked[0].why}."
    task = f"{floor}: {later.task}"
    why = next((b.why for b in plan.blocked if b.task == task and b.start.date() <= on <= b.end.date()), None)
    because = f", because: {why}" if why else ""
    return f"Nothing today{because}. Next, {moment_words(later.start)}: {later.task}."


def _back_lines(back: BackInService, on: datetime.date) -> list[str]:
    lines = []
    for field, words in _BACK.items():
        moment = getattr(back, field)
        if moment is not None and moment.date() >= on:
            lines.append(f"Not yet for {words}: from {moment_words(moment)} on.")
    return lines
