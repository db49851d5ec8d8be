"""The days: what may be done today, the calendar of the crew, when the floors are back in service."""

from itertools import groupby

from starlette.requests import Request
from starlette.responses import Response

from finishadvisor.records.plan import Plan, Step
from finishadvisor.web.rendering import page
from finishadvisor.web.results import whole_job
from finishadvisor.web.site import job_at, site_of

MOST_BLOCKED = 12


def days_page(request: Request) -> Response:
    """Show the plan, day by day."""
    from finishadvisor.whole_job.work_through import today_of

    here = job_at(request)
    whole = whole_job(site_of(request), here, with_plan=True)
    plan = whole.plan
    return page(
        request, "days.html", here=here, whole=whole, plan=plan, today=today_of(whole),
        days=days_of(plan) if plan else [], notes=notes_of(plan) if plan else [],
        blocked=plan.blocked[:MOST_BLOCKED] if plan else (),
    )  # fmt: skip


def days_of(plan: Plan) -> list[tuple[str, list[Step]]]:
    """Return the steps by the day on which they start."""
    steps = sorted(plan.steps, key=lambda step: step.start)
    return [
        (f"{day:%A}, {day:%B} {day.day}", list(group)) for day, group in groupby(steps, key=lambda s: s.start.date())
    ]


def notes_of(plan: Plan) -> list[str]:
    """Return what the plan takes for granted, and other notes of its steps, each once."""
    return list(dict.fromkeys([*plan.assumptions, *(note for step in plan.steps for note in step.notes)]))
