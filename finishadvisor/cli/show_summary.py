"""A whole job in plain words: what was decided, what to find out next, where everything is."""

from collections.abc import Sequence
from pathlib import Path

import click

from finishadvisor.cli.columns import print_prose
from finishadvisor.cli.show import bullets, heading, show_own_rows
from finishadvisor.papers.wording import counted, moment_text, money_range_text, plain_words
from finishadvisor.records.whole import FloorOutcome, WholeJob


def show_summary(whole: WholeJob, written: Sequence[Path]) -> None:
    """Print the outcome of each floor, the order and the days in a few lines, and the files."""
    for outcome in whole.floors:
        heading(outcome.floor.name)
        for line in floor_lines(whole, outcome):
            print_prose(line)
        bullets("Settle first:", list(settle_first(outcome)))
        bullets("Find out next:", [f"{fact.question} {fact.how}" for fact in outcome.advice.find_out_next[:3]])
    heading("Order, days and papers")
    if whole.order:
        count = sum(pack.count for packs in whole.order.packs for pack in packs.packs)
        cost = money_range_text(whole.order.total_cost, whole.job.currency)
        click.echo(
            f"Order: {count} packs, material {cost}; "
            f"the chance that anything runs short is {whole.order.short_risk:.1%}."
        )
    if whole.plan and whole.plan.steps:
        first, last = whole.plan.steps[0].start, max(step.end for step in whole.plan.steps)
        fits = "" if whole.plan.feasible else " Not everything fits; the plan says what blocks."
        begin, end = (moment_text(moment, whole.job.units) for moment in (first, last))
        click.echo(f"Schedule: from {begin} to {end}.{fits}")
    if written:
        click.echo(f"Files, all in {written[0].parent}:")
        for path in written:
            click.echo(f"  {path.name}")
    show_own_rows(whole.catalog.own_rows)


def floor_lines(whole: WholeJob, outcome: FloorOutcome) -> list[str]:
    """Return what the photos said and which finish was taken, a sentence each."""
    lines = []
    for photo in outcome.evenness.photos if outcome.evenness else ():
        if photo.refused:
            lines.append(f"The photo {photo.photo} could not be used.")
        elif photo.share_over is not None:
            lines.append(
                f"Shade in {photo.photo}: {plain_words(photo.grade or 'not graded')}; "
                f"{photo.share_over['3']:.0%} of the slab differs clearly, "
                f"in {counted(len(photo.patches or ()), 'patch', 'patches')}."
            )
    causes = (outcome.evenness.together or outcome.evenness.photos[0]).causes if outcome.evenness else None
    lines += [
        f"{plain_words(cause.likelihood).capitalize()} cause: {whole.catalog.causes[cause.cause].name}."
        for cause in (causes or ())[:2]
    ]
    if outcome.finish is None:
        lines.append(outcome.advice.none_fits or "No finish suits yet.")
        return lines
    price = outcome.selling_prices.get(outcome.finish)
    lines.append(
        f"Finish: {whole.catalog.finishes[outcome.finish].name}, {outcome.chosen_because}. "
        f"Selling price {money_range_text(price, whole.job.currency)}."
    )
    return lines


def settle_first(outcome: FloorOutcome) -> tuple[str, ...]:
    """Return the conditions of the chosen finish."""
    return next((finish.conditions for finish in outcome.advice.finishes if finish.id == outcome.finish), ())
