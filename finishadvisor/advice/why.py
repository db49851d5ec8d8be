"""Explains a verdict: every rule tried on a finish, met, not met or unknown, with its facts and its source."""

import datetime
from collections.abc import Mapping

from finishadvisor.advice.conditions import own_work, tell_conditions
from finishadvisor.advice.told import weightiest_first
from finishadvisor.advice.verdict import Judgement
from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.records.why import TriedRule, WhyFinish
from finishadvisor.rules.conditions import Values, describe
from finishadvisor.rules.words import word_in_words


def explain(
    floor: str, judgement: Judgement, facts: Values, catalog: Catalog, on: datetime.date | None = None
) -> WhyFinish:
    """Return every rule tried on a finish, what is met first, then what is open, then what is not met.

    Args:
        floor: the name of the floor.
        judgement: the finish as it was judged there.
        facts: every fact of the catalog, None where it is unknown.
        catalog: the catalog as this job sees it.
        on: the day that holds are reckoned from; without it they are told in days.
    """
    suits_if = judgement.verdict == "suits-if"
    order = sorted(judgement.findings, key=lambda one: weightiest_first(one, catalog))
    own_rows = {row.partition(" (")[0] for row in catalog.own_rows}
    own = own_work(catalog.finishes[judgement.finish])
    return WhyFinish(
        floor=floor,
        finish=judgement.finish,
        name=catalog.finishes[judgement.finish].name,
        verdict=judgement.verdict,
        conditions=tell_conditions(judgement.findings, facts, catalog, on, own) if suits_if else (),
        closes=tuple(catalog.finishes[id_].name for id_ in catalog.finishes[judgement.finish].closes),
        own_rows=catalog.own_rows,
        tried=tuple(_tried(finding, catalog, own=f"rule {finding.rule}" in own_rows) for finding in order),
        facts_in_words=_facts_in_words(order, facts, catalog.facts),
    )


def fact_in_words(fact: Fact, value: FactValue | None) -> str:
    """Return a fact with its value as a person reads it: "slab RH: 82 %", "the slab is heated", "use: not known"."""
    if value is None:
        return f"{fact.label}: not known"
    if isinstance(value, bool):
        phrase = fact.yes if value else fact.no
        return phrase or f"{fact.label}: {'yes' if value else 'no'}"
    if isinstance(value, str):
        return fact.phrases.get(value) or f"{fact.label}: {word_in_words(value, fact)}"
    unit = f" {fact.unit}" if fact.unit and fact.unit != "year" else ""
    return f"{fact.label}: {value:g}{unit}"


def _tried(finding: Finding, catalog: Catalog, *, own: bool) -> TriedRule:
    rule = catalog.rules[finding.rule]
    source = catalog.sources.get(rule.source.id)
    return TriedRule(
        when=describe(rule.when, catalog.facts) or "always",
        finding=finding,
        source_title=source.title if source else rule.source.id,
        own=own,
    )


def _facts_in_words(findings: list[Finding], values: Values, facts: Mapping[str, Fact]) -> dict[str, str]:
    read = sorted({fact_id for finding in findings for fact_id in finding.facts})
    return {fact_id: fact_in_words(facts[fact_id], values.get(fact_id)) for fact_id in read}
