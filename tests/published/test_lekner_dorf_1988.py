"""Lekner and Dorf (1988), Appl. Opt. 27:1278: darker when wet; Ångström (1925). Worked by hand from the equation."""

import numpy as np
import pytest

from finishadvisor.evenness.color import lab_from_linear
from finishadvisor.formulas import reflection


@pytest.mark.parametrize(("dry", "wet"), [(0.10, "0.074"), (0.20, "0.134"), (0.30, "0.201"), (0.40, "0.275")])
def test_wetted_by_water(dry, wet, printed):
    assert reflection.wetted_reflectance(dry, 1.33) == printed(wet)


def test_share_kept_under_water(printed):
    assert reflection.angstrom_kept(4 / 3) == printed("0.4375")
    assert reflection.diffuse_internal_reflectance(4 / 3) == printed("0.475")


@pytest.mark.parametrize(
    ("dry", "dry_lightness", "wet_lightness"),
    [(0.10, "37.8", "32.8"), (0.20, "51.8", "43.4"), (0.30, "61.7", "51.9"), (0.40, "69.5", "59.5")],
)
def test_wetting_darkens_by_5_to_10_of_lightness(dry, dry_lightness, wet_lightness, printed):
    assert lab_from_linear(np.full(3, dry))[0] == printed(dry_lightness)
    assert lab_from_linear(np.full(3, reflection.wetted_reflectance(dry, 1.33)))[0] == printed(wet_lightness)
