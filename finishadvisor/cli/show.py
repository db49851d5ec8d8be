"""Results as text on a terminal. Nothing is worked out here."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final

import click

from finishadvisor.cli.columns import Column, print_columns
from finishadvisor.papers.wording import VERDICT_MARKS, VERDICT_WORDS, money_text, number_text, stability_words
from finishadvisor.records.advice import WORK, FinishAdvice, FloorAdvice

if TYPE_CHECKING:
    from finishadvisor.records.whole import FloorOutcome

DETAILED: Final = 3
"""Finishes whose conditions are printed in full; `why` and --json have all of them."""
WEIGHTIEST: Final = 3
"""So many reasons for a finish, and against it, are printed."""


def heading(text: str) -> None:
    """Print a heading with a rule below it."""
    click.echo(f"\n{text}\n{'-' * len(text)}")


def bullets(title: str, lines: list[str]) -> None:
    """Print a titled list, nothing where the list is empty."""
    if lines:
        click.echo(f"\n{title}")
        for line in lines:
            click.echo(click.wrap_text(line, width=100, initial_indent="  - ", subsequent_indent="    "))


def show_finishes(floor: FloorAdvice, currency: str) -> None:
    """Print the finishes of a floor side by side."""
    columns = (
        Column("", right=True),
        Column("finish", wraps=True),
        Column("id"),
        Column("verdict"),
        *(Column(title, right=True) for title in ("own cost", "over its life", "days out")),
    )
    rows = [
        (
            str(finish.rank or ""),
            finish.name,
            finish.id,
            verdict_words(finish),
            money_text(finish.first_cost.expected, currency) if finish.first_cost else "-",
            money_text(finish.life_cost.expected, currency) if finish.life_cost else "-",
            number_text(finish.days_out) if finish.days_out is not None else "-",
        )
        for finish in floor.finishes
    ]
    print_columns(columns, rows)


def verdict_words(finish: FinishAdvice) -> str:
    """Return the verdict with its mark, and how many things must hold for it."""
    count = sum(not condition.startswith(WORK) for condition in finish.conditions)
    things = f" {count} thing{'s' if count > 1 else ''} hold{'' if count > 1 else 's'}" if count else ""
    if finish.conditions and not count:
        things = " more work is done"
    return f"{VERDICT_MARKS[finish.verdict]} {VERDICT_WORDS[finish.verdict]}{things}"


def against_lines(finishes: Sequence[FinishAdvice], questions: Mapping[str, str]) -> list[str]:
    """Return why finishes do not suit, or which questions leave them open; those with one reason share a line."""
    names: dict[str, list[str]] = {}
    for finish in finishes:
        names.setdefault(against_words(finish, questions), []).append(finish.name)
    return [f"{'; '.join(alike)}: {why}" for why, alike in names.items()]


def against_words(finish: FinishAdvice, questions: Mapping[str, str]) -> str:
    """Return why a finish does not suit, or which questions leave it open."""
    if finish.verdict == "does-not-suit":
        because = next((r.because for r in finish.reasons if r.effect == "forbid" and r.met == "yes"), "")
        return f"{because}."
    missing = sorted({fact for r in finish.reasons if r.effect == "forbid" for fact in r.missing})
    return f"cannot tell yet. {' '.join(questions.get(fact, fact) for fact in missing)}"


def weighed(finish: FinishAdvice) -> list[str]:
    """Return what speaks for a finish on this floor, and what against it, the weightiest reasons of each in a line."""
    lines = []
    for effect, title in (("favor", "for it"), ("against", "against it")):
        told = [reason.because for reason in finish.reasons if reason.effect == effect and reason.met == "yes"]
        if told:
            lines.append(f"{title}: {'; '.join(dict.fromkeys(told[:WEIGHTIEST]))}")
    return lines


def show_advice(floor: FloorAdvice, currency: str) -> None:
    """Print the advice for one floor: the finishes, what must hold for the best three, and what to find out."""
    heading(f"{floor.floor}: which finish")
    show_finishes(floor, currency)
    if floor.none_fits:
        click.echo(click.wrap_text(f"\n{floor.none_fits}", 100))
    if floor.winner_stability is not None:
        click.echo(f"\n{stability_words(floor.winner_stability)}")
    for finish in floor.finishes[:DETAILED]:
        if finish.rank is not None:
            stands = list(finish.conditions) or ["nothing stands in its way"]
            bullets(f"{finish.rank}. {finish.name}:", [*weighed(finish), *stands])
    ruled_out = [finish for finish in floor.finishes if finish.verdict in {"does-not-suit", "cannot-tell"}]
    questions = {fact.fact: fact.question for fact in floor.find_out_next}
    bullets("Why not the others:", against_lines(ruled_out, questions))
    bullets("Find out next:", [f"{fact.question} ({fact.how})" for fact in floor.find_out_next[:5]])
    bullets("Before the pour:", list(floor.before_the_pour))
    for finish in floor.finishes[:1] if not floor.none_fits else ():
        told = " ".join(floor.before_the_pour)
        cautions = [
            r.because for r in finish.reasons if r.effect == "caution" and r.met == "yes" if r.because not in told
        ]
        bullets(f"Mind, with {finish.name}:", cautions)
    if floor.cautions:
        click.echo(f"\n{len(floor.cautions)} cautions bear on these finishes; the papers print them with each finish.")


def show_own_rows(own_rows: Sequence[str]) -> None:
    """Say which of the user's own rows were used, nothing where there are none."""
    bullets("Your own rows are used:", list(own_rows))


def show_choice(outcome: "FloorOutcome") -> None:
    """Print which finish the numbers below are for, and why that one."""
    if outcome.finish is None:
        click.echo(f"{outcome.floor.name}: {outcome.advice.none_fits or 'no finish suits yet'}")
        return
    name = next((finish.name for finish in outcome.advice.finishes if finish.id == outcome.finish), outcome.finish)
    click.echo(f"{outcome.floor.name}: {name} [{outcome.finish}], {outcome.chosen_because}")
