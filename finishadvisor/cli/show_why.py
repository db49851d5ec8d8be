"""Every rule tried on one finish, as text on a terminal."""

from collections.abc import Sequence
from typing import Final

import click

from finishadvisor.catalog.models import Catalog
from finishadvisor.cli.show import bullets, heading
from finishadvisor.papers.wording import VERDICT_WORDS
from finishadvisor.records.advice import Verdict
from finishadvisor.records.finding import Finding

GROUPS: Final = (("yes", "Met"), ("unknown", "Not known yet"), ("no", "Not met"))


def show_why(
    name: str, verdict: Verdict, conditions: Sequence[str], findings: Sequence[Finding], catalog: Catalog
) -> None:
    """Print the verdict on a finish, then every rule tried, met ones first, with its facts and its source."""
    heading(f"{name}: {VERDICT_WORDS[verdict]}")
    bullets("Conditions:", list(conditions))
    for met, title in GROUPS:
        group = [finding for finding in findings if finding.met == met]
        if group:
            click.echo(f"\n{title} ({len(group)})")
        for finding in group:
            show_finding(finding, catalog)


def show_finding(finding: Finding, catalog: Catalog) -> None:
    """Print one rule: its effect and sentence, the facts it read, the source it stands on."""
    known = [f"{fact} = {'not known' if value is None else value}" for fact, value in finding.facts.items()]
    source = catalog.sources[finding.source.id].title
    clause = f", {finding.source.clause}" if finding.source.clause else ""
    memory = ", from memory" if finding.source.from_memory else ""
    click.echo(click.wrap_text(f"{finding.effect}: {finding.because}", 100, "  - ", "    "))
    click.echo(click.wrap_text(f"[{finding.rule}] {'; '.join(known)}", 100, "    ", "    "))
    click.echo(click.wrap_text(f"{source}{clause}{memory}", 100, "    ", "    "))
