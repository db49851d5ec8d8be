"""`finishadvisor plan`: the days, when the slab is ready, when the air allows it, when to coat again."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import (
    OutputFile,
    day_or_today,
    finish_option,
    floor_option,
    job_argument,
    json_option,
    on_option,
    weather_option,
)


@click.command("plan", short_help="The schedule: when what can be done.")
@job_argument
@floor_option
@finish_option
@on_option
@weather_option
@json_option
@click.option("--ics", "ics_path", type=OutputFile(), help="Write a calendar file.")
def command(
    job: Path,
    floor_name: str | None,
    finish_id: str | None,
    on: datetime.date | None,
    weather_path: Path | None,
    json_path: Path | None,
    ics_path: Path | None,
) -> None:
    """Plan the days of JOB: one calendar for the crew over all floors."""
    from finishadvisor.cli.show import show_choice, show_own_rows
    from finishadvisor.cli.show_plan import show_plan, show_weather_hint
    from finishadvisor.errors import JobError
    from finishadvisor.job.writing import write_whole
    from finishadvisor.whole_job.files import write_json
    from finishadvisor.whole_job.work_through import calendar_of, work_through

    whole = work_through(
        job,
        day_or_today(on),
        floor_name=floor_name,
        finish_id=finish_id,
        weather_path=weather_path,
        with_order=False,
    )
    for outcome in whole.floors:
        show_choice(outcome)
    if whole.plan is None:
        raise JobError(
            "Nothing can be planned: no floor has both an outline and a finish that suits. "
            "Give the floor an outline, or name a finish with --finish."
        )
    show_plan(whole.plan, whole.job.units)
    show_weather_hint(whole, weather_path)
    show_own_rows(whole.catalog.own_rows)
    if json_path:
        write_json(json_path, whole.plan.as_json())
    if ics_path:
        write_whole(ics_path, calendar_of(whole))
