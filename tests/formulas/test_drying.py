"""Age bands of drying slabs: directions, restarts, honesty about slabs open to vapor."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import drying

thicknesses = st.floats(2, 12)
ratios = st.one_of(st.none(), st.floats(0.30, 0.80))
undersides = st.sampled_from(["retarder", "open-to-vapor", "unknown"])


@given(thicknesses, st.integers(1, 2), ratios, undersides)
def test_the_slow_end_is_never_before_the_fast_end(thickness_in, sides, ratio, underneath):
    band = drying.drying_band(thickness_in, sides, ratio, underneath)
    assert band.not_before_days > 0
    assert band.slow_days is None or band.slow_days > band.not_before_days


@given(st.floats(2, 11), st.integers(1, 2), ratios, undersides)
def test_thicker_is_never_sooner(thickness_in, sides, ratio, underneath):
    thin = drying.drying_band(thickness_in, sides, ratio, underneath)
    thick = drying.drying_band(thickness_in + 1, sides, ratio, underneath)
    assert thick.not_before_days > thin.not_before_days
    assert (thick.slow_days is None) is (thin.slow_days is None)
    assert thick.slow_days is None or thick.slow_days > thin.slow_days


@given(thicknesses, st.floats(0.30, 0.75), undersides)
def test_a_wetter_mix_is_never_sooner(thickness_in, ratio, underneath):
    dry = drying.drying_band(thickness_in, 1, ratio, underneath)
    wet = drying.drying_band(thickness_in, 1, ratio + 0.05, underneath)
    assert wet.not_before_days >= dry.not_before_days


def test_an_unknown_ratio_spans_the_usual_ones():
    unknown = drying.drying_band(4, 1, None, "retarder")
    assert unknown.not_before_days == drying.drying_band(4, 1, 0.40, "retarder").not_before_days
    assert unknown.slow_days == drying.drying_band(4, 1, 0.60, "retarder").slow_days


@pytest.mark.parametrize("underneath", ["open-to-vapor", "unknown"])
def test_no_slow_end_where_vapor_may_come_from_below(underneath):
    assert drying.drying_band(4, 1, 0.5, underneath).slow_days is None
    assert drying.drying_band(4, 1, 0.5, "retarder").slow_days is not None


def test_a_slab_open_to_air_below_dries_as_one_of_half_its_thickness():
    assert drying.drying_band(8, 2, 0.5, "unknown") == drying.drying_band(4, 1, 0.5, "retarder")


def test_the_slow_end_grows_with_the_square_of_thick_slabs():
    four, eight = (drying.drying_band(inches, 1, 0.5, "retarder") for inches in (4, 8))
    assert eight.slow_days == pytest.approx(4 * four.slow_days)
    assert eight.not_before_days == pytest.approx(2 * four.not_before_days)


def test_dates_are_counted_from_the_start_of_drying():
    band = drying.DryingBand(81.2, 140)
    assert band.dates(date(2026, 3, 1)) == (date(2026, 5, 22), date(2026, 7, 19))
    assert drying.DryingBand(10, None).dates(date(2026, 3, 1)) == (date(2026, 3, 11), None)


def test_slab_curing_and_wetting_start_the_clock_anew():
    pour, uncovered, rain = date(2026, 3, 1), date(2026, 3, 8), date(2026, 4, 2)
    assert drying.drying_since(pour) == pour
    assert drying.drying_since(pour, uncovered) == uncovered
    assert drying.drying_since(pour, uncovered, rain) == rain
    assert drying.drying_since(pour, last_wetting=date(2026, 2, 1)) == pour


@given(st.floats(0.30, 0.9))
def test_a_wetter_mix_has_more_water_to_lose(ratio):
    water_gal = drying.water_to_dry_gal(25, 564, ratio)
    assert water_gal >= 0
    assert drying.water_to_dry_gal(25, 564, ratio + 0.05) > water_gal


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: drying.drying_band(1, 1, 0.5, "retarder"), "Slab thickness is 1 in"),
        (lambda: drying.drying_band(4, 3, 0.5, "retarder"), "Number of drying sides is 3"),
        (lambda: drying.drying_band(4, 1, 50, "retarder"), "Water-cement ratio is 50"),
        (lambda: drying.water_to_dry_gal(0, 564, 0.5), "Concrete is 0 yd"),
    ],
)
def test_refusals(call, words):
    with pytest.raises(OutOfRangeError, match=words):
        call()
