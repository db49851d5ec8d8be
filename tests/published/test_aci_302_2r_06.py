"""ACI 302.2R-06, from Brewer (1965), as restated: 4 in, w/c 0.50, to 3 lb: 82 days over a retarder, 144 without."""

import pytest

from finishadvisor.formulas import drying


@pytest.mark.parametrize(("underneath", "days"), [("retarder", "82"), ("open-to-vapor", "144")])
def test_days_of_a_4_in_slab(underneath, days, printed):
    assert drying.drying_band(4, 1, 0.50, underneath).not_before_days == printed(days)
