"""Each limit on both sides of its edge, and the words that a blocked hour gets."""

import dataclasses

import pytest

from finishadvisor.formulas.air import most_rh_for_margin_pct
from finishadvisor.plan.windows import NIGHT, blocked_spans, conditions_for
from tests.plan.fixtures import a_clock, a_material, an_air, shipped

LIMITS = {"air_low_f": 50, "air_high_f": 90, "slab_low_f": 55, "slab_high_f": 95, "rh_low_pct": 30, "rh_high_pct": 80}
MATERIAL = a_material(**LIMITS)


def reasons(**air):
    conditions = conditions_for(MATERIAL, an_air(48, **air), shipped(), on_bare_slab=False)
    return [why.reason for why in conditions.whys_to_lay(0)]


@pytest.mark.parametrize(
    ("allowed", "blocked", "reason"),
    [
        ({"air_f": 50.0}, {"air_f": 49.9}, "air-cold"),
        ({"air_f": 90.0}, {"air_f": 90.1}, "air-hot"),
        ({"slab_f": 55.0, "air_f": 55.0}, {"slab_f": 54.9, "air_f": 55.0}, "slab-cold"),
        ({"slab_f": 95.0}, {"slab_f": 95.1}, "slab-hot"),
        ({"rh_pct": 30}, {"rh_pct": 29.9}, "rh-low"),
        ({"rh_pct": 80}, {"rh_pct": 80.1}, "rh-high"),
        ({"slab_f": [77.0, 78.0]}, {"slab_f": [77.0, 78.1]}, "warming"),
        ({"slab_f": [77.0, 60.0]}, {"slab_f": [77.0, 79.0]}, "warming"),
        ({"direct_sun": False}, {"direct_sun": True}, "sun"),
        ({"rain": False}, {"rain": True}, "rain"),
        ({"state": "known"}, {"state": "missing"}, "no-weather"),
        ({"state": "assumed"}, {"state": "missing"}, "no-weather"),
    ],
)
def test_a_limit_holds_on_its_edge_and_not_beyond(allowed, blocked, reason):
    assert reasons(**allowed) == []
    assert reasons(**blocked) == [reason]


def test_the_margin_above_the_dew_point_is_asked_until_tack_free():
    edge = most_rh_for_margin_pct(77, 77, 5)
    assert reasons(rh_pct=min(edge - 0.01, 80)) == []
    damp_air = an_air(48, rh_pct=[50, 50, edge + 0.1])
    damp = conditions_for(a_material(**{**LIMITS, "rh_high_pct": 100}), damp_air, shipped(), on_bare_slab=False)
    assert [why.reason for why in damp.whys_to_set(2)] == ["dew"]
    assert damp.next_bad_to_set[0] == 2


def test_a_material_that_makes_no_film_may_lie_in_sun_on_a_warming_slab():
    penetrating = a_material(**LIMITS, dew_margin_f=0)
    air = an_air(48, slab_f=[60.0, 70.0], direct_sun=True)
    assert conditions_for(penetrating, air, shipped(), on_bare_slab=False).whys_to_lay(0) == ()


def test_outdoors_the_first_coat_waits_until_the_slab_is_dry_from_rain():
    air = an_air(100, rain=[True] + [False] * 99, outdoors=True)
    first = conditions_for(MATERIAL, air, shipped(), on_bare_slab=True)
    later = conditions_for(MATERIAL, air, shipped(), on_bare_slab=False)
    wait_h = int(shipped().limits["repellent-dry-hours"].value)
    assert [why.reason for why in first.whys_to_lay(wait_h - 1)] == ["wet"]
    assert first.whys_to_lay(wait_h) == ()
    assert later.whys_to_lay(1) == ()


def test_blocked_hours_are_told_in_one_span_with_the_range_of_their_values():
    clock = a_clock(2)
    slab_f = [77.0] * 8 + [50.0, 52.0, 51.0] + [77.0] * 60
    conditions = conditions_for(MATERIAL, an_air(clock.hours, slab_f=slab_f), shipped(), on_bare_slab=False)
    spans = [span for span in blocked_spans(conditions, clock, 28, 62) if span.why != NIGHT]
    assert [(span.first_slot, span.end_slot) for span in spans] == [(32, 36), (36, 40), (40, 44)]
    assert spans[0].why.startswith("the slab is 50 °F; at least 55 °F is needed")


def test_rain_that_comes_before_a_coat_bears_water_is_told_with_its_hour():
    clock = a_clock(2)
    rain = [hour == 20 for hour in range(clock.hours)]
    conditions = conditions_for(MATERIAL, an_air(clock.hours, rain=rain), shipped(), on_bare_slab=False)
    spans = [span.why for span in blocked_spans(conditions, clock, 32, 36, needed_h=2, rainless_h=24)]
    assert spans == ["rain 12 h later, before the coat bears water"]
    assert not blocked_spans(conditions, clock, 32, 36, needed_h=2, rainless_h=10)


def test_the_night_is_told_where_only_it_blocks():
    clock = a_clock(2)
    conditions = conditions_for(MATERIAL, an_air(clock.hours), shipped(), on_bare_slab=False)
    spans = blocked_spans(conditions, clock, 28, 96 + 28)
    assert [span.why for span in spans] == [NIGHT]
    assert clock.moment(spans[0].first_slot).strftime("%H:%M") == "16:00"


@pytest.mark.parametrize("air", [{}, {"rh_pct": 95.0}, {"slab_f": 30.0}, {"rain": True}, {"slab_f": 60.0}])
@pytest.mark.parametrize("coat", [a_material(), None])
def test_steady_air_is_told_by_its_first_hour(air, coat):
    hourly = an_air(48, **air)
    one_by_one, at_once = (
        conditions_for(coat, each, shipped(), on_bare_slab=True)
        for each in (hourly, dataclasses.replace(hourly, steady=True))
    )
    assert dataclasses.replace(at_once, air=hourly) == one_by_one
