"""Results as text on a terminal. Nothing is worked out here."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import click

from finishadvisor.cli.columns import print_prose
from finishadvisor.papers.wording import rest_on_dollars

if TYPE_CHECKING:
    from finishadvisor.records.advice import FinishAdvice
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
    print_prose(f"{outcome.floor.name}: {finish.name} [{finish.id}], {outcome.chosen_because}.{doubt_of(finish)}")


def doubt_of(finish: "FinishAdvice") -> str:
    """Return what is said before a finish is ordered or planned that does not suit, or may not; else ""."""
    if finish.verdict == "does-not-suit":
        return f" It does not suit this floor: {why_not(finish)}."
    if finish.verdict == "cannot-tell":
        return " Whether it suits this floor cannot be told yet; advise says what to find out."
    return ""


def why_not(finish: "FinishAdvice") -> str:
    """Return the first reason for which a finish does not suit, "" where there is none."""
    return next((r.because for r in finish.reasons if r.effect == "forbid" and r.met == "yes"), "")
