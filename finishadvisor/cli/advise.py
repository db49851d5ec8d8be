"""`finishadvisor advise`: which finishes suit, why, what they cost, what to find out next."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, floor_option, job_argument, json_option, on_option


@click.command("advise", short_help="Which finishes suit each floor, why, and what to find out next.")
@job_argument
@floor_option
@on_option
@json_option
def command(job: Path, floor_name: str | None, on: datetime.date | None, json_path: Path | None) -> None:
    """Say which finishes suit each floor of JOB, with reasons, costs and what to find out next."""
    from finishadvisor.cli.show import bullets, show_own_rows
    from finishadvisor.cli.show_advice import show_advice
    from finishadvisor.cli.show_refused import show_refused
    from finishadvisor.records.advice import Advice
    from finishadvisor.whole_job.advised import advise_job

    opened, advised = advise_job(job, day_or_today(on), floor_name)
    for one in advised:
        if one.floor.photos and one.evenness is None:
            click.echo(f'{one.floor.name}: its photos are not measured yet; run "finishadvisor evenness {job}".')
        show_refused(one.floor.name, one.evenness)
        show_advice(one.advice, opened.job, opened.catalog)
        bullets("From what lies on the slab:", list(one.reach(opened.catalog)))
    show_own_rows(opened.catalog.own_rows)
    if json_path:
        from finishadvisor.whole_job.files import write_json

        write_json(json_path, Advice(floors=tuple(one.advice for one in advised)).as_json())
