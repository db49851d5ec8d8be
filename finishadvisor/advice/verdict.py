"""The verdict on one finish: every rule tried on it, and what follows from the findings."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from finishadvisor.catalog.models import Catalog, Fact, Finish
from finishadvisor.records.advice import Verdict
from finishadvisor.records.finding import Finding
from finishadvisor.rules.conditions import Condition, Values, undecided_part
from finishadvisor.rules.evaluate import about_matches, try_rule, try_rules, with_answers
from finishadvisor.works.subject import finish_subject


@dataclass(frozen=True)
class Judgement:
    """One finish judged on one floor."""

    finish: str
    verdict: Verdict
    findings: tuple[Finding, ...]
    """Every rule that speaks of the finish, in the order of the catalog."""


def judge(finish: Finish, facts: Values, catalog: Catalog) -> Judgement:
    """Try every rule on a finish and say whether it suits.

    A forbid that is met: does-not-suit. A forbid that an unknown choice leaves open: cannot-tell. A forbid that a test
    may clear, a hold or a requirement, met or open: suits-if. Caution, favor and against never change a verdict.

    Args:
        finish: the finish.
        facts: every fact of the catalog, None where it is unknown.
        catalog: the catalog as this job sees it.
    """
    findings = try_rules(catalog.rules.values(), finish_subject(finish, catalog), facts, catalog.facts)
    return Judgement(finish.id, verdict_of(findings, facts, catalog), findings)


def judge_finishes(facts: Values, catalog: Catalog) -> tuple[Judgement, ...]:
    """Judge every finish of the catalog; each rule is tried once, since it says the same of whatever it speaks of.

    Args:
        facts: every fact of the catalog, None where it is unknown.
        catalog: the catalog as this job sees it.
    """
    tried = {rule.id: try_rule(rule, facts, catalog.facts) for rule in catalog.rules.values()}
    judged = []
    for finish in catalog.finishes.values():
        subject = finish_subject(finish, catalog)
        spoken = [tried[rule.id] for rule in catalog.rules.values() if about_matches(rule.about, subject)]
        findings = with_answers(spoken, catalog.rules)
        judged.append(Judgement(finish.id, verdict_of(findings, facts, catalog), findings))
    return tuple(judged)


def verdict_of(findings: Sequence[Finding], facts: Values, catalog: Catalog) -> Verdict:
    """Return the verdict that findings lead to; their order never matters.

    Args:
        findings: what the rules said of one finish.
        facts: every fact of the catalog, None where it is unknown.
        catalog: holds the rules' conditions and which facts are gates.
    """
    open_forbids = list(_with(findings, "forbid", "unknown"))
    if any(_with(findings, "forbid", "yes")):
        return "does-not-suit"
    if not all(tests_can_clear(catalog.rules[one.rule].when, facts, catalog.facts) for one in open_forbids):
        return "cannot-tell"
    bearing = [one for one in findings if one.effect in {"hold", "require"} and one.met != "no"]
    return "suits-if" if open_forbids or bearing else "suits"


def tests_can_clear(when: Condition, values: Values, facts: Mapping[str, Fact]) -> bool:
    """Return whether tests alone may show that an undecided condition does not hold.

    Where the condition reads choices and gates that are unknown, a good test can make the choice moot ("a retarder lies
    under the slab or slab RH is below 80 %"); where it cannot, the choice must be asked for first.
    """
    return _tests_settle(undecided_part(when, values), facts, wanted=False)


def _tests_settle(part: Condition, facts: Mapping[str, Fact], *, wanted: bool) -> bool:
    """Return whether gates alone can make a condition hold (`wanted`), or not hold."""
    each = [_tests_settle_key(key, value, facts, wanted=wanted) for key, value in part.items()]
    return all(each) if wanted else any(each)


def _tests_settle_key(key: str, value: Any, facts: Mapping[str, Fact], *, wanted: bool) -> bool:
    if key == "not":
        return _tests_settle(value, facts, wanted=not wanted)
    if key == "any_of":
        branches = [_tests_settle(branch, facts, wanted=wanted) for branch in value]
        return any(branches) if wanted else all(branches)
    return facts[key].kind == "gate"


def _with(findings: Iterable[Finding], effect: str, met: str) -> Iterable[Finding]:
    return (one for one in findings if one.effect == effect and one.met == met)
