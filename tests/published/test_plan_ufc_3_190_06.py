"""Plans against UFC 3-190-06 (2004): the margin above the dew point, cold before a coat is dry, storage, the log."""

import pytest

from finishadvisor.formulas.air import most_rh_for_margin_pct
from finishadvisor.plan.windows import conditions_for
from tests.plan.fixtures import an_air, shipped


def test_epoxy_is_laid_from_5_f_above_the_dew_point_on():
    # UFC 3-190-06, par. 9.6.6: surface at least 5 °F above the dew point.
    catalog = shipped()
    assert catalog.limits["dew-margin-f"].value == 5
    edge = most_rh_for_margin_pct(70, 75, 5)
    for rh_pct, reasons in ((edge - 0.01, []), (edge + 0.01, ["dew"])):
        air = an_air(24, air_f=75.0, slab_f=70.0, rh_pct=rh_pct)
        found = conditions_for(catalog.materials["epoxy-clear"], air, catalog, on_bare_slab=False).whys_to_lay(0)
        assert [why.reason for why in found] == reasons


@pytest.mark.parametrize("material", ["acrylic-solvent", "acrylic-tinted", "cure-and-seal-acrylic"])
@pytest.mark.parametrize(("coldest_f", "reasons"), [(40, []), (38, ["air-cold"])])
def test_no_coat_whose_air_falls_below_40_f_before_it_is_dry(material, coldest_f, reasons):
    # UFC 3-190-06, par. 7.4.1: stop if below 40 °F is expected before the coating is dry.
    catalog = shipped()
    air = an_air(24, air_f=[60.0, 60.0, float(coldest_f)], slab_f=60.0, rh_pct=30.0)
    found = conditions_for(catalog.materials[material], air, catalog, on_bare_slab=False)
    assert found.whys_to_lay(0) == ()
    assert [why.reason for why in found.whys_to_set(2)] == reasons
    assert found.next_bad_to_set[0] == (2 if reasons else 24)


def test_storage_conditioning_and_the_log():
    # UFC 3-190-06, par. 7.2 and 7.4.1: store at 50 to 85 °F, condition cold cans for 24 h; 9.6.6: read about every 4 h.
    limits = shipped().limits
    assert (limits["storage-low-f"].value, limits["storage-high-f"].value) == (50, 85)
    assert limits["condition-material-hours"].value == 24
    assert limits["air-log-hours"].value == 4
