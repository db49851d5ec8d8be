"""A plan as text on a terminal."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final

import click

from finishadvisor.cli.columns import Column, print_columns, print_prose
from finishadvisor.cli.show import bullets, heading
from finishadvisor.papers.blocked_words import blocked_words
from finishadvisor.papers.quantities import said
from finishadvisor.papers.wording import clock_text, moment_text, number_text
from finishadvisor.records.plan import Blocked, Plan
from finishadvisor.records.whole import WholeJob

MOST_BLOCKED: Final = 12


def show_plan(plan: Plan, units: str) -> None:
    """Print the steps in order, what blocks, and when the floors return to service, in the job's units."""
    heading("Schedule")
    if not plan.feasible:
        click.echo("No plan fits: see what blocks below.\n")
    columns = (
        *(Column(title) for title in ("start", "end", "floor")),
        Column("task", wraps=True),
        Column("crew-hours", right=True),
        Column("not after"),
    )
    rows = [
        (
            moment_text(step.start, units),
            clock_text(step.end, step.start, units),
            step.floor,
            step.task,
            number_text(step.hours),
            moment_text(step.latest, units) if step.latest else "",
        )
        for step in plan.steps
    ]
    if rows:
        print_columns(columns, rows)
    elif plan.feasible:
        click.echo("Nothing is left to do.")
    for floor, back in plan.back_in_service.items():
        words = {"feet": back.foot, "water": back.water, "furniture": back.furniture, "rugs and cover": back.cover,
                 "vehicles": back.vehicle}  # fmt: skip
        dated = [f"{what} {moment_text(when, units)}" for what, when in words.items() if when]
        click.echo()
        print_prose(f"{floor}, return to service: {'; '.join(dated) if dated else 'not within this plan'}")
    for step in plan.steps:
        notes = [said(note, units) for note in step.notes]
        bullets(f"{moment_text(step.start, units)}, {step.floor}: {step.task}", notes)
    show_blocked(plan.blocked, units)


def show_weather_hint(whole: WholeJob, weather_path: Path | None) -> None:
    """Say how a forecast is named, where a floor outdoors was planned without one."""
    planned = whole.plan.back_in_service if whole.plan else {}
    outdoors = any(each.floor.name in planned and each.facts.get("place") != "indoors" for each in whole.floors)
    if outdoors and weather_path is None and whole.job.weather is None:
        click.echo("\nName an hourly forecast for the floors outdoors with --weather FILE.")


def show_blocked(blocked: Sequence[Blocked], units: str) -> None:
    """Print what blocks, spans of one task and one reason together; the JSON has each."""
    lines = [f"{each.when}, {each.task}: {said(each.why, units)}" for each in blocked_words(blocked, units)]
    bullets("Blocked:", lines[:MOST_BLOCKED])
    if len(lines) > MOST_BLOCKED:
        click.echo(f"  and {len(lines) - MOST_BLOCKED} more; --json FILE writes them all")
