"""Plans against the guide specification for water repellents: dry 48 h after rain."""

from finishadvisor.plan.windows import conditions_for
from tests.plan.fixtures import an_air, shipped


def test_a_penetrating_sealer_waits_48_h_after_rain():
    # UFGS 07190 and highway practice: the surface dries 48 h after rain or washing before treatment (from memory).
    catalog = shipped()
    air = an_air(100, rain=[True, True] + [False] * 98, outdoors=True)
    found = conditions_for(catalog.materials["silane-siloxane"], air, catalog, on_bare_slab=True)
    assert [why.reason for why in found.whys_to_lay(48)] == ["wet"]
    assert found.whys_to_lay(49) == ()
