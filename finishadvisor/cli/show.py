"""Results as text on a terminal. Nothing is worked out here."""

import click
from rich.console import Console
from rich.table import Table

from finishadvisor.papers.wording import VERDICT_MARKS, VERDICT_WORDS, money_text, number_text
from finishadvisor.records.advice import FinishAdvice, FloorAdvice
from finishadvisor.records.evenness import Evenness
from finishadvisor.records.whole import FloorOutcome


def console() -> Console:
    """Return a console that prints plain text, at most 110 columns wide."""
    plain = Console(highlight=False, markup=False, emoji=False)
    plain.width = min(plain.width, 110)
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
    for name, justify in (("", "right"), ("finish", "left"), ("verdict", "left"), ("own cost", "right"),
                          ("over its life", "right"), ("days out", "right"), ("what decides", "left")):  # fmt: skip
        table.add_column(name, justify=justify)  # type: ignore[arg-type]
    for finish in floor.finishes:
        table.add_row(
            str(finish.rank or ""),
            f"{finish.name} [{finish.id}]",
            f"{VERDICT_MARKS[finish.verdict]} {VERDICT_WORDS[finish.verdict]}",
            money_text(finish.first_cost.expected, currency) if finish.first_cost else "-",
            money_text(finish.life_cost.expected, currency) if finish.life_cost else "-",
            number_text(finish.days_out) if finish.days_out is not None else "-",
            deciding_words(finish),
        )
    return table


def deciding_words(finish: FinishAdvice) -> str:
    """Return the reason that decides a verdict, short."""
    if finish.verdict == "does-not-suit":
        return next((r.because for r in finish.reasons if r.effect == "forbid" and r.met == "yes"), "")
    if finish.verdict == "cannot-tell":
        missing = sorted({fact for r in finish.reasons if r.effect == "forbid" for fact in r.missing})
        return f"not known: {', '.join(missing)}" if missing else ""
    more = len(finish.conditions) - 1
    return (finish.conditions[0] + (f" (and {more} more)" if more > 0 else "")) if finish.conditions else ""


def show_advice(floor: FloorAdvice, currency: str) -> None:
    """Print the advice for one floor."""
    heading(f"{floor.floor}: which finish")
    console().print(finish_table(floor, currency))
    if floor.none_fits:
        click.echo(f"\n{floor.none_fits}")
    if floor.winner_stability is not None:
        click.echo(
            f"\nThe first place holds in {floor.winner_stability:.0%} of the cases when prices, lives and weights move "
            "within their ranges."
        )
    bullets("Find out next:", [f"{fact.question} ({fact.how})" for fact in floor.find_out_next[:5]])
    bullets("Before the pour:", list(floor.before_the_pour))
    bullets("Cautions:", list(floor.cautions))


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
        tone = "darker" if patch.dL < 0 else "lighter"
        click.echo(
            f"  {number}. {patch.kind}: {tone}, {patch.area_ft2:.1f} ft² at x {patch.x_ft:.1f}, y {patch.y_ft:.1f} ft, "
            f"{patch.width_ft:.1f} x {patch.length_ft:.1f} ft, CIEDE2000 {patch.de00:.1f}"
        )
    if evenness.causes:
        bullets("Probably:", [f"{c.cause} ({c.likelihood}). Check: {c.check} Then: {c.do}" for c in evenness.causes])
    bullets("Mind:", list(evenness.warnings))


def show_choice(outcome: FloorOutcome) -> None:
    """Print which finish the numbers below are for, and why that one."""
    if outcome.finish is None:
        click.echo(f"{outcome.floor.name}: {outcome.advice.none_fits or 'no finish suits yet'}")
        return
    name = next((finish.name for finish in outcome.advice.finishes if finish.id == outcome.finish), outcome.finish)
    click.echo(f"{outcome.floor.name}: {name} [{outcome.finish}], {outcome.chosen_because}")
