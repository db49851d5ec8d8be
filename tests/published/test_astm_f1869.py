"""ASTM F1869-11, calcium chloride test: exposure 60 to 72 h, patch vented 24 h (1.2 to 1.4); count from memory.

The unit is lb per 1000 ft² in 24 h; its metric twins are printed in EPA 2013, Appendix C, and follow from definitions.
"""

import pytest

from finishadvisor import units
from finishadvisor.formulas import slab_tests


@pytest.mark.parametrize(("rate_lb", "rate_g"), [(3, "14.65"), (5, "24.4")])
def test_emission_in_grams_per_square_meter_and_day(rate_lb, rate_g, printed):
    assert units.grams_per_square_meter_day_from_pounds(rate_lb) == printed(rate_g)


def test_emission_in_micrograms_per_second(printed):
    per_second = units.grams_per_square_meter_day_from_pounds(3) * 1e6 / 86400
    # Printed as 170, two digits.
    assert per_second / 10 == printed("17")


def test_exposure_and_venting():
    wait = slab_tests.F1869_WAIT
    assert (wait.preparation_h, wait.least_h, wait.most_h) == (24, 60, 72)


@pytest.mark.parametrize(("area_ft2", "dishes"), [(1000, 3), (1500, 4), (3000, 5)])
def test_count(area_ft2, dishes):
    assert slab_tests.f1869_dishes(area_ft2) == dishes
