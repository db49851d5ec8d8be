"""`finishadvisor why`: every rule that was tried on one finish, and what it said."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, job_argument, on_option


@click.command("why")
@job_argument
@click.option("--floor", "floor_name", required=True, help="The floor.")
@click.option("--finish", "finish_id", required=True, help="The finish, by its id.")
@on_option
def command(job: Path, floor_name: str, finish_id: str, on: datetime.date | None) -> None:
    """Show every rule tried on a finish: met, not met or unknown, with its facts and its source."""
    from finishadvisor.cli.show_why import show_why
    from finishadvisor.whole_job.advised import why_finish

    show_why(why_finish(job, day_or_today(on), floor_name, finish_id))
