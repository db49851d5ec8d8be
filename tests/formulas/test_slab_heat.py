"""The slab models behave like a slab: they lag, never overshoot, and warm in the sun."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import slab_heat

courses_f = st.lists(st.floats(0, 120), min_size=1, max_size=48)


@given(courses_f, st.floats(0, 120), st.floats(0.5, 50))
def test_a_slab_stays_between_what_it_was_and_what_is_around_it(course_f, start_f, lag_h):
    slab = slab_heat.lagged_f(course_f, start_f, lag_h)
    assert len(slab) == len(course_f)
    assert min(*course_f, start_f) - 1e-6 <= min(slab)
    assert max(slab) <= max(*course_f, start_f) + 1e-6


@given(courses_f, st.floats(0, 119), st.floats(0.5, 50))
def test_warmer_air_at_every_hour_never_makes_a_cooler_slab(course_f, start_f, lag_h):
    cooler = slab_heat.lagged_f(course_f, start_f, lag_h)
    warmer = slab_heat.lagged_f([air_f + 1 for air_f in course_f], start_f, lag_h)
    assert all(warm > cool for warm, cool in zip(warmer, cooler, strict=True))


def test_after_one_time_constant_63_percent_of_a_step_is_gone():
    assert slab_heat.lagged_f([70] * 10, 50, lag_h=10)[-1] == pytest.approx(70 - 20 / math.e)


def test_the_step_length_does_not_matter_in_steady_air():
    assert slab_heat.lagged_f([70] * 4, 50, 9, step_h=0.25)[-1] == pytest.approx(slab_heat.lagged_f([70], 50, 9)[0])


def test_a_thicker_slab_lags_longer_and_more_indoors():
    assert slab_heat.slab_lag_h(8) == pytest.approx(2 * slab_heat.slab_lag_h(4))
    assert slab_heat.slab_lag_h(4) > slab_heat.slab_lag_h(4, slab_heat.OUTDOOR_FILM_BTU_PER_H_FT2_F)


@pytest.mark.parametrize(("latitude_deg", "day", "noon_deg"), [(40, 172, 73.45), (40, 355, 26.55), (0, 81, 90)])
def test_height_of_the_sun_at_noon(latitude_deg, day, noon_deg):
    # 90° less latitude plus or less the tilt of the earth, 23.45°, at the solstices and none at the equinox.
    assert slab_heat.sun_altitude_deg(latitude_deg, day, 12) == pytest.approx(noon_deg, abs=0.1)


def test_the_sun_rises_in_the_morning_and_sets_in_the_evening():
    heights = [slab_heat.sun_altitude_deg(40, 172, hour) for hour in (0, 6, 9, 12, 15, 18, 24)]
    assert heights[0] < 0 < heights[1] < heights[2] < heights[3]
    assert heights[2] == pytest.approx(heights[4])
    assert slab_heat.sun_w_per_m2(heights[0], 0) == 0


@given(st.floats(1, 90), st.floats(0, 0.9))
def test_cloud_takes_sun_away_and_height_brings_it(height_deg, cloud):
    sun = slab_heat.sun_w_per_m2(height_deg, cloud)
    assert 0 <= sun < 1100
    assert slab_heat.sun_w_per_m2(height_deg, cloud + 0.1) < sun or sun == 0
    assert slab_heat.sun_w_per_m2(height_deg * 0.9, cloud) <= sun


def test_charcoal_in_the_sun_is_hotter_than_gray_and_both_than_the_air():
    gray_f = slab_heat.sol_air_f(85, 900, 0, absorptance=0.65)
    assert 85 < gray_f < slab_heat.sol_air_f(85, 900, 0, absorptance=0.9)


def test_a_clear_night_pulls_below_the_air_and_cloud_keeps_it_off():
    assert slab_heat.sol_air_f(60, 0, 0, 0.65) == pytest.approx(53)
    assert slab_heat.sol_air_f(60, 0, 1, 0.65) == pytest.approx(60)


def test_refusals():
    with pytest.raises(OutOfRangeError, match="Slab thickness is 0 in"):
        slab_heat.slab_lag_h(0)
    with pytest.raises(OutOfRangeError, match="Time constant of the slab is 0 h"):
        slab_heat.lagged_f([70], 60, 0)
    with pytest.raises(OutOfRangeError, match="Cloud cover is 40"):
        slab_heat.sol_air_f(70, 100, 40, 0.65)
