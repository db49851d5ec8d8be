"""Results as text on a terminal. Nothing is worked out here."""

from typing import Final

import click
from rich.console import Console
from rich.table import Table

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.wording import VERDICT_MARKS, VERDICT_WORDS, money_text, number_text
from finishadvisor.records.advice import FinishAdvice, FloorAdvice
from finishadvisor.records.evenness import Evenness
from finishadvisor.records.whole import FloorOutcome

DETAILED: Final = 3
"""Finishes whose conditions are printed in full; `why` and --json have all of them."""


def console() -> Console:
    """Return a console that prints plain text: a terminal's width, 110 columns where there is no terminal."""
    plain = Console(highlight=False, markup=False, emoji=False)
    plain.width = min(plain.width, 120) if plain.is_terminal else 110
    return plain


def heading(text: str) -> None:
    """Print a heading with a rule below it."""
    click.echo(f"\n{text}\n{'-' * len(text)}")


def bullets(title: str, lines: list[str]) -> None:
    """Print a titled list, nothing where the list is empty."""
    if lines:
        click.echo(f"\n{title}")
        for line in lines:
            click.echo(click.wrap_text(line, width=100, initial_indent="  - ", subsequent_indent="    "))


def finish_table(floor: FloorAdvice, currency: str) -> Table:
    """Return the finishes of a floor side by side."""
    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False)
    table.add_column("", justify="right")
    table.add_column("finish", ratio=1)
    table.add_column("id", no_wrap=True)
    table.add_column("verdict", no_wrap=True)
    for name in ("own cost", "over its life", "days out"):
        table.add_column(name, justify="right", no_wrap=True)
    for finish in floor.finishes:
        table.add_row(
            str(finish.rank or ""),
            finish.name,
            finish.id,
            verdict_words(finish),
            money_text(finish.first_cost.expected, currency) if finish.first_cost else "-",
            money_text(finish.life_cost.expected, currency) if finish.life_cost else "-",
            number_text(finish.days_out) if finish.days_out is not None else "-",
        )
    return table


def verdict_words(finish: FinishAdvice) -> str:
    """Return the verdict with its mark, and how many things must hold for it."""
    count = len(finish.conditions)
    things = f" {count} thing{'s' if count > 1 else ''} hold{'' if count > 1 else 's'}" if count else ""
    return f"{VERDICT_MARKS[finish.verdict]} {VERDICT_WORDS[finish.verdict]}{things}"


def against_words(finish: FinishAdvice) -> str:
    """Return why a finish does not suit, or which unknown facts leave it open."""
    if finish.verdict == "does-not-suit":
        because = next((r.because for r in finish.reasons if r.effect == "forbid" and r.met == "yes"), "")
        return f"{finish.name}: {because}."
    missing = sorted({fact for r in finish.reasons if r.effect == "forbid" for fact in r.missing})
    return f"{finish.name}: cannot tell without {', '.join(missing)}."


def show_advice(floor: FloorAdvice, currency: str) -> None:
    """Print the advice for one floor: the finishes, what must hold for the best three, and what to find out."""
    heading(f"{floor.floor}: which finish")
    console().print(finish_table(floor, currency))
    if floor.none_fits:
        click.echo(click.wrap_text(f"\n{floor.none_fits}", 100))
    if floor.winner_stability is not None:
        click.echo(
            f"\nThe first place holds in {floor.winner_stability:.0%} of the cases when prices, lives and weights move "
            "within their ranges."
        )
    for finish in floor.finishes[:DETAILED]:
        if finish.rank is not None:
            bullets(f"{finish.rank}. {finish.name}:", list(finish.conditions) or ["nothing stands in its way"])
    ruled_out = [finish for finish in floor.finishes if finish.verdict in {"does-not-suit", "cannot-tell"}]
    bullets("Why not the others:", [against_words(finish) for finish in ruled_out])
    bullets("Find out next:", [f"{fact.question} ({fact.how})" for fact in floor.find_out_next[:5]])
    bullets("Before the pour:", list(floor.before_the_pour))
    for finish in floor.finishes[:1]:
        cautions = [r.because for r in finish.reasons if r.effect == "caution" and r.met == "yes"]
        bullets(f"Mind, with {finish.name}:", cautions)
    click.echo(f"\n{len(floor.cautions)} cautions bear on these finishes; the papers print them with each finish.")


def show_evenness(evenness: Evenness, sentences: dict[str, str]) -> None:
    """Print what one photo says."""
    heading(evenness.photo)
    if evenness.refused:
        for refusal in evenness.refused:
            click.echo(f"Refused: {sentences.get(refusal, refusal)}")
        return
    low_high = evenness.grade_range
    unsure = f" (could be {low_high[0]} to {low_high[1]})" if low_high and low_high[0] != low_high[1] else ""
    click.echo(f"Grade: {evenness.grade}{unsure}")
    if evenness.share_over and evenness.p95_de00 is not None:
        click.echo(
            f"{evenness.share_over['3']:.1%} of the slab differs clearly (CIEDE2000 over 3); "
            f"95 % of it lies within {evenness.p95_de00:.1f}. Measured: {evenness.measured_share or 0:.0%} of the slab."
        )
    for number, patch in enumerate(evenness.patches or (), start=1):
        click.echo(
            f"  {number}. {sentences.get(patch.kind, patch.kind)}: {patch.area_ft2:.1f} ft² at x {patch.x_ft:.1f}, "
            f"y {patch.y_ft:.1f} ft, {patch.width_ft:.1f} x {patch.length_ft:.1f} ft, "
            f"CIEDE2000 {patch.de00:.1f} ({'darker' if patch.dL < 0 else 'lighter'})"
        )
    bullets("Mind:", list(evenness.warnings))


def show_causes(evenness: Evenness, catalog: Catalog) -> None:
    """Print what probably made the shade uneven, how to confirm it and what to do."""
    lines = [
        f"{catalog.causes[c.cause].name} ({c.likelihood.replace('-', ' ')}). Check: {c.check} Then: {c.do}"
        for c in evenness.causes or ()
    ]
    bullets("What it probably is:", lines)


def show_choice(outcome: FloorOutcome) -> None:
    """Print which finish the numbers below are for, and why that one."""
    if outcome.finish is None:
        click.echo(f"{outcome.floor.name}: {outcome.advice.none_fits or 'no finish suits yet'}")
        return
    name = next((finish.name for finish in outcome.advice.finishes if finish.id == outcome.finish), outcome.finish)
    click.echo(f"{outcome.floor.name}: {name} [{outcome.finish}], {outcome.chosen_because}")
