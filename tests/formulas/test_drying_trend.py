"""The trend through slab RH readings: exact on a clean course, honest on a noisy one."""

import math
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas.drying_trend import rh_trend

START = date(2026, 1, 5)
END_RH = 50.0


def course(days, start_above=45.0, scale_days=90.0):
    """Slab RH that falls exponentially toward the end value."""
    return [END_RH + start_above * math.exp(-day / scale_days) for day in days]


def on(days):
    return [START + timedelta(days=int(day)) for day in days]


@given(st.floats(30, 200), st.floats(70, 88))
def test_a_clean_course_is_followed_to_the_day(scale_days, limit):
    days = [0, 20, 40, 60]
    trend = rh_trend(on(days), course(days, scale_days=scale_days), limit, END_RH)
    reached_day = scale_days * math.log(45 / (limit - END_RH))
    assert abs((trend.expected - START).days - max(0, reached_day)) <= 1
    assert trend.earliest <= trend.expected
    assert trend.latest is None or trend.latest >= trend.expected


def test_the_fall_by_the_week_is_the_slope_at_the_last_reading():
    days = [0, 30, 60]
    trend = rh_trend(on(days), course(days), 80, END_RH)
    assert trend.fall_pct_per_week == pytest.approx(7 * 45 / 90 * math.exp(-60 / 90))


def test_four_in_five_noisy_courses_end_inside_the_band():
    # Readings with the stated error: the 10 % and 90 % limits hold about 80 % of the truths. 400 courses have a
    # standard error of 2 %; 74 to 92 % also leaves room for limits widened by the scatter found.
    generator = np.random.default_rng(20260105)
    days = np.arange(0, 84, 14)
    truth_day = 90 * math.log(45 / (75 - END_RH))
    inside = 0
    for _ in range(400):
        readings = np.minimum(np.array(course(days)) + generator.normal(0, 1.5, days.size), 100)
        trend = rh_trend(on(days), readings.tolist(), 75, END_RH, reading_sd_pct=1.5)
        truth = START + timedelta(days=round(truth_day))
        inside += trend.earliest <= truth and (trend.latest is None or truth <= trend.latest)
    assert 0.74 <= inside / 400 <= 0.92


def test_scatter_beyond_the_stated_error_widens_the_band():
    days = [0, 15, 30, 45, 60]
    clean = course(days)
    noisy = [reading + error for reading, error in zip(clean, (2, -2, 2, -2, 2), strict=True)]
    narrow = rh_trend(on(days), clean, 78, END_RH, reading_sd_pct=0.5)
    wide = rh_trend(on(days), noisy, 78, END_RH, reading_sd_pct=0.5)
    assert wide.earliest < narrow.earliest
    assert wide.latest is None or wide.latest > narrow.latest


def test_readings_that_hardly_fall_promise_no_latest_date():
    trend = rh_trend(on([0, 7]), [92.0, 91.5], 80, END_RH)
    assert trend.latest is None
    assert trend.earliest > START


def test_rising_readings_promise_nothing():
    trend = rh_trend(on([0, 30, 60]), [80.0, 86.0, 92.0], 75, END_RH, reading_sd_pct=0.5)
    assert (trend.earliest, trend.expected, trend.latest) == (None, None, None)
    assert trend.fall_pct_per_week < 0


def test_a_limit_below_the_air_is_never_reached():
    trend = rh_trend(on([0, 30]), [90.0, 85.0], 60, end_rh_pct=65)
    assert (trend.earliest, trend.expected, trend.latest) == (None, None, None)
    assert trend.fall_pct_per_week > 0


def test_a_limit_already_met_lies_in_the_past_but_not_before_the_readings():
    trend = rh_trend(on([0, 30, 60]), [82.0, 76.0, 72.0], 80, END_RH, reading_sd_pct=0.5)
    assert START <= trend.earliest <= trend.expected <= trend.latest < START + timedelta(days=60)


def test_order_of_readings_does_not_matter():
    days, readings = [0, 30, 60], [92.0, 86.0, 82.0]
    assert rh_trend(on(days), readings, 75, END_RH) == rh_trend(on(days[::-1]), readings[::-1], 75, END_RH)


@given(
    st.lists(
        st.tuples(st.integers(0, 400), st.floats(51, 100)), min_size=2, max_size=8, unique_by=lambda each: each[0]
    ),
    st.floats(52, 99),
    st.floats(0.1, 5),
)
def test_any_readings_give_dates_in_order(readings, limit, sd_pct):
    days, values = zip(*readings, strict=True)
    trend = rh_trend(on(days), values, limit, END_RH, reading_sd_pct=sd_pct)
    known = [day for day in (trend.earliest, trend.expected, trend.latest) if day is not None]
    assert known == sorted(known)
    assert all(day >= START + timedelta(days=min(days)) for day in known)
    assert trend.latest is None or trend.expected is not None


@pytest.mark.parametrize(
    ("dates", "readings", "words"),
    [
        (on([0]), [90.0], "days with readings is 1; a trend needs 2"),
        (on([0, 0]), [90.0, 91.0], "days with readings is 1"),
        (on([0, 30]), [90.0], "2 dates stand beside 1 readings"),
        (on([0, 30]), [90.0, 50.5], "Slab RH reading is 50.5 %; it must lie between 51 and 100 %"),
        (on([0, 30]), [90.0, 101.0], "Slab RH reading is 101 %"),
    ],
)
def test_refusals(dates, readings, words):
    with pytest.raises(OutOfRangeError, match=words):
        rh_trend(dates, readings, 80, END_RH)
