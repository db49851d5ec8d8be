"""How many slab tests the standards ask for, how deep, and how long each takes. The issue in force always governs."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from finishadvisor.errors import require_between, require_positive

_MOST_AREA_FT2: Final = 1e6


def _require_area(area_ft2: float) -> None:
    require_positive("Area", area_ft2, "ft²")
    require_between("Area", area_ft2, 0, _MOST_AREA_FT2, "ft²")


def _three_then_one_per_thousand(area_ft2: float) -> int:
    _require_area(area_ft2)
    return 3 + max(0, math.ceil((area_ft2 - 1000) / 1000))


def f2170_holes(area_ft2: float) -> int:
    """Return the number of holes for slab RH by probe: 3 for the first 1000 ft², 1 for each further 1000 ft² or part.

    Args:
        area_ft2: floor area [ft²], > 0, to 1,000,000.

    Raises:
        OutOfRangeError: the area is outside its range.

    Source: ASTM F2170, 10.1, as restated by the trade.
    """
    return _three_then_one_per_thousand(area_ft2)


def f1869_dishes(area_ft2: float) -> int:
    """Return the number of calcium chloride dishes: 3 for the first 1000 ft², 1 for each further 1000 ft² or part.

    Args:
        area_ft2: floor area [ft²], > 0, to 1,000,000.

    Raises:
        OutOfRangeError: the area is outside its range.

    Source: ASTM F1869 (count from memory).
    """
    return _three_then_one_per_thousand(area_ft2)


def d4262_readings(area_ft2: float) -> int:
    """Return the number of pH readings: 2 for each 500 ft² or part, right after the last rinse.

    Args:
        area_ft2: floor area [ft²], > 0, to 1,000,000.

    Raises:
        OutOfRangeError: the area is outside its range.

    Source: ASTM D4262-05(2012), 6.2.
    """
    _require_area(area_ft2)
    return 2 * math.ceil(area_ft2 / 500)


def d4263_sheets(area_ft2: float) -> int:
    """Return the number of taped plastic sheets: 1 for each 500 ft² or part.

    Args:
        area_ft2: floor area [ft²], > 0, to 1,000,000.

    Raises:
        OutOfRangeError: the area is outside its range.

    Source: ASTM D4263 (count from memory).
    """
    _require_area(area_ft2)
    return math.ceil(area_ft2 / 500)


COUNT_RULES: Final[dict[str, Callable[[float], int]]] = {
    "f2170-holes": f2170_holes,
    "f1869-kits": f1869_dishes,
    "d4262-readings": d4262_readings,
    "d4263-sheets": d4263_sheets,
}
"""Counting rules by the id that a work item names; each takes the area in ft²."""


def f2170_depth_in(thickness_in: float, drying_sides: int) -> float:
    """Return how deep the probe sits [in]: 40 % of the thickness drying from one side, 20 % from both.

    Args:
        thickness_in: slab thickness [in], 1 to 24.
        drying_sides: 1, or 2 for a slab open to air from below.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: ASTM F2170, 10.2, as restated by the trade.
    """
    require_between("Slab thickness", thickness_in, 1, 24, "in")
    require_between("Number of drying sides", drying_sides, 1, 2)
    return thickness_in * (0.40 if drying_sides == 1 else 0.20)


def f2170_wait_h(issue_year: int = 2019) -> int:
    """Return the time from drilling a hole to the reading that counts [h]: 24, in issues before 2018 72.

    Args:
        issue_year: year of the issue that the specification names, 2002 to 2100.

    Raises:
        OutOfRangeError: the year is outside its range.

    Source: ASTM F2170, 10.3.4: 72 h in the 2009 issue, 24 h from 2018 on, both as restated by the trade; that the
    issues between kept 72 h is the careful reading.
    """
    require_between("Year of the issue", issue_year, 2002, 2100)
    return 24 if issue_year >= 2018 else 72


@dataclass(frozen=True)
class SlabTestWait:
    """Hours that one slab test takes; None where the standard sets none."""

    conditions_before_h: float
    """Slab and air at service conditions before the test."""
    preparation_h: float
    """From preparing the patch to the start of the test."""
    least_h: float
    most_h: float | None
    source: str


F2170_WAIT: Final = SlabTestWait(
    48, 0, f2170_wait_h(), None, "ASTM F2170, section 9 and 10.3.4, as restated by the trade"
)
F1869_WAIT: Final = SlabTestWait(48, 24, 60, 72, "ASTM F1869-11 (48 h conditioning from memory)")
D4263_WAIT: Final = SlabTestWait(
    0, 0, 16, None, "ASTM D4263; an older practice, UFC 3-190-06 par. 9.6.7.5, leaves it 24 h"
)
F2170_PROBE_CHECK_DAYS: Final = 30
"""A reusable probe must have been checked within this many days of use (ASTM F2170, section 8)."""
