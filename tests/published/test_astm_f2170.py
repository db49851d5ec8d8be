"""ASTM F2170 (issues 2009 to 2019a), slab RH by probe in a hole, as restated by the trade: 10.1, 10.2, 10.3.4."""

import pytest

from finishadvisor import units
from finishadvisor.formulas import slab_tests


@pytest.mark.parametrize(("area_ft2", "holes"), [(300, 3), (1000, 3), (1001, 4), (2000, 4), (2001, 5), (10_000, 12)])
def test_three_holes_then_one_for_each_further_1000_ft2(area_ft2, holes):
    assert slab_tests.f2170_holes(area_ft2) == holes


@pytest.mark.parametrize(("sides", "inches", "millimeters"), [(1, "1.6", "41"), (2, "0.8", "20")])
def test_probe_depth_in_a_4_in_slab(sides, inches, millimeters, printed):
    depth_in = slab_tests.f2170_depth_in(4, sides)
    assert depth_in == printed(inches)
    assert depth_in * units.MILLIMETERS_PER_INCH == printed(millimeters)


@pytest.mark.parametrize(("issue", "hours"), [(2009, 72), (2018, 24), (2019, 24)])
def test_wait_after_drilling(issue, hours):
    assert slab_tests.f2170_wait_h(issue) == hours


def test_two_days_at_service_conditions_and_a_month_for_the_probe():
    assert slab_tests.F2170_WAIT.conditions_before_h == 48
    assert slab_tests.F2170_PROBE_CHECK_DAYS == 30
