"""`finishadvisor why`: every rule that was tried on one finish, and what it said."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, job_argument, on_option, one_floor_option


@click.command("why", short_help="Every rule tried on one finish, with facts and sources.")
@job_argument
@one_floor_option
@click.option("--finish", "finish_id", metavar="ID", required=True, help="The finish, by its id or its name.")
@on_option
def command(job: Path, floor_name: str | None, finish_id: str, on: datetime.date | None) -> None:
    """Show every rule tried on a finish: met, not met or unknown, with its facts and its source."""
    from finishadvisor.cli.show_why import show_why
    from finishadvisor.whole_job.advised import why_finish
    from finishadvisor.whole_job.named import floor_named

    show_why(why_finish(job, day_or_today(on), floor_named(job, floor_name), finish_id))
