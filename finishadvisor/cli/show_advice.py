"""Advice as text on a terminal: the finishes side by side, what must hold, what to find out and how to write it."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import click

from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.cli.columns import Column, print_columns, print_prose
from finishadvisor.cli.show import bullets, heading, show_dollars
from finishadvisor.job.document import Job
from finishadvisor.papers.doubt import why_not
from finishadvisor.papers.quantities import said
from finishadvisor.papers.wording import VERDICT_MARKS, VERDICT_WORDS, money_text, number_text, stability_words
from finishadvisor.records.advice import WORK, FinishAdvice, FloorAdvice

DETAILED: Final = 3
"""Finishes whose conditions are printed in full; `why` and --json have all of them."""
WEIGHTIEST: Final = 3
"""So many reasons for a finish, and against it, are printed."""
FIRST_QUESTIONS: Final = 5
MOST_ANSWERS: Final = 6
"""Answers printed with a question; docs/facts.md has all."""
REACHABLE: Final = frozenset({"suits", "suits-if"})


def show_advice(floor: FloorAdvice, job: Job, catalog: Catalog) -> None:
    """Print the advice for one floor: the finishes, what must hold for the best three, and what to find out."""
    _show_side_by_side(floor, job)
    for finish in floor.finishes[:DETAILED]:
        if finish.verdict in REACHABLE:
            stands = list(finish.conditions) or ["nothing stands in its way"]
            bullets(f"{finish.rank}. {finish.name}:", [said(line, job.units) for line in (*weighed(finish), *stands)])
    ruled_out = [finish for finish in floor.finishes if finish.verdict == "does-not-suit"]
    bullets("Do not suit:", [said(line, job.units) for line in against_lines(ruled_out)])
    bullets("Cannot tell yet, until these are known:", open_lines(floor, catalog.facts))
    show_questions(floor, job, catalog)
    bullets("Before the pour:", [said(line, job.units) for line in floor.before_the_pour])
    if floor.finishes and floor.finishes[0].verdict in REACHABLE:
        bullets(f"Mind, with {floor.finishes[0].name}:", [said(line, job.units) for line in cautions_of(floor)])
    if floor.cautions:
        click.echo()
        print_prose(f"{len(floor.cautions)} cautions bear on these finishes; the papers print them with each finish.")


def show_first_answer(floor: FloorAdvice, job: Job, catalog: Catalog) -> None:
    """Print the finishes of a floor side by side, and what to find out; `advise` tells the rest."""
    _show_side_by_side(floor, job)
    show_questions(floor, job, catalog)


def _show_side_by_side(floor: FloorAdvice, job: Job) -> None:
    heading(f"{floor.floor}: which finish")
    show_finishes(floor, job.currency)
    show_dollars((finish.first_cost for finish in floor.finishes), job.currency)
    for line in overall(floor):
        click.echo()
        print_prose(line)


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


def overall(floor: FloorAdvice) -> Iterator[str]:
    """Yield what holds for the ranking as a whole: none fits, how sure the first place is, why there is no cost."""
    settled = any(finish.verdict in REACHABLE for finish in floor.finishes)
    if floor.none_fits:
        yield floor.none_fits
    elif not settled:
        yield "No finish can be judged yet: answer the questions below first."
    elif floor.winner_stability is not None:
        yield stability_words(floor.winner_stability)
    if all(finish.first_cost is None for finish in floor.finishes):
        yield "Costs, order and days need the floor's size: give it a [floor.outline] in job.toml."


def against_lines(finishes: Sequence[FinishAdvice]) -> list[str]:
    """Return why finishes do not suit; those with one reason share a line."""
    names: dict[str, list[str]] = {}
    for finish in finishes:
        names.setdefault(why_not(finish), []).append(finish.name)
    return [f"{'; '.join(alike)}: {because}." for because, alike in names.items()]


def open_lines(floor: FloorAdvice, facts: Mapping[str, Fact]) -> list[str]:
    """Return which facts leave finishes open; finishes that wait for the same ones share a line."""
    names: dict[tuple[str, ...], list[str]] = {}
    for finish in floor.finishes:
        if finish.verdict == "cannot-tell":
            names.setdefault(tuple(sorted(facts[fact].label for fact in missing_for(finish))), []).append(finish.name)
    return [f"{'; '.join(alike)}: {'; '.join(missing)}" for missing, alike in names.items()]


def missing_for(finish: FinishAdvice) -> set[str]:
    """Return the facts without which a finish cannot be judged."""
    return {fact for reason in finish.reasons if reason.effect == "forbid" for fact in reason.missing}


def show_questions(floor: FloorAdvice, job: Job, catalog: Catalog) -> None:
    """Print what to find out next, how, and how the answer is written."""
    unsettled = {fact for each in floor.finishes if each.verdict == "cannot-tell" for fact in missing_for(each)}
    first = [
        each for number, each in enumerate(floor.find_out_next) if number < FIRST_QUESTIONS or each.fact in unsettled
    ]
    bullets("Find out next:", [
        f"{said(f'{each.question} ({each.how})', job.units)} Write: {answer_words(catalog.facts[each.fact])}"
        for each in first
    ])  # fmt: skip
    if first:
        print_prose("Answers go into job.toml, under [floor.answers]; docs/facts.md lists what each takes.", "  ", "  ")


def answer_words(fact: Fact) -> str:
    """Return how the answer to a fact is written in job.toml."""
    if "readings" in fact.derived_from:
        return "a [[floor.reading]] with its day"
    if fact.type == "flag":
        return f"{fact.id} = true or false"
    if fact.type == "number":
        return f"{fact.id} = the number{f' in {fact.unit}' if fact.unit else ''}"
    quoted = [f'"{value}"' for value in fact.values or ()]
    listed = quoted[:MOST_ANSWERS] + (["..."] if len(quoted) > MOST_ANSWERS else [])
    at_head = " at the head of job.toml" if f"job.{fact.id}" in fact.derived_from else ""
    return f"{fact.id} = {' or '.join(listed)}{at_head}"


def weighed(finish: FinishAdvice) -> list[str]:
    """Return what speaks for a finish on this floor, and what against it, the weightiest reasons of each in a line."""
    lines = []
    for effect, title in (("favor", "for it"), ("against", "against it")):
        told = [reason.because for reason in finish.reasons if reason.effect == effect and reason.met == "yes"]
        if told:
            lines.append(f"{title}: {'; '.join(dict.fromkeys(told[:WEIGHTIEST]))}")
    return lines


def cautions_of(floor: FloorAdvice) -> list[str]:
    """Return the cautions that hold for the first finish and are not told before the pour."""
    told = " ".join(floor.before_the_pour)
    return [
        reason.because
        for reason in floor.finishes[0].reasons
        if reason.effect == "caution" and reason.met == "yes" and reason.because not in told
    ]
