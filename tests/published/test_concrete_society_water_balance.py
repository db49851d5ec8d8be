"""The Concrete Society's worked water balance (concrete.org.uk/fingertips-nuggets.asp, id 909)."""

import pytest

from finishadvisor import units
from finishadvisor.formulas import drying

VOLUME_M3, CEMENT_KG_PER_M3 = 45 * 18 * 1.1, 360
M3_PER_YD3 = 0.9144**3
LB_PER_YD3_PER_KG_PER_M3 = M3_PER_YD3 / units.KILOGRAMS_PER_POUND


def test_water_to_dry_out(printed):
    gallons = drying.water_to_dry_gal(
        VOLUME_M3 / M3_PER_YD3,
        CEMENT_KG_PER_M3 * LB_PER_YD3_PER_KG_PER_M3,
        water_cement_ratio=0.50,
        bound_share=0.20,
        held_share=0.01,
        concrete_lb_per_ft3=2400 * LB_PER_YD3_PER_KG_PER_M3 / 27,
    )
    assert units.liters_from_gallons(gallons) == printed("74844")
    assert units.liters_from_gallons(gallons) / VOLUME_M3 == printed("84")


def test_the_default_density_is_2400_kg_per_m3():
    density_lb_per_ft3 = 2400 * LB_PER_YD3_PER_KG_PER_M3 / 27
    assert density_lb_per_ft3 == pytest.approx(149.8, abs=0.05)
