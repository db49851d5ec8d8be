"""`finishadvisor check`: is the job file in order?"""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, job_argument, on_option
from finishadvisor.errors import JobError


@click.command("check", short_help="Is everything in the job file usable?")
@job_argument
@on_option
def command(job: Path, on: datetime.date | None) -> None:
    """Read JOB and say whether everything in it can be used."""
    from finishadvisor.cli.show import bullets, show_own_rows
    from finishadvisor.job.checks import dated_ahead
    from finishadvisor.papers.wording import area_text
    from finishadvisor.whole_job.opened import floor_areas_ft2, open_for

    try:
        opened = open_for(job, day_or_today(on), looking_closely=True)
    except JobError as error:
        if len(error.mistakes) == 1:
            raise
        for mistake in error.mistakes:
            click.echo(mistake)
        raise JobError(f"{error.mistakes[0]} ({len(error.mistakes)} mistakes, all listed above.)") from None
    click.echo(f"{opened.job.name}: the job file is in order.")
    for floor, area_ft2 in floor_areas_ft2(opened.job, opened.catalog).items():
        area = area_text(area_ft2, opened.job.units) if area_ft2 else "no outline yet, so nothing can be ordered"
        click.echo(f"  {floor}: {area}")
    bullets("Mind:", dated_ahead(opened.job, opened.on))
    show_own_rows(opened.catalog.own_rows)
