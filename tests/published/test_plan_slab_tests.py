"""Plans against the drying rules and the test standards as the trade restates them."""

import datetime

from finishadvisor.plan.readiness import readiness
from finishadvisor.plan.slab import Site
from tests.plan.fixtures import a_clock, shipped
from tests.plan.whole import a_job, facts_of, plan_for

POURED = datetime.date(2026, 6, 1)


def ready_for(thickness_in, water_cement_ratio, vapor_retarder):
    job = a_job({"pour": {"date": POURED}})
    known = {
        "thickness_in": thickness_in, "water_cement_ratio": water_cement_ratio, "vapor_retarder": vapor_retarder,
        "slab_rh_pct": None,
    }  # fmt: skip
    facts = facts_of(job, POURED, **known)["Shop"]
    site = Site(job.floors[0], facts, shipped(), a_clock(1, POURED))
    return readiness(site, shipped().finishes["epoxy-urethane-clear"], POURED)


def test_a_4_in_slab_of_0_50_over_a_retarder_is_not_tested_before_82_days():
    # ACI 302.2R-06 after Brewer (1965), as restated by the trade: 82 days to 3 lb on a vapor barrier.
    assert (ready_for(4.0, 0.50, True).test_not_before - POURED).days == 82


def test_with_vapor_from_below_it_is_144_days():
    # Same source: 144 days with vapor from below.
    assert (ready_for(4.0, 0.50, False).test_not_before - POURED).days == 144


def test_2000_ft2_get_4_holes_1_6_in_deep_that_are_read_after_24_h():
    # ASTM F2170, 10.1 (3 holes, then 1 for each further 1000 ft²), 10.2 (40 % of 4 in), 10.3.4 (24 h from 2018 on),
    # as restated by the trade.
    job = a_job({"x": 100, "pour": {"date": datetime.date(2025, 6, 1)}})
    plan = plan_for(job=job, slab_rh_pct=None, thickness_in=4.0)
    assert "4 holes, 1.6 in deep" in plan.steps[0].notes[0]
    assert "read after 24 h" in plan.steps[0].notes[0]


def test_most_films_wait_28_days():
    # UFGS and the shade guideline name 28 days; common practice for films, no source.
    job = a_job({"pour": {"date": POURED}})
    site = Site(job.floors[0], facts_of(job, POURED)["Shop"], shipped(), a_clock(1, POURED))
    ready = readiness(site, shipped().finishes["epoxy-urethane-solid"], POURED)
    assert (ready.not_before - POURED).days == 28
