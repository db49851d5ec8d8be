"""What must hold for a finish to suit, in words: only if, hold until, with which work."""

import datetime
import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any, Final

from finishadvisor.catalog.models import Catalog, Fact, Finish
from finishadvisor.records.advice import WORK
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.rules.cleared import cleared_together, is_test
from finishadvisor.rules.conditions import Condition, Values, describe, describe_not, undecided_part

_GROW_DAILY: Final[Mapping[str, str]] = {
    "age_days": "the slab is {days} days old",
    "days_since_wetting": "the slab has been dry for {days} days",
}
"""Facts that grow by one a day: a hold on them ends on a date."""
_APART: Final = 2
"""Up to so many works that may be needed are told one by one; more stand behind one another in one sentence."""


def tell_conditions(
    findings: Sequence[Finding],
    facts: Values,
    catalog: Catalog,
    on: datetime.date | None = None,
    own: Collection[str] = (),
) -> tuple[str, ...]:
    """Return what must hold, a sentence each: what to wait for, what must turn out, what work it takes.

    Args:
        findings: what the rules said of one finish that is not forbidden.
        facts: every fact of the catalog, None where it is unknown.
        catalog: rules, facts and work items.
        on: the day, to tell until which date to hold; without it, for how many days.
        own: work items that are part of the finish in any case, as `own_work` gives them; that they may be needed is
            not told.
    """
    told = [
        *(_hold(one, facts, catalog, on) for one in findings if one.effect == "hold" and one.met == "yes"),
        *(f"only if {what}" for what in cleared_together(_open(findings, "forbid"), facts, catalog)),
        *(f"only once {what}" for what in cleared_together(_open(findings, "hold"), facts, catalog)),
        *_required([one for one in findings if one.effect == "require" and one.met != "no"], facts, catalog, own),
    ]
    return tuple(dict.fromkeys(told))


# --- open forbids and holds -----------------------------------------------------------------------------------------


def _open(findings: Iterable[Finding], effect: str) -> Iterable[Finding]:
    return (one for one in findings if one.effect == effect and one.met == "unknown")


# --- hold -----------------------------------------------------------------------------------------------------------


def _hold(finding: Finding, facts: Values, catalog: Catalog, on: datetime.date | None) -> str:
    """Return until when a hold that is met lasts: a date where days alone end it, else the test that ends it.

    Where no test and no day can end it, a choice has to change, and the rule's own sentence says which.
    """
    gates = _gate_part(catalog.rules[finding.rule].when, facts, catalog.facts)
    gates = {key: wanted for key, wanted in gates.items() if is_test(key, wanted, catalog.facts)} or gates
    ends = [_end_of(key, wanted, facts, catalog.facts, on) for key, wanted in gates.items()]
    return f"hold until {' or '.join(ends)}" if ends else f"hold: {finding.because}"


def _gate_part(when: Condition, values: Values, facts: Mapping[str, Fact]) -> Condition:
    """Return what further tests or days may still move, known or not; the choices are taken as they are."""
    settled = {fact_id: value for fact_id, value in values.items() if facts[fact_id].kind == "choice"}
    return undecided_part(when, settled)


def _end_of(
    key: str, wanted: Any, values: Values, facts: Mapping[str, Fact], on: datetime.date | None
) -> str:  # fmt: skip
    days = _days_to_wait(key, wanted, values.get(key))
    if days is None:
        return describe_not({key: wanted}, facts)
    bound = _bound(wanted)
    then = _GROW_DAILY[key].format(days=f"{bound:g}" if "below" in wanted else f"more than {bound:g}")
    if on is None:
        return f"{days} more {'day has' if days == 1 else 'days have'} passed and {then}"
    return f"{(on + datetime.timedelta(days=days)).isoformat()}, when {then}"


def _days_to_wait(key: str, wanted: Any, value: FactValue | None) -> int | None:
    """Return the days until a fact that grows daily has left `below` or `at_most`, None where days do not end it."""
    if key not in _GROW_DAILY or not isinstance(wanted, Mapping) or not {"below", "at_most"} & set(wanted):
        return None
    if isinstance(value, str | bool) or value is None:
        return None
    left = _bound(wanted) - value
    return math.ceil(left) if "below" in wanted else math.floor(left) + 1


def _bound(wanted: Mapping[str, float]) -> float:
    return wanted["below"] if "below" in wanted else wanted["at_most"]


# --- require --------------------------------------------------------------------------------------------------------


def own_work(finish: Finish) -> frozenset[str]:
    """Return the work items that are part of a finish wherever it is laid."""
    layers = (item for layer in finish.layers for item in (layer.work_item, *layer.before))
    return frozenset({*finish.preparation, *layers, *finish.afterwards})


def _required(findings: Iterable[Finding], facts: Values, catalog: Catalog, own: Collection[str]) -> list[str]:
    """Return the work that is required, once for each work item; certain work is not told again as possible."""
    certain: dict[str, str] = {}
    possible: dict[str, list[str]] = {}
    for one in findings:
        item = str(one.work_item)
        if one.met == "yes":
            certain.setdefault(item, f"{WORK}: {title_of(item, catalog)} ({one.because})")
        else:
            possible.setdefault(item, []).append(unless_open(one, facts, catalog))
    left = {
        title_of(item, catalog): f"if {', or if '.join(dict.fromkeys(cases))}"
        for item, cases in possible.items()
        if item not in certain and item not in own
    }
    return [*certain.values(), *_possible(left)]


def _possible(works: Mapping[str, str]) -> Iterable[str]:
    """Yield the work that may be needed, with when."""
    if len(works) <= _APART:
        yield from (f"{WORK} {case}: {title}" for title, case in works.items())
    else:
        told = "; ".join(f"{title} ({case})" for title, case in works.items())
        yield f"{WORK} where a look or a test asks for it: {told}"


def title_of(work_item: str, catalog: Catalog) -> str:
    """Return a work item's title as it reads inside a sentence; its id where the catalog has no such row."""
    row = catalog.work_items.get(work_item)
    return row.title[:1].lower() + row.title[1:] if row else work_item


def unless_open(finding: Finding, facts: Values, catalog: Catalog) -> str:
    """Return in words what would bring an undecided finding about: "slab RH is at least 80 %"."""
    return describe(undecided_part(catalog.rules[finding.rule].when, facts), catalog.facts)
