"""When a slab may be dry by its age, from published rules, and how much water must leave it.

This only says when testing is worth while. A test decides, never these dates. The trend through dated readings is in
`drying_trend`, the number of tests in `slab_tests`.
"""

import datetime
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from finishadvisor.errors import require_between, require_positive
from finishadvisor.units import KILOGRAMS_PER_POUND, LITERS_PER_GALLON

Underneath = Literal["retarder", "open-to-vapor", "unknown"]
"""What lies under the slab: a vapor retarder, nothing that stops vapor, or nobody knows."""

# Days for a 4 in slab drying from its top, to an emission of 3 lb/1000 ft² in 24 h. The row 0.50 is Brewer (1965) as
# restated from ACI 302.2R-06; the other rows are from memory, that of 0.40 agreeing with the mean emission and the
# water lost that Suprenant and Malisch print for it.
_DAYS_OVER_RETARDER: Final = ((0.40, 46.0), (0.50, 82.0), (0.60, 117.0), (0.70, 130.0))
_DAYS_OPEN_TO_VAPOR: Final = ((0.40, 52.0), (0.50, 144.0), (0.60, 365.0))
_TABLE_THICKNESS_IN: Final = 4.0

SLOW_DAYS_FOR_4_IN: Final = 140.0
"""A 4 in slab at 70 °F, never wetted again, as the trade restates Hedenblad (1997): the slow end of the band."""

_LOW_RATIO_IF_UNKNOWN: Final = 0.40
_HIGH_RATIO_IF_UNKNOWN: Final = 0.60
_REFERENCE_RATIO: Final = 0.50


@dataclass(frozen=True)
class DryingBand:
    """Days of drying before a test is worth while; `slow_days` is None where no time can be promised at all."""

    not_before_days: float
    slow_days: float | None

    def dates(self, drying_since: datetime.date) -> tuple[datetime.date, datetime.date | None]:
        """Return the first and the slow date, counted from the day on which drying began."""
        slow = None if self.slow_days is None else drying_since + datetime.timedelta(days=math.ceil(self.slow_days))
        return drying_since + datetime.timedelta(days=math.ceil(self.not_before_days)), slow


def drying_band(
    thickness_in: float, drying_sides: int, water_cement_ratio: float | None, underneath: Underneath
) -> DryingBand:
    """Return how long a slab dries before a test of its moisture is worth while.

    Fast end: the published days of a 4 in slab, in proportion to thickness. Slow end: 140 days for 4 in, in proportion
    to thickness or to its square, whichever is longer. A slab drying from both sides counts as half as thick. Where
    vapor comes up from below, or may, there is no slow end: such a slab may never get there.

    Args:
        thickness_in: slab thickness [in], 2 to 12.
        drying_sides: 1, or 2 for a slab open to air from below.
        water_cement_ratio: by mass, 0.30 to 0.80; None if unknown, then 0.40 to 0.60 is spanned. Outside 0.40 to 0.70
            (0.60 where open to vapor) the nearest published row holds.
        underneath: what lies under the slab.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: Brewer (1965) in ACI 302.2R-06, restated; slow end Hedenblad (1997), restated; proportion to thickness is
    the trade's 28 to 30 days per inch, the square that of diffusion: our choice of the slower.
    """
    require_between("Slab thickness", thickness_in, 2, 12, "in")
    require_between("Number of drying sides", drying_sides, 1, 2)
    if water_cement_ratio is not None:
        require_between("Water-cement ratio", water_cement_ratio, 0.30, 0.80)
    depth = thickness_in / _TABLE_THICKNESS_IN / drying_sides
    open_below = underneath == "open-to-vapor" and drying_sides == 1
    table = _DAYS_OPEN_TO_VAPOR if open_below else _DAYS_OVER_RETARDER
    fast_days = _interpolated(table, water_cement_ratio or _LOW_RATIO_IF_UNKNOWN) * depth
    if underneath != "retarder" and drying_sides == 1:
        return DryingBand(fast_days, None)
    wetter_mix = _interpolated(_DAYS_OVER_RETARDER, water_cement_ratio or _HIGH_RATIO_IF_UNKNOWN)
    slow_days = SLOW_DAYS_FOR_4_IN * wetter_mix / _interpolated(_DAYS_OVER_RETARDER, _REFERENCE_RATIO)
    return DryingBand(fast_days, slow_days * max(depth, depth**2))


def _interpolated(table: Sequence[tuple[float, float]], ratio: float) -> float:
    """Days at a water-cement ratio, straight between the rows, the end row outside them."""
    for (low, low_days), (high, high_days) in itertools.pairwise(table):
        if ratio <= high:
            share = max(0.0, (ratio - low) / (high - low))
            return low_days + share * (high_days - low_days)
    return table[-1][1]


def drying_since(
    poured: datetime.date, wet_curing_ended: datetime.date | None = None, last_wetting: datetime.date | None = None
) -> datetime.date:
    """Return the day from which a slab counts as drying: the latest of pour, end of wet slab curing and last wetting.

    A wetting starts the clock anew. For an old slab that was rained on once this is slower than the truth, for a
    young one that was rained on often it is not; only a test can tell.

    Args:
        poured: day of the pour.
        wet_curing_ended: day on which covers, water or sheet came off.
        last_wetting: last rain, hose, wet saw or scrubber.

    Source: common practice, no source: wetting sets drying back, one wet day can cost weeks.
    """
    return max(day for day in (poured, wet_curing_ended, last_wetting) if day is not None)


def water_to_dry_gal(
    volume_yd3: float,
    cement_lb_per_yd3: float,
    water_cement_ratio: float,
    *,
    bound_share: float = 0.20,
    held_share: float = 0.01,
    concrete_lb_per_ft3: float = 149.8,
) -> float:
    """Return the mix water that must leave the slab [gal]: all, less what the cement binds and what may stay.

    Args:
        volume_yd3: concrete [yd³], > 0.
        cement_lb_per_yd3: cement in the mix [lb/yd³], 100 to 1200.
        water_cement_ratio: water to cement by mass, 0.25 to 1.
        bound_share: water bound per mass of cement, 0 to 0.3.
        held_share: water that may stay, per mass of concrete, 0 to 0.05.
        concrete_lb_per_ft3: density [lb/ft³], 80 to 170; 149.8 is 2400 kg/m³.

    Returns:
        0 or more.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: water balance of a published example of the Concrete Society.
    """
    require_positive("Concrete", volume_yd3, "yd³")
    require_between("Cement", cement_lb_per_yd3, 100, 1200, "lb/yd³")
    require_between("Water-cement ratio", water_cement_ratio, 0.25, 1)
    require_between("Water bound per mass of cement", bound_share, 0, 0.3)
    require_between("Water that may stay per mass of concrete", held_share, 0, 0.05)
    require_between("Density of the concrete", concrete_lb_per_ft3, 80, 170, "lb/ft³")
    mixed = cement_lb_per_yd3 * water_cement_ratio
    stays = cement_lb_per_yd3 * bound_share + 27 * concrete_lb_per_ft3 * held_share
    water_lb_per_gal = LITERS_PER_GALLON / KILOGRAMS_PER_POUND
    return max(0.0, volume_yd3 * (mixed - stays) / water_lb_per_gal)
