"""Mixing by volume: UFC 3-190-06, par. 2.2.3, asks for the exact ratio; 2:1 for 15 gal is 10 + 5 (worked by hand)."""

import pytest

from finishadvisor import units
from finishadvisor.formulas import film


def test_two_to_one_for_15_gallons(printed):
    parts = film.split_mix(15, (2, 1))
    assert parts == pytest.approx((10, 5), rel=1e-12)
    assert units.liters_from_gallons(parts[0]) == printed("38")
    assert units.liters_from_gallons(parts[1]) == printed("19")
