"""Coverage table of an estimating guide (scribd.com document 104802451).

The table prints 527 ft² for 72 % at 2 mils. Its own relation gives 577: a misprint, not tested against.
"""

import pytest

from finishadvisor.formulas import film


@pytest.mark.parametrize(("dry_mils", "ft2_per_gal"), [(1, "561"), (2, "281"), (3, "187"), (4, "140")])
def test_35_percent_solids(dry_mils, ft2_per_gal, printed):
    assert film.theoretical_coverage_ft2_per_gal(0.35, dry_mils) == printed(ft2_per_gal)


def test_all_solids_at_10_mils(printed):
    assert film.theoretical_coverage_ft2_per_gal(1, 10) == printed("160")


def test_8_mils_wet_at_35_percent_dry_to_2_8(printed):
    assert film.dry_film_mils(8, 0.35) == printed("2.8")
    assert film.wet_film_mils(2.8, 0.35) == printed("8")


def test_35_percent_thinned_by_10_percent_is_32_percent(printed):
    assert film.thinned_solids(0.35, 0.10) == printed("0.32")
