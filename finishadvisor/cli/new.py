"""`finishadvisor new`: five decisive questions, a first job.toml, a first answer."""

import datetime
from pathlib import Path
from typing import Literal

import click

from finishadvisor.catalog.models import Fact
from finishadvisor.cli.options import day_or_today, on_option
from finishadvisor.errors import nearest_of


@click.command("new", short_help="Five questions, a first job.toml in DIR, a first answer.")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option("--name", metavar="TEXT", help="What the job is called; the folder's name when left out.")
@click.option(
    "--units",
    type=click.Choice(["us", "metric"]),
    default="us",
    show_default=True,
    help="What numbers without a unit mean in the job, and how results are told.",
)
@on_option
def command(folder: Path, name: str | None, units: Literal["us", "metric"], on: datetime.date | None) -> None:
    """Ask five questions, write a first job.toml into DIR, and give a first answer.

    The first letters of an answer will do. Press Enter where you do not know: unknown is always allowed.
    """
    from finishadvisor.cli.show import show_own_rows
    from finishadvisor.cli.show_advice import show_first_answer
    from finishadvisor.job.new import check_beginning
    from finishadvisor.whole_job.advised import advise_job
    from finishadvisor.whole_job.changes import begin_job, questions_for_new

    called = name or folder.resolve().name
    check_beginning(folder, called)
    answers: dict[str, str | float | bool] = {}
    for fact in questions_for_new():
        value = ask(fact)
        if value is not None:
            answers[fact.id] = value
    opened = begin_job(folder, called, answers, units)
    click.echo(f"\nWritten: {opened.folder / 'job.toml'}. Add what you know there; everything may stay unknown.")
    job, advised = advise_job(opened.folder, day_or_today(on))
    for one in advised:
        show_first_answer(one.advice, job.job, job.catalog)
    show_own_rows(job.catalog.own_rows)
    click.echo(f"\nWhat must hold, why others do not suit, what to mind: finishadvisor advise {folder}")


def ask(fact: Fact) -> str | float | bool | None:
    """Ask one question until the answer is allowed; Enter means not known."""
    allowed = ("yes", "no") if fact.type == "flag" else fact.values or ()
    hint = f" [{', '.join(allowed)}]" if allowed else f" [{fact.unit}]" if fact.unit else ""
    while True:
        typed = click.prompt(f"{fact.question}{hint}", default="", show_default=False).strip()
        if not typed:
            return None
        if not allowed:
            try:
                return float(typed)
            except ValueError:
                pass
        meant = matching(typed, allowed)
        if len(meant) == 1:
            return meant[0] == "yes" if fact.type == "flag" else meant[0]
        hint_at = f" Which one: {', '.join(meant)}?" if meant else nearest_of(typed, allowed)
        click.echo(f'"{typed}" is not one of the answers.{hint_at} Press Enter if you do not know.')


def matching(typed: str, allowed: tuple[str, ...]) -> tuple[str, ...]:
    """Return the answer that was typed, else all that begin with what was typed."""
    wanted = typed.casefold().replace(" ", "-")
    if wanted in allowed:
        return (wanted,)
    return tuple(word for word in allowed if word.startswith(wanted))
