"""Plans against UFC 3-190-06 (2004): the margin above the dew point, and the drying before a penetrating sealer."""

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
