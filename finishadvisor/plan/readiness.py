"""From when on a floor is ready: age and drying by date, tests in number and waiting time. A test decides.

Every rule of the catalog that holds or forbids the finish is tried again for later days, with the slab so much older
and so much longer dry; the first day on which nothing that time can heal holds any more is the gate.
"""

import datetime
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from finishadvisor.catalog.models import Catalog, Finish, Rule
from finishadvisor.formulas.slab_tests import f2170_depth_in
from finishadvisor.job.catalog_check import plain_task
from finishadvisor.job.document import Done
from finishadvisor.plan.chain import Link
from finishadvisor.plan.moisture import RH_FACT, drying_thickness_in, moisture_day
from finishadvisor.plan.phases import CUT
from finishadvisor.plan.slab import Facts, Site
from finishadvisor.records.finding import Finding
from finishadvisor.records.works import FloorWorks
from finishadvisor.rules.cleared import cleared_together
from finishadvisor.rules.conditions import facts_in
from finishadvisor.rules.evaluate import Subject, try_rules
from finishadvisor.works.added import added_task
from finishadvisor.works.limits import limit
from finishadvisor.works.subject import finish_subject

RH_TEST: Final = "test-slab-rh"
MOISTURE_TESTS: Final = frozenset({RH_TEST, "test-calcium-chloride", "test-plastic-sheet"})
JOINT_FILLING: Final = "fill-control-joints"
FINISHED_FIRST: Final = "it is placed and finished first, until no water stands on it"
_MOST_DAYS: Final = 400
_HEALED_BY_TIME: Final = frozenset({"age_days", "days_since_wetting"})


@dataclass(frozen=True)
class Ready:
    """From when on a floor is ready, and what still has to be shown. Days are None where nothing holds."""

    not_before: datetime.date | None
    """Gate of the first coat, or of a polish's first cut."""
    why: str
    test_not_before: datetime.date | None
    test_why: str
    poured: datetime.date | None
    joints_not_before: datetime.date | None
    conditions: tuple[str, ...]
    """What days alone do not heal, a sentence each."""
    must_test_rh: bool
    """Slab RH is asked for and not known, or too high, and no valid reading clears it."""


def readiness(site: Site, finish: Finish, on: datetime.date) -> Ready:
    """Return from when on a floor is ready for a finish.

    Args:
        site: the floor, its facts and the catalog.
        finish: the finish to be laid.
        on: today; the facts are of this day.
    """
    subject = finish_subject(finish, site.catalog)
    rules = [rule for rule in site.catalog.rules.values() if rule.effect in {"hold", "forbid"}]
    healing = _healing(site, subject, rules, on)
    last = max(healing, key=lambda rule_id: healing[rule_id], default=None)
    gate, why = (healing[last], site.catalog.rules[last].because) if last else (None, "")
    tried = try_rules(site.catalog.rules.values(), subject, _on_day(site, on, on), site.catalog.facts)
    findings = tuple(finding for finding in tried if finding.effect in {"hold", "forbid"})
    too_wet = any(finding.met == "yes" and RH_FACT in finding.facts for finding in findings)
    unknown = any(finding.met == "unknown" and RH_FACT in finding.missing for finding in findings)
    test_day, test_why = moisture_day(site, finish, subject, rules, on, too_wet=too_wet)
    age = site.catalog.limits["joint-fill-age-days"].value
    poured = site.floor.pour.date if site.floor.pour else None
    if poured is not None and poured > on and (gate is None or poured > gate):
        gate, why = poured, f"the slab is poured on {poured.isoformat()}"
    return Ready(
        not_before=gate,
        why=why,
        test_not_before=test_day,
        test_why=test_why,
        poured=poured,
        joints_not_before=poured + datetime.timedelta(days=math.ceil(age)) if poured else None,
        conditions=_conditions(findings, frozenset(healing), _on_day(site, on, on), site.catalog),
        must_test_rh=too_wet or unknown,
    )


def _on_day(site: Site, on: datetime.date, day: datetime.date) -> Facts:
    """Return the facts as they will be on a later day, as far as days alone change them."""
    values = dict(site.facts)
    passed = (day - on).days
    poured = site.floor.pour.date if site.floor.pour else None
    for fact in _HEALED_BY_TIME:
        value = values.get(fact)
        if isinstance(value, int | float) and not isinstance(value, bool):
            values[fact] = value + passed
    if poured is not None and poured <= day:
        values["age_days"] = float((day - poured).days)
        if "pour_ahead" in values:
            values["pour_ahead"] = False
    return values


def _healing(site: Site, subject: Subject, rules: Sequence[Rule], on: datetime.date) -> dict[str, datetime.date]:
    """Return, for each rule that holds now and that days alone heal, the day on which it lets go."""
    poured = site.floor.pour.date if site.floor.pour else None
    begin = max(on, poured) if poured is not None else on
    timed = [rule for rule in rules if facts_in(rule.when) & _HEALED_BY_TIME]
    days = {rule.id: _healed(site, subject, rule, on, begin) for rule in timed}
    return {rule_id: day for rule_id, day in days.items() if day is not None}


def _healed(site: Site, subject: Subject, rule: Rule, on: datetime.date, begin: datetime.date) -> datetime.date | None:
    """Return the first day on which a rule that holds at first no longer does; None: it holds never, or for good."""
    for passed in range(_MOST_DAYS):
        day = begin + datetime.timedelta(days=passed)
        findings = try_rules((rule,), subject, _on_day(site, on, day), site.catalog.facts)
        if not any(finding.met == "yes" for finding in findings):
            return day if passed else None
    return None


def _conditions(
    findings: Iterable[Finding], healed: frozenset[str], values: Facts, catalog: Catalog
) -> tuple[str, ...]:
    """Return what still has to be shown by a test, or changed; open wishes and uses are the advice's matter."""
    told = list(findings)
    held = [f"Hold: {one.because}." for one in told if one.met == "yes" and one.rule not in healed]
    tested = [
        one
        for one in told
        if one.met == "unknown" and any(catalog.facts[name].kind == "gate" for name in one.missing)
    ]  # fmt: skip
    ruling_out = cleared_together([one for one in tested if one.effect != "hold"], values, catalog)
    holding = cleared_together([one for one in tested if one.effect == "hold"], values, catalog)
    only = [*(f"Only if {what}." for what in ruling_out), *(f"Only once {what}." for what in holding)]
    return tuple(dict.fromkeys([*held, *only]))


# --- into the chain --------------------------------------------------------------------------------------------------


def with_readiness(
    chain: Sequence[Link], ready: Ready, site: Site, works: FloorWorks, finish: Finish, *, rh_test_pending: bool
) -> tuple[Link, ...]:
    """Return the chain with its dates: tests, the gate of the coats, late joint filling, and a test that is missing.

    Args:
        chain: what is left to do, led by the last coat where one is down; with one down or begun no gate holds.
        ready: the dates.
        site: the floor on the plan's clock.
        works: the floor's works.
        finish: the finish to be laid.
        rh_test_pending: holes for slab RH are drilled and wait to be read, so no new ones are added.
    """
    links = list(chain)
    gated = any(link.laid is not None or (link.begun and _is_gated(link, finish)) for link in links)
    tested = rh_test_pending or any(link.item.id in MOISTURE_TESTS for link in links)
    if ready.must_test_rh and not tested and not gated:
        links.insert(0, rh_test_link(works, site))
    links = _late_joints(links, ready, site)
    for number, link in enumerate(links):
        day, why = _day_of(link, ready, finish, gated=gated)
        gated = gated or _is_gated(link, finish)
        if ready.poured is not None and (day is None or day < ready.poured) and link.item.phase >= 10:
            day = ready.poured
        if day is not None:
            slot = max(0, site.clock.slot_of_day(day)) if day > site.clock.first_day else 0
            finished = _finished_slot(site, day)
            if finished > slot:
                slot, why = finished, "; ".join(said for said in (why, FINISHED_FIRST) if said)
            if slot >= link.not_before_slot:
                links[number] = replace(link, not_before_slot=slot, not_before_why=why)
    return tuple(links)


def _finished_slot(site: Site, day: datetime.date) -> int:
    """Return when the slab that is poured on a day is finished: some hours after its last load, 0 on any other day."""
    pour, clock = site.floor.pour, site.clock
    if pour is None or pour.date != day or day < clock.first_day:
        return 0
    times = [load.time if load.time.tzinfo else load.time.replace(tzinfo=clock.zone)
             for load in site.floor.loads if load.time is not None]  # fmt: skip
    placed = max(
        (time for time in times if time.astimezone(clock.zone).date() == day), default=clock.workday_of(day)[0]
    )
    return math.ceil(clock.slot_of(placed + datetime.timedelta(hours=limit(site.catalog, "finishing-hours"))))


def _is_gated(link: Link, finish: Finish) -> bool:
    return link.coat is not None or (finish.family == "polish" and link.item.phase >= CUT)


def _day_of(link: Link, ready: Ready, finish: Finish, *, gated: bool) -> tuple[datetime.date | None, str]:
    if link.item.id in MOISTURE_TESTS and ready.must_test_rh:
        return ready.test_not_before, ready.test_why
    if link.item.id == JOINT_FILLING:
        return ready.joints_not_before, "joints are filled late, when the slab has shrunk"
    if not gated and _is_gated(link, finish):
        return ready.not_before, ready.why
    return None, ""


def _late_joints(links: Sequence[Link], ready: Ready, site: Site) -> list[Link]:
    """Put joint filling behind everything else where the slab is too young for it when the coats could go on."""
    day = ready.joints_not_before
    if day is None or day <= max(ready.not_before or site.clock.first_day, site.clock.first_day):
        return list(links)
    filling = [link for link in links if link.item.id == JOINT_FILLING]
    return [link for link in links if link.item.id != JOINT_FILLING] + filling


def rh_tests_on(site: Site) -> list[Done]:
    """Return every recorded drilling of holes for slab RH; a later one bears a number: "test-slab-rh-2"."""
    on = site.clock.first_day
    return [done for done in site.floor.done if plain_task(done.task, {RH_TEST}) == RH_TEST and done.date <= on]


def rh_test_link(works: FloorWorks, site: Site) -> Link:
    """Return a test of slab RH with the holes that the standard asks for, where none is left in the works."""
    before = len(rh_tests_on(site))
    why = "Slab RH is too high or the last test no longer counts" if before else "Slab RH is asked for and not known"
    task = added_task(RH_TEST, works, why, site.catalog, times=before + 1)
    return Link(task, site.catalog.work_items[RH_TEST], None, inserted=True)


def test_notes(link: Link, site: Site) -> tuple[str, ...]:
    """Return how many, how deep and how long, for a test of slab RH."""
    if link.item.id != RH_TEST:
        return ()
    depth_in = f2170_depth_in(drying_thickness_in(site), 1)
    probe = f"{link.task.quantity:.0f} holes, {depth_in:.1f} in deep; slab and air at service conditions 48 h before"
    wait = link.item.wait_hours
    return (f"{site.floor.name}: {probe}" + (f"; read after {wait.expected:g} h" if wait else "") + ".",)
