"""Moist air holds together over its whole range."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import air

airs_f = st.floats(-39, 121)
warm_airs_f = st.floats(40, 121)
humidities = st.floats(5, 100)


@given(airs_f, humidities)
def test_dew_point_is_at_or_below_the_air(air_f, rh_pct):
    assert air.dew_point_f(air_f, rh_pct) <= air_f + 1e-9


@given(airs_f)
def test_saturated_air_is_at_its_dew_point(air_f):
    assert air.dew_point_f(air_f, 100) == pytest.approx(air_f, abs=1e-9)


@given(st.floats(10, 121), st.floats(30, 100))
def test_humidity_and_dew_point_are_inverse(air_f, rh_pct):
    dew_f = min(air.dew_point_f(air_f, rh_pct), air_f)
    assert air.rh_of_dew_point_pct(air_f, dew_f) == pytest.approx(rh_pct)


@given(airs_f, st.floats(5, 98))
def test_dew_point_rises_with_humidity_and_with_heat(air_f, rh_pct):
    dew_f = air.dew_point_f(air_f, rh_pct)
    assert air.dew_point_f(air_f, rh_pct + 1) > dew_f
    assert air.dew_point_f(air_f + 1, rh_pct) > dew_f


@given(st.floats(20, 100), st.floats(20, 100), humidities, st.floats(0, 20))
def test_highest_humidity_for_a_margin_is_where_the_margin_is_met(slab_f, air_f, rh_pct, margin_f):
    highest_pct = air.most_rh_for_margin_pct(slab_f, air_f, margin_f)
    met = air.dew_point_margin_f(slab_f, air_f, rh_pct) >= margin_f
    if abs(rh_pct - highest_pct) > 1e-6:
        assert met is (rh_pct < highest_pct)


def test_a_slab_much_warmer_than_the_air_bears_any_humidity():
    assert air.most_rh_for_margin_pct(slab_f=120, air_f=60, margin_f=5) == 100


@given(warm_airs_f, humidities)
def test_wet_bulb_lies_between_dew_point_and_air(air_f, rh_pct):
    wet_f = air.wet_bulb_f(air_f, rh_pct)
    assert air.dew_point_f(air_f, rh_pct) - 0.01 <= wet_f <= air_f + 0.01


@given(st.floats(60, 121), st.floats(30, 99))
def test_wet_bulb_and_humidity_are_inverse(air_f, rh_pct):
    back_pct = air.rh_of_wet_bulb_pct(air_f, air.wet_bulb_f(air_f, rh_pct))
    assert back_pct == pytest.approx(rh_pct, abs=0.05)


@given(warm_airs_f, st.floats(10, 98))
def test_humidity_ratio_rises_with_humidity_and_height(air_f, rh_pct):
    ratio = air.humidity_ratio(air_f, rh_pct)
    assert air.humidity_ratio(air_f, rh_pct + 1) > ratio
    assert air.humidity_ratio(air_f, rh_pct, 85000) > ratio


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: air.saturation_pressure_pa(51), "Temperature is 51 °C"),
        (lambda: air.dew_point_f(130, 50), "Air temperature is 130 °F; it must lie between -40 and 122 °F"),
        (lambda: air.dew_point_f(70, 0), "Relative humidity is 0 %"),
        (lambda: air.dew_point_f(70, float("nan")), "Relative humidity is nan %"),
        (lambda: air.rh_of_dew_point_pct(60, 70), "Dew point is 70 °F; it must lie between -40 and 60 °F"),
        (lambda: air.rh_of_wet_bulb_pct(60, 70), "Wet-bulb temperature is 70 °F"),
        (lambda: air.rh_of_wet_bulb_pct(110, 40), "drier than any air"),
        (lambda: air.humidity_ratio(70, 50, 29.92), "Air pressure is 29.92 Pa"),
    ],
)
def test_refusals(call, words):
    with pytest.raises(OutOfRangeError, match=words):
        call()
