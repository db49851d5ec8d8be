"""Paint tables as arithmetic checks, no advice for floors: TM 43-0139, Table 3-2, and UFC 3-190-06, par. 4.4.2.4.

TM 43-0139 gives 150 to 300 ft² per gallon for a first coat of oil paint on concrete or brick, 300 to 400 for a second
and 350 to 450 for a third. UFC 3-190-06 lays 3 mils of epoxy under 2 mils of urethane or epoxy on concrete.
"""

import pytest

from finishadvisor import units
from finishadvisor.catalog.load import load_catalog


@pytest.mark.parametrize(
    ("ft2_per_gal", "m2_per_l"), [(150, "3.7"), (300, "7.4"), (400, "9.8"), (350, "8.6"), (450, "11.0")]
)
def test_spread_of_oil_paint_in_both_units(ft2_per_gal, m2_per_l, printed):
    assert units.square_meters_per_liter_from_square_feet_per_gallon(ft2_per_gal) == printed(m2_per_l)


@pytest.mark.parametrize("material", ["acrylic-solvent", "acrylic-water", "acrylic-tinted"])
def test_a_first_coat_takes_no_more_than_twice_a_second(material):
    factor = load_catalog().materials[material].first_coat_factor
    assert factor.low == 1
    assert factor.high == 300 / 150


@pytest.mark.parametrize(("mils", "um"), [(3, "76"), (2, "51")])
def test_thin_films_on_walls_in_both_units(mils, um, printed):
    assert units.micrometers_from_mils(mils) == printed(um)
