"""Chart readings from teaching material for painters (fr.scribd.com document 146044552) and public glossaries.

All are read off charts by eye, so they hold to one degree.
"""

import pytest

from finishadvisor.formulas import air
from finishadvisor.units import celsius_from_fahrenheit, fahrenheit_from_celsius


def test_21_c_dry_and_17_c_wet(printed):
    dry_f = fahrenheit_from_celsius(21)
    rh_pct = air.rh_of_wet_bulb_pct(dry_f, fahrenheit_from_celsius(17))
    assert celsius_from_fahrenheit(air.dew_point_f(dry_f, rh_pct)) == printed("15")


def test_16_c_at_71_percent_and_a_surface_of_13_c_is_too_cold(printed):
    air_f, slab_f = fahrenheit_from_celsius(16), fahrenheit_from_celsius(13)
    assert celsius_from_fahrenheit(air.dew_point_f(air_f, 71)) == printed("11")
    assert air.dew_point_margin_f(slab_f, air_f, 71) / 1.8 == printed("2")


@pytest.mark.parametrize(("air_c", "rh_pct", "dew_c"), [(30, 55, 20), (22, 40, 8)])
def test_glossary_cases(air_c, rh_pct, dew_c):
    found_c = celsius_from_fahrenheit(air.dew_point_f(fahrenheit_from_celsius(air_c), rh_pct))
    assert found_c == pytest.approx(dew_c, abs=1)


def test_65_f_at_50_percent():
    assert air.dew_point_f(65, 50) == pytest.approx(45, abs=1)
