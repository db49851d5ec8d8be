"""29 CFR 1926.1153, Table 1, row (xi): 25 cfm per inch of wheel; APF 10 indoors over 4 h."""

import pytest

from finishadvisor.formulas import dust


@pytest.mark.parametrize(("wheel_in", "cfm"), [(5, "125"), (7, "175")])
def test_airflow(wheel_in, cfm, printed):
    assert dust.hand_grinder_airflow_cfm(wheel_in) == printed(cfm)


@pytest.mark.parametrize(("hours", "indoors", "factor"), [(5, True, 10), (4, True, 0), (5, False, 0)])
def test_respirator(hours, indoors, factor):
    assert dust.hand_grinder_protection_factor(hours, indoors=indoors) == factor
