"""1 lb per US gallon is 119.83 g/L by definition; Ventura County Rule 74.2 (2010) prints 119.95.

Ohio Admin. Code 3745-113-03 prints its limits in both units, to about two digits; hence the tolerances.
"""

import pytest

from finishadvisor.units import grams_per_liter_from_pounds_per_gallon


def test_by_definition(printed):
    assert grams_per_liter_from_pounds_per_gallon(1) == printed("119.83")


def test_ventura_county_to_two_digits():
    assert round(grams_per_liter_from_pounds_per_gallon(1), -1) == round(119.95, -1)


@pytest.mark.parametrize(("pounds", "grams"), [(2.92, 350), (6.50, 780), (2.08, 250)])
def test_ohio_limits(pounds, grams):
    assert grams_per_liter_from_pounds_per_gallon(pounds) == pytest.approx(grams, rel=0.005)
