"""`finishadvisor new`: five decisive questions, a first job.toml, a first answer."""

import datetime
from pathlib import Path

import click

from finishadvisor.catalog.models import Fact
from finishadvisor.cli.options import day_or_today, on_option


@click.command("new")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option("--name", help="What the job is called; the folder's name when left out.")
@on_option
def command(folder: Path, name: str | None, on: datetime.date | None) -> None:
    """Ask five questions, write a first job.toml into DIR, and give a first answer.

    Press Enter where you do not know: unknown is always allowed.
    """
    from finishadvisor.cli.show import show_advice, show_own_rows
    from finishadvisor.whole_job.advised import advise_job
    from finishadvisor.whole_job.changes import begin_job, questions_for_new

    answers: dict[str, str | float | bool] = {}
    for fact in questions_for_new():
        value = ask(fact)
        if value is not None:
            answers[fact.id] = value
    opened = begin_job(folder, name or folder.resolve().name, answers)
    click.echo(f"\nWritten: {opened.folder / 'job.toml'}. Add what you know there; everything may stay unknown.")
    job, advised = advise_job(opened.folder, day_or_today(on))
    for one in advised:
        show_advice(one.advice, job.job.currency)
    show_own_rows(job.catalog.own_rows)


def ask(fact: Fact) -> str | float | bool | None:
    """Ask one question until the answer is allowed; Enter means not known."""
    while True:
        allowed = "yes, no" if fact.type == "flag" else ", ".join(fact.values or ())
        hint = f" [{allowed}]" if allowed else f" [{fact.unit}]" if fact.unit else ""
        typed = click.prompt(f"{fact.question}{hint}", default="", show_default=False).strip().lower()
        if not typed:
            return None
        if fact.type == "flag" and typed in {"yes", "y", "no", "n"}:
            return typed.startswith("y")
        if fact.type == "word" and typed in (fact.values or ()):
            return str(typed)
        if fact.type == "number":
            try:
                return float(typed)
            except ValueError:
                pass
        click.echo(f'"{typed}" is not among the answers: {allowed or "a number"}. Press Enter if you do not know.')
