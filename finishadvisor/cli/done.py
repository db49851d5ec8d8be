"""`finishadvisor done`: record that a task is finished, so that plan and today go on from there."""

import datetime
import re
from pathlib import Path

import click

from finishadvisor.cli.options import ClockType, day_or_today, job_argument, on_option, one_floor_option


@click.command("done", short_help="Write down that a task is finished.")
@job_argument
@one_floor_option
@click.option("--task", required=True, help="The task by its id, as `today` prints it, or by its title in quotes.")
@click.option(
    "--time",
    "ended",
    type=ClockType(),
    metavar="TIME",
    help='When it ended: 14:30 or "2:30 PM"; left out: some time of that workday.',
)
@click.option("--area", metavar="AREA", help='Only a part of it is done, so much this time: 600, "600 ft2", "55 m2".')
@click.option("--zones", metavar="LIST", help='Only these zones are done, by their letters on the plan: "A,B".')
@click.option("--and-before", is_flag=True, help="Also everything before it that is not recorded yet.")
@on_option
def command(
    job: Path,
    floor_name: str | None,
    task: str,
    ended: datetime.time | None,
    area: str | None,
    zones: str | None,
    and_before: bool,
    on: datetime.date | None,
) -> None:
    """Write into JOB that a task is finished, or which part of it. For a coat, `used` says it too."""
    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.errors import UsageError
    from finishadvisor.papers.quantities import said
    from finishadvisor.whole_job.changes import record_done
    from finishadvisor.whole_job.named import floor_named
    from finishadvisor.whole_job.typed_use import read_area_ft2

    named = tuple(name for part in re.split(r"[,;+&]|\band\b", zones or "") if (name := part.strip()))
    if area is not None and zones is not None:
        raise UsageError("--area and --zones both say how much is done; give one of the two.")
    if zones is not None and not named:
        raise UsageError(f'--zones: "{zones}" names no zone. Write their letters on the plan, like "A,B".')
    day, floor = day_or_today(on), floor_named(job, floor_name)
    recorded = record_done(
        job,
        floor,
        task,
        day,
        ended=ended,
        and_before=and_before,
        area_ft2=None if area is None else read_area_ft2(job, "--area", area),
        zones=named,
    )
    for each in recorded.tasks:
        how = f": {said(recorded.rest.said, recorded.units)}" if recorded.rest else " is done"
        click.echo(f"Written: {each.title} ({each.id}){how} on {floor}, {day.isoformat()}.")
    show_own_rows(recorded.own_rows)
