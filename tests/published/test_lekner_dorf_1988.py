"""Lekner and Dorf (1988), Appl. Opt. 27:1278: darker when wet; Ångström (1925). Worked by hand from the equation."""

import pytest

from finishadvisor.formulas import reflection


@pytest.mark.parametrize(("dry", "wet"), [(0.10, "0.074"), (0.20, "0.134"), (0.30, "0.201"), (0.40, "0.275")])
def test_wetted_by_water(dry, wet, printed):
    assert reflection.wetted_reflectance(dry, 1.33) == printed(wet)


def test_share_kept_under_water(printed):
    assert reflection.angstrom_kept(4 / 3) == printed("0.4375")
    assert reflection.diffuse_internal_reflectance(4 / 3) == printed("0.475")
