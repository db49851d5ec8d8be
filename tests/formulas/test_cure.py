"""Times of the coating cure: the sheet is honored, heat never lengthens, the unfavorable side is believed outside."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import cure

bounds = st.sampled_from(["at-least", "at-most"])
slabs_f = st.floats(-40, 160)


@st.composite
def sheets(draw, least=1):
    """Points of a data sheet: times that fall or stay with heat."""
    temperatures = draw(st.lists(st.integers(35, 110), min_size=least, max_size=4, unique=True))
    times = draw(st.lists(st.floats(0.5, 72), min_size=len(temperatures), max_size=len(temperatures)))
    return list(zip(sorted(temperatures), sorted(times, reverse=True), strict=True))


@given(sheets(), bounds, slabs_f, st.floats(0, 40))
def test_warmer_is_never_slower(points, bound, slab_f, warmer_by_f):
    line = cure.fit_cure_line(points, bound)
    warmer_f = min(slab_f + warmer_by_f, 160)
    assert line.at(warmer_f).value <= line.at(slab_f).value * (1 + 1e-9)


@given(sheets())
def test_the_sheet_is_never_undercut_nor_exceeded(points):
    at_least, at_most = (cure.fit_cure_line(points, bound) for bound in ("at-least", "at-most"))
    for temperature_f, time in points:
        assert at_least.at(temperature_f).value >= time * (1 - 1e-6)
        assert at_most.at(temperature_f).value <= time * (1 + 1e-6)


@given(sheets(), bounds)
def test_one_or_two_points_are_met_exactly(points, bound):
    line = cure.fit_cure_line(points[:2], bound)
    for temperature_f, time in points[:2]:
        assert line.at(temperature_f).value == pytest.approx(time, rel=1e-6)


def test_points_on_one_line_give_that_line_back():
    energy_j, gas = 60_000, cure.GAS_CONSTANT_J_PER_MOL_K

    def time_h(slab_f):
        return 8 * math.exp(energy_j / gas * (1 / ((slab_f + 459.67) / 1.8) - 1 / 298.15))

    line = cure.fit_cure_line([(slab_f, time_h(slab_f)) for slab_f in (50, 70, 90)], "at-least")
    assert line.at(62).value == pytest.approx(time_h(62))
    assert line.at(62).extrapolated is False
    ratio = line.at(50).value / line.at(90).value
    assert cure.activation_energy_kj_per_mol(ratio, 50, 90) == pytest.approx(60)


def test_outside_the_sheet_only_the_unfavorable_is_believed():
    points = [(50, 24.0), (70, 12.0), (90, 6.5)]
    least, most = cure.fit_cure_line(points, "at-least"), cure.fit_cure_line(points, "at-most")
    assert least.at(40).value > least.at(50).value
    assert least.at(100).value == least.at(90).value
    assert most.at(40).value == most.at(50).value
    assert most.at(100).value < most.at(90).value
    assert all(line.at(slab_f).extrapolated for line in (least, most) for slab_f in (49.9, 90.1))


def test_one_point_counts_as_known_27_f_to_either_side():
    line = cure.fit_cure_line([(77, 8.0)], "at-least")
    assert [line.at(slab_f).extrapolated for slab_f in (49, 50, 77, 104, 105)] == [True, False, False, False, True]


def test_order_of_points_does_not_matter():
    points = [(50, 24.0), (70, 12.0), (90, 7.0)]
    assert cure.fit_cure_line(points[::-1], "at-most") == cure.fit_cure_line(points, "at-most")


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([], "Number of data sheet points is 0"),
        ([(50, 8), (70, 12)], "rises from 8 at 50 °F to 12 at 70 °F"),
        ([(50, 8), (50, 7)], "Two data sheet points stand at 50 °F"),
        ([(50, 0)], "Time of a data sheet point is 0"),
        ([(500, 3)], "Temperature of a data sheet point is 500 °F"),
    ],
)
def test_bad_points_are_refused(points, words):
    with pytest.raises(OutOfRangeError, match=words):
        cure.fit_cure_line(points, "at-least")


def test_pot_life_shortens_with_heat():
    assert cure.pot_life([(77, 30)], 95).value == pytest.approx(15)


@given(sheets(), bounds, st.floats(20, 120))
def test_at_a_steady_temperature_the_sum_gives_the_time_itself(points, bound, slab_f):
    line = cure.fit_cure_line(points, bound)
    wanted_h = line.at(slab_f).value
    assume(wanted_h < 2000)
    course = cure.hours_until_over(line, [slab_f] * (math.ceil(wanted_h) + 1))
    assert course.hours == pytest.approx(wanted_h, rel=1e-6)
    assert course.extrapolated is line.at(slab_f).extrapolated


@given(sheets(), bounds, st.lists(st.floats(30, 110), min_size=100, max_size=100), st.floats(0.1, 30))
def test_warmer_at_every_hour_is_never_later(points, bound, course_f, warmer_by_f):
    line = cure.fit_cure_line(points, bound)
    cool_h = cure.hours_until_over(line, course_f).hours
    warm_h = cure.hours_until_over(line, [slab_f + warmer_by_f for slab_f in course_f]).hours
    if cool_h is not None:
        assert warm_h is not None
        assert warm_h <= cool_h + 1e-6


def test_a_time_that_is_not_over_says_so():
    line = cure.fit_cure_line([(77, 8.0)], "at-least")
    assert cure.hours_until_over(line, [77] * 7).hours is None
    assert cure.hours_until_over(line, [77] * 9).hours == pytest.approx(8)
