"""Rules tried on a subject: which of them speak of it, and what each has to say."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from finishadvisor.catalog.models import Fact, Rule
from finishadvisor.records.base import SourceNote
from finishadvisor.records.finding import Finding, Met
from finishadvisor.rules.conditions import Condition, Values, describe_not, facts_in, truth, undecided_part

Subject = Mapping[str, frozenset[str]]
"""What a rule may speak of: attribute -> the words that are true of the subject ("film" -> {"tight"})."""

_NOTHING: Final[frozenset[str]] = frozenset()

ALL = "all"
"""The attribute that matches every subject of its kind: `about = { all = "finishes" }`."""


def about_matches(about: Mapping[str, str | tuple[str, ...]], subject: Subject) -> bool:
    """Return whether a rule speaks of a subject: every attribute must match by any of its words."""
    for attribute, wanted in about.items():
        if attribute == ALL:
            continue
        words = (wanted,) if isinstance(wanted, str) else wanted
        if subject.get(attribute, _NOTHING).isdisjoint(words):
            return False
    return True


def try_rules(
    rules: Iterable[Rule], subject: Subject, values: Values, facts: Mapping[str, Fact]
) -> tuple[Finding, ...]:
    """Return a finding for every rule that speaks of the subject, in the order of the rules.

    Args:
        rules: rules whose conditions were checked at load.
        subject: the attributes of a finish or of a cause.
        values: every fact by id, None where it is unknown.
        facts: every fact by id.
    """
    spoken = {rule.id: rule for rule in rules if about_matches(rule.about, subject)}
    return with_answers([try_rule(rule, values, facts) for rule in spoken.values()], spoken)


def with_answers(findings: Sequence[Finding], rules: Mapping[str, Rule]) -> tuple[Finding, ...]:
    """Return what the rules said of one subject, without the holds that work answers which others certainly require.

    Args:
        findings: a finding for each rule that speaks of the subject.
        rules: these rules by id.
    """
    certain = {one.work_item for one in findings if one.effect == "require" and one.met == "yes"}
    return tuple(
        _answered(one) if one.effect == "hold" and one.met != "no" and rules[one.rule].answered_by in certain else one
        for one in findings
    )


def _answered(finding: Finding) -> Finding:
    because = f"{finding.because}; the work that another rule asks for answers it"
    return finding.model_copy(update={"met": "no", "because": because, "only_if": None, "missing": ()})


def try_rule(rule: Rule, values: Values, facts: Mapping[str, Fact]) -> Finding:
    """Return what one rule says; it is the same for every subject that the rule speaks of."""
    holds = truth(rule.when, values)
    met: Met = "unknown" if holds is None else "yes" if holds else "no"
    return Finding(
        rule=rule.id,
        effect=rule.effect,
        met=met,
        because=rule.because,
        facts={fact_id: values.get(fact_id) for fact_id in sorted(facts_in(rule.when))},
        source=SourceNote(id=rule.source.id, clause=rule.source.clause, from_memory=rule.source.from_memory),
        only_if=_only_if(rule, met, values, facts),
        work_item=rule.work_item,
        missing=tuple(sorted(facts_in(undecided_part(rule.when, values)))),
    )


def _only_if(rule: Rule, met: Met, values: Values, facts: Mapping[str, Fact]) -> str | None:
    """Return in words when a forbid or hold does not bind; for a hold that is met, what has to change.

    Only what is still open is told: an unknown fact, or a gate that further tests or days may move. Where a choice has
    to change, the rule's sentence says which.
    """
    open_part: Condition = {}
    if met == "unknown" and rule.effect in {"forbid", "hold"}:
        open_part = undecided_part(rule.when, values)
    elif met == "yes" and rule.effect == "hold":
        open_part = _gate_part(rule.when, values, facts)
    return describe_not(open_part, facts) if open_part else None


def _gate_part(when: Condition, values: Values, facts: Mapping[str, Fact]) -> Condition:
    settled = {fact_id: value for fact_id, value in values.items() if facts[fact_id].kind == "choice"}
    return undecided_part(when, settled)
