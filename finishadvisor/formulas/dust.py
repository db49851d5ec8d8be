"""Dust extraction that the silica standard asks of hand-held grinders. Local rules and the makers govern."""

from typing import Final

from finishadvisor.errors import require_between

_CFM_PER_INCH: Final = 25.0


def hand_grinder_airflow_cfm(wheel_in: float) -> float:
    """Return the least airflow of the dust collector behind a shrouded hand grinder [ft³/min].

    Args:
        wheel_in: diameter of the wheel [in], 1 to 14.

    Raises:
        OutOfRangeError: the diameter is outside its range.

    Source: 29 CFR 1926.1153, Table 1, row (xi): 25 ft³/min per inch of wheel.
    """
    require_between("Wheel diameter", wheel_in, 1, 14, "in")
    return _CFM_PER_INCH * wheel_in


def hand_grinder_protection_factor(hours: float, *, indoors: bool) -> int:
    """Return the respirator's assigned protection factor beside shroud and collector; 0 where none is asked.

    Args:
        hours: time of grinding in the shift [h], 0 to 24.
        indoors: whether the work is indoors or in an enclosed area.

    Raises:
        OutOfRangeError: the time is outside its range.

    Source: 29 CFR 1926.1153, Table 1, row (xi).
    """
    require_between("Hours of grinding", hours, 0, 24, "h")
    return 10 if indoors and hours > 4 else 0
