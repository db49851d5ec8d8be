"""`finishadvisor done`: record that a task is finished, so that plan and today go on from there."""

import datetime
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
@click.option("--and-before", is_flag=True, help="Also everything before it that is not recorded yet.")
@on_option
def command(
    job: Path,
    floor_name: str | None,
    task: str,
    ended: datetime.time | None,
    and_before: bool,
    on: datetime.date | None,
) -> None:
    """Write into JOB that a task is finished. For a coat, `used` says it too and corrects the next estimate."""
    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.whole_job.changes import record_done
    from finishadvisor.whole_job.named import floor_named

    day, floor = day_or_today(on), floor_named(job, floor_name)
    finished, own_rows = record_done(job, floor, task, day, ended=ended, and_before=and_before)
    for each in finished:
        click.echo(f"Written: {each.title} ({each.id}) is done on {floor}, {day.isoformat()}.")
    show_own_rows(own_rows)
