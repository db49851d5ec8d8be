"""`finishadvisor done`: record that a task is finished, so that plan and today go on from there."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, job_argument, on_option


class ClockType(click.ParamType[datetime.time]):
    """A time of day, HH:MM."""

    name = "time"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> datetime.time:
        """Return the time."""
        if isinstance(value, datetime.time):
            return value
        try:
            return datetime.datetime.strptime(str(value), "%H:%M").time()  # noqa: DTZ007  (a clock, no moment)
        except ValueError:
            self.fail(f'"{value}" is not a time of day. Write it in 24 hours, for example 14:30.', param, ctx)


@click.command("done")
@job_argument
@click.option("--floor", "floor_name", required=True, help="The floor.")
@click.option("--task", required=True, help="The task by its id, as `today` prints it, or by its title in quotes.")
@click.option("--time", "ended", type=ClockType(), help="When it ended (HH:MM); left out: some time of that workday.")
@click.option("--and-before", is_flag=True, help="Also everything before it that is not recorded yet.")
@on_option
def command(
    job: Path, floor_name: str, task: str, ended: datetime.time | None, and_before: bool, on: datetime.date | None
) -> None:
    """Write into JOB that a task is finished. For a coat, `used` says it too and corrects the next estimate."""
    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.whole_job.changes import record_done

    day = day_or_today(on)
    finished, own_rows = record_done(job, floor_name, task, day, ended=ended, and_before=and_before)
    for each in finished:
        click.echo(f"Written: {each.title} ({each.id}) is done on {floor_name}, {day.isoformat()}.")
    show_own_rows(own_rows)
