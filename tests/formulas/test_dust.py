"""Dust extraction: in proportion to the wheel, refusing what is no hand grinder."""

import pytest

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import dust


def test_twice_the_wheel_takes_twice_the_air():
    assert dust.hand_grinder_airflow_cfm(9) == 2 * dust.hand_grinder_airflow_cfm(4.5)


def test_refusals():
    with pytest.raises(OutOfRangeError, match="Wheel diameter is 125 in"):
        dust.hand_grinder_airflow_cfm(125)
    with pytest.raises(OutOfRangeError, match="Hours of grinding is 25 h"):
        dust.hand_grinder_protection_factor(25, indoors=True)
