"""Alduchov and Eskridge (1996), J. Appl. Meteor. 35:601-609: 6.1094 hPa, 17.625, 243.04 °C; worked by hand from these.

Beside it Sonntag (1990), the form of WMO-No. 8: 6.112 hPa, 17.62, 243.12 °C, as an independent fit.
"""

import math

import pytest

from finishadvisor.formulas import air
from finishadvisor.units import celsius_from_fahrenheit, fahrenheit_from_celsius


@pytest.mark.parametrize(("temperature_c", "pressure_pa"), [(5, "871.6"), (25, "3161.7"), (50, "12360.6")])
def test_saturation_pressure(temperature_c, pressure_pa, printed):
    assert air.saturation_pressure_pa(temperature_c) == printed(pressure_pa)


@pytest.mark.parametrize(("air_c", "rh_pct", "dew_c"), [(25, 50, "13.86"), (20, 50, "9.26"), (20, 85, "17.40")])
def test_dew_point_in_celsius(air_c, rh_pct, dew_c, printed):
    assert celsius_from_fahrenheit(air.dew_point_f(fahrenheit_from_celsius(air_c), rh_pct)) == printed(dew_c)


@pytest.mark.parametrize(("air_f", "rh_pct", "dew_f"), [(70, 60, "55.5"), (80, 70, "69.3")])
def test_dew_point_in_fahrenheit(air_f, rh_pct, dew_f, printed):
    assert air.dew_point_f(air_f, rh_pct) == printed(dew_f)


@pytest.mark.parametrize(("air_c", "rh_pct"), [(5, "80.9"), (20, "82.9"), (30, "84.0")])
def test_a_margin_of_3_c_bites_before_85_percent(air_c, rh_pct, printed):
    air_f = fahrenheit_from_celsius(air_c)
    assert air.most_rh_for_margin_pct(air_f, air_f, margin_f=3 * 1.8) == printed(rh_pct)


@pytest.mark.parametrize("temperature_c", range(-40, 51, 5))
def test_sonntag_1990_agrees(temperature_c):
    sonntag_pa = 611.2 * math.exp(17.62 * temperature_c / (243.12 + temperature_c))
    # The two fits differ by less than the 0.4 % that the paper states against the measured values.
    assert air.saturation_pressure_pa(temperature_c) == pytest.approx(sonntag_pa, rel=0.004)
