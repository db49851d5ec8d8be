"""Results as text on a terminal. Nothing is worked out here."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import click

from finishadvisor.cli.columns import print_prose
from finishadvisor.papers.doubt import doubt_of
from finishadvisor.papers.wording import rest_on_dollars

if TYPE_CHECKING:
    from finishadvisor.records.base import Money
    from finishadvisor.records.whole import FloorOutcome


def heading(text: str) -> None:
    """Print a heading with a rule below it."""
    click.echo(f"\n{text}\n{'-' * len(text)}")


def bullets(title: str, lines: Iterable[str]) -> None:
    """Print a titled list, nothing where the list is empty."""
    for number, line in enumerate(lines):
        if number == 0:
            click.echo(f"\n{title}")
        print_prose(line, "  - ", "    ")


def show_dollars(amounts: Iterable["Money | None"], currency: str) -> None:
    """Say so where amounts in another currency rest on usual prices in US dollars."""
    if rest_on_dollars(amounts):
        click.echo()
        print_prose(
            f"Prices that are not your own are usual US prices in dollars, taken one for one as {currency}: give your "
            "own in job.toml, as [[price]] and under [business]."
        )


def show_own_rows(own_rows: Sequence[str]) -> None:
    """Say which of the user's own rows were used, nothing where there are none."""
    bullets("Your own rows are used:", list(own_rows))


def show_choice(outcome: "FloorOutcome") -> None:
    """Print which finish the numbers below are for, and why that one."""
    if outcome.finish is None:
        print_prose(f"{outcome.floor.name}: {outcome.advice.none_fits or 'no finish suits yet'}")
        return
    finish = next(finish for finish in outcome.advice.finishes if finish.id == outcome.finish)
    ask = " advise says what to find out." if finish.verdict == "cannot-tell" else ""
    chosen = f"{outcome.floor.name}: {finish.name} [{finish.id}], {outcome.chosen_because}."
    print_prose(f"{chosen} {doubt_of(finish)}{ask}".rstrip())
