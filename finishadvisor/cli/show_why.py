"""Every rule tried on one finish, as text on a terminal."""

from typing import Final

import click

from finishadvisor.cli.columns import print_prose
from finishadvisor.cli.show import bullets, heading, show_own_rows
from finishadvisor.papers.wording import VERDICT_WORDS
from finishadvisor.records.why import TriedRule, WhyFinish

GROUPS: Final = (("yes", "Met"), ("unknown", "Not known yet"), ("no", "Not met"))


def show_why(why: WhyFinish) -> None:
    """Print the verdict on a finish, then every rule tried, met ones first, with its facts and its source."""
    heading(f"{why.floor}, {why.name}: {VERDICT_WORDS[why.verdict]}")
    bullets("Conditions:", list(why.conditions))
    bullets("Out of reach once it is down, short of taking it off:", list(why.closes))
    for met, title in GROUPS:
        group = [tried for tried in why.tried if tried.finding.met == met]
        if group:
            click.echo(f"\n{title} ({len(group)})")
        for tried in group:
            show_tried(tried, why)
    show_own_rows(why.own_rows)


def show_tried(tried: TriedRule, why: WhyFinish) -> None:
    """Print one rule: its effect and sentence, when it is met, the facts it read, the source it stands on."""
    finding = tried.finding
    facts = "; ".join(why.facts_in_words[fact] for fact in finding.facts)
    clause = f", {finding.source.clause}" if finding.source.clause else ""
    memory = ", from memory" if finding.source.from_memory else ""
    own = " (your own rule)" if tried.own else ""
    print_prose(f"{finding.effect}: {finding.because}{own}", "  - ", "    ")
    print_prose(f"When: {tried.when}. Here: {facts or 'always so'}.", "    ", "    ")
    print_prose(f"Source: {tried.source_title}{clause}{memory} [{finding.rule}]", "    ", "    ")
