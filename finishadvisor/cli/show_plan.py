"""A plan as text on a terminal."""

import click
from rich.table import Table

from finishadvisor.cli.show import bullets, console, heading
from finishadvisor.papers.wording import clock_text, moment_text, number_text
from finishadvisor.records.plan import Plan


def show_plan(plan: Plan) -> None:
    """Print the steps in order, what blocks, and when the floors are back in service."""
    heading("The days")
    if not plan.feasible:
        click.echo("No plan fits: see what blocks below.\n")
    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False)
    for name in ("start", "end"):
        table.add_column(name, no_wrap=True)
    table.add_column("floor")
    table.add_column("task", ratio=1)
    table.add_column("crew-hours", justify="right", no_wrap=True)
    table.add_column("not after", no_wrap=True)
    for step in plan.steps:
        latest = moment_text(step.latest) if step.latest else ""
        table.add_row(
            moment_text(step.start), clock_text(step.end, step.start), step.floor, step.task, number_text(step.hours),
            latest,
        )  # fmt: skip
    console().print(table)
    for floor, back in plan.back_in_service.items():
        words = {"feet": back.foot, "water": back.water, "furniture": back.furniture, "rugs and cover": back.cover,
                 "vehicles": back.vehicle}  # fmt: skip
        dated = [f"{what} {moment_text(when)}" for what, when in words.items() if when]
        click.echo(f"\n{floor}, back in service for: {'; '.join(dated) if dated else 'not within this plan'}")
    notes = sorted({note for step in plan.steps for note in step.notes})
    bullets("Notes:", notes)
    blocked = [f"{moment_text(b.start)} to {moment_text(b.end)}, {b.task}: {b.why}" for b in plan.blocked[:12]]
    bullets("Blocked:", blocked)
