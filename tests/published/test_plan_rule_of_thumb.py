"""Recoat windows against the rule that times double for each 18 °F colder (77 °F: 1; 59 °F: 2; 50 °F: 2.83)."""

import pytest

from finishadvisor.plan.setting import Setting
from tests.plan.fixtures import a_material


@pytest.mark.parametrize(("slab_f", "factor"), [(77.0, 1.0), (59.0, 2.0), (50.0, 2.83)])
def test_both_ends_of_a_window_stretch_in_the_cold(slab_f, factor):
    # Trade rule, no published document; the factors are computed from it and printed to two decimals.
    setting = Setting(a_material({"slab_f": 77, "recoat_min_h": 6, "recoat_max_h": 24}), (slab_f,) * 200)
    assert setting.over("recoat_min_h", 0) / 4 / 6 == pytest.approx(factor, abs=0.005)
    assert setting.over("recoat_max_h", 0) / 4 / 24 == pytest.approx(factor, abs=0.005)
