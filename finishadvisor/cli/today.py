"""`finishadvisor today`: what may be done now."""

import datetime
from pathlib import Path

import click

from finishadvisor.cli.options import day_or_today, floor_option, job_argument, on_option, weather_option


@click.command("today", short_help="What may be done now.")
@job_argument
@floor_option
@weather_option
@on_option
def command(job: Path, floor_name: str | None, weather_path: Path | None, on: datetime.date | None) -> None:
    """Say what may be done on JOB today, floor by floor."""
    from finishadvisor.cli.show import bullets, show_own_rows
    from finishadvisor.cli.show_plan import show_weather_hint
    from finishadvisor.papers.quantities import said
    from finishadvisor.whole_job.work_through import today_of, work_through

    whole = work_through(job, day_or_today(on), floor_name=floor_name, weather_path=weather_path, with_order=False)
    for floor, today in today_of(whole).items():
        bullets(f"{floor}:", [said(line, whole.job.units) for line in today.lines])
    show_weather_hint(whole, weather_path)
    show_own_rows(whole.catalog.own_rows)
    due = [step for step in whole.plan.steps if step.start.date() == whole.on] if whole.plan else []
    commands = [f'finishadvisor done {job} --floor "{step.floor}" --task {step.task_id}' for step in due]
    if commands:
        click.echo("\nWhen one of them is finished, write it down; where only a part is, add --area or --zones:")
        for line in dict.fromkeys(commands):
            click.echo(f"  {line}")
