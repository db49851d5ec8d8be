"""When a test of the slab's moisture is worth while: by the published drying rules, or by the trend of its readings."""

import datetime
from collections.abc import Sequence
from typing import Final

from finishadvisor.catalog.models import Finish, Rule
from finishadvisor.formulas.drying import Underneath, drying_band, drying_since
from finishadvisor.formulas.drying_trend import DryingTrend, rh_trend
from finishadvisor.job.document import Reading
from finishadvisor.job.readings import sort_readings, worst_reading
from finishadvisor.plan.slab import Site, thickness_in
from finishadvisor.rules.conditions import facts_in
from finishadvisor.rules.evaluate import Subject, try_rules
from finishadvisor.works.limits import limit

RH_FACT: Final = "slab_rh_pct"


def moisture_day(
    site: Site, finish: Finish, subject: Subject, rules: Sequence[Rule], on: datetime.date, *, too_wet: bool
) -> tuple[datetime.date | None, str]:
    """Return before which day a moisture test is hardly worth while, and why."""
    if finish.film != "tight":
        return None, ""
    band_day, band_why = _band(site, on)
    if not too_wet:
        return band_day, band_why
    limit_pct = _rh_limit_pct(site, subject, rules)
    trend = _trend(site, limit_pct, on) if limit_pct is not None else None
    reading = worst_reading(site.floor, "slab-rh", on)
    read = f"slab RH was {float(reading.value):g} %, below {limit_pct:g} % is asked; " if reading and limit_pct else ""
    if trend is not None and trend.expected is not None:
        late = f"at the latest {trend.latest.isoformat()}" if trend.latest else "no latest day can be told"
        early = trend.earliest or trend.expected
        return (
            trend.expected,
            f"{read}by its trend it gets there about {trend.expected.isoformat()} "
            f"(from {early.isoformat()} on; {late})",
        )
    again = on + datetime.timedelta(days=int(site.catalog.limits["retest-days"].value))
    return max(again, band_day or again), f"{read}the readings show no trend yet, so test again"


def _band(site: Site, on: datetime.date) -> tuple[datetime.date | None, str]:
    """Return the day before which the published drying rules let no test pass, None where it is past."""
    floor, facts = site.floor, site.facts
    if floor.pour is None:
        return None, ""
    wetting = floor.last_wetting if floor.last_wetting and floor.last_wetting <= on else None
    retarder = facts.get("vapor_retarder")
    under: Underneath = "unknown" if retarder is None else "retarder" if retarder else "open-to-vapor"
    ratio = facts.get("water_cement_ratio")
    usable = isinstance(ratio, int | float) and 0.30 <= ratio <= 0.80
    band = drying_band(drying_thickness_in(site), 1, float(ratio) if usable and ratio is not None else None, under)
    since = drying_since(floor.pour.date, None, wetting)
    first, slow = band.dates(since)
    if first <= on:
        return None, ""
    behind = f"slow slabs by {slow.isoformat()}" if slow else "a slab that vapor reaches from below may never"
    return (
        first,
        f"drying since {since.isoformat()}, such a slab rarely passes before {first.isoformat()} ({behind}); "
        "a test decides",
    )


def drying_thickness_in(site: Site) -> float:
    """Return the slab's thickness inside the range of the drying rules [in]."""
    return min(max(thickness_in(site), 2.0), 12.0)


def _rh_limit_pct(site: Site, subject: Subject, rules: Sequence[Rule]) -> float | None:
    """Return the lowest whole slab RH at which a rule still speaks against the finish."""
    of_rh = [rule for rule in rules if RH_FACT in facts_in(rule.when)]
    limit_pct = None
    for rh_pct in range(100, 49, -1):
        findings = try_rules(of_rh, subject, {**site.facts, RH_FACT: float(rh_pct)}, site.catalog.facts)
        if not any(finding.met == "yes" for finding in findings):
            break
        limit_pct = float(rh_pct)
    return limit_pct


def _trend(site: Site, limit_pct: float, on: datetime.date) -> DryingTrend | None:
    """Return the trend through the readings at the place of the worst, None where they show none."""
    worst = worst_reading(site.floor, "slab-rh", on)
    if worst is None:
        return None
    series = [r for r in sort_readings(site.floor, on).valid if r.kind == "slab-rh" and r.place == worst.place]
    by_day: dict[datetime.date, Reading] = {reading.date: reading for reading in series}
    room = site.floor.room
    end_pct = min(room.rh_pct if room else limit(site.catalog, "assumed-air-rh-pct"), limit_pct - 5)
    usable = [reading for reading in by_day.values() if end_pct + 1 <= float(reading.value) <= 100]
    if len(usable) < 2:
        return None
    return rh_trend([r.date for r in usable], [float(r.value) for r in usable], limit_pct, end_pct)
