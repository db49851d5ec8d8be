"""A public note on theoretical spreading rate (scribd.com document 343849341)."""

from finishadvisor import units
from finishadvisor.formulas import film


def test_65_percent_at_5_mils(printed):
    assert film.theoretical_coverage_ft2_per_gal(0.65, 5) == printed("208.5")


def test_65_percent_at_125_micrometers(printed):
    coverage = film.theoretical_coverage_ft2_per_gal(0.65, units.mils_from_micrometers(125))
    assert units.square_meters_per_liter_from_square_feet_per_gallon(coverage) == printed("5.2")
