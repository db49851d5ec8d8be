"""The headline numbers of a shade map: typical shade, shares, percentile, index, grade."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.smooth import guided_mean, masked_mean, two_level_cut
from finishadvisor.evenness.words import Grade

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MEAN_IN: Final = 3.0
"""Shade is judged on a 3 in mean: smaller marks are texture to a standing eye."""
COLOR_MEAN_IN: Final = 9.0
GUIDE_NOISE_L: Final = 0.7
GRADE_MEAN_IN: Final = 6.0
"""The grade rests on a 6 in mean, what is told apart from some 30 ft."""
SHARES: Final = (2, 3, 5)


@dataclass(frozen=True)
class Figures:
    """Headline numbers of one map.

    Attributes:
        typical_lab: median shade.
        share_over: share of cells that differ by more than 2, 3, 5.
        p95_de00: difference that 95 % of the cells stay within.
        index: root mean square of what exceeds a just visible difference.
    """

    typical_lab: Array
    share_over: dict[int, float]
    p95_de00: float
    index: float


def window_of(mean_in: float, cell_in: float) -> int:
    """Return the odd window in cells whose side is nearest to `mean_in`."""
    return max(1, 2 * round((mean_in / cell_in - 1) / 2) + 1)


def mean_shade(lab: Array, used: Mask, cell_in: float, mean_in: float) -> Array:
    """Return the mean of CIELAB over squares of `mean_in`, not a number on unused cells, shape (rows, cols, 3)."""
    smooth = masked_mean(lab, used, window_of(mean_in, cell_in))
    return np.where(used[:, :, None], smooth, np.nan)


def judged_shade(lab: Array, used: Mask, cell_in: float) -> Array:
    """Return the 3 in mean that shade is judged on, shape (rows, cols, 3).

    Pictures hold color more coarsely than lightness (halved and quantized), so a* and b* are taken over a wider window
    wherever lightness shows no edge.
    """
    mean = mean_shade(lab, used, cell_in, MEAN_IN)
    window = window_of(COLOR_MEAN_IN, cell_in)
    for channel in (1, 2):
        smooth = guided_mean(mean[:, :, channel], mean[:, :, 0], used, window, GUIDE_NOISE_L)
        mean[:, :, channel] = np.where(np.isfinite(mean[:, :, channel]), smooth, np.nan)
    return mean


def typical_of(lab: Array, used: Mask) -> Array:
    """Return the median of each CIELAB component over used cells."""
    return np.asarray(np.nanmedian(lab[used], axis=0))


def two_shades(lab: Array, used: Mask) -> tuple[Array, Array] | None:
    """Return the larger and the smaller of two shades that a slab reads as, or None where it reads as one.

    Args:
        lab: CIELAB of a 6 in mean, shape (rows, cols, 3).
        used: True for cells that count.
    """
    cells = lab[used]
    cells = cells[np.isfinite(cells).all(axis=1)]
    lightness = cells[:, 0]
    if len(lightness) < 100 or np.ptp(lightness) < evenness_limit("patch-seed"):
        return None
    pale = lightness > two_level_cut(lightness)
    share = float(pale.mean())
    if not 0 < share < 1:
        return None
    between = share * (1 - share) * float(lightness[pale].mean() - lightness[~pale].mean()) ** 2
    first, second = np.median(cells[pale], axis=0), np.median(cells[~pale], axis=0)
    apart = between / float(lightness.var()) > evenness_limit("two-shades-separation")
    even_shares = min(share, 1 - share) >= evenness_limit("two-shades-least-share")
    if not apart or not even_shares or float(color_difference(first, second)) < evenness_limit("patch-seed"):
        return None
    return (first, second) if share >= 0.5 else (second, first)


def mottling(lab: Array, used: Mask, cell_in: float) -> float:
    """Return the standard deviation of L* in marks 4 in to 12 in wide, between a 4 in and a 12 in mean.

    Args:
        lab: CIELAB of single cells, shape (rows, cols, 3).
        used: True for cells that count.
        cell_in: side of a cell [in].
    """
    fine, broad = (masked_mean(lab[:, :, 0], used, window_of(side_in, cell_in)) for side_in in (4.0, 12.0))
    band = (fine - broad)[used]
    return float(np.nanstd(band)) if np.isfinite(band).any() else 0.0


def figures_of(lab: Array, used: Mask, typical: Array | None = None) -> Figures:
    """Return the headline numbers of a mean shade map.

    Args:
        lab: CIELAB, shape (rows, cols, 3).
        used: True for cells that count.
        typical: the shade to compare with; None takes the median of each component.
    """
    typical = typical_of(lab, used) if typical is None else typical
    return figures_from(color_difference(lab[used], typical), typical)


def figures_from(de00: Array, typical: Array) -> Figures:
    """Return the headline numbers of differences from the typical shade; what is not a number is left out."""
    de00 = de00[np.isfinite(de00)]
    return Figures(
        typical_lab=typical,
        share_over={limit: float((de00 > limit).mean()) for limit in SHARES},
        p95_de00=float(np.percentile(de00, 95)),
        index=float(np.sqrt((np.maximum(de00 - evenness_limit("index-just-seen"), 0) ** 2).mean())),
    )


def grade_of(index: float) -> Grade:
    """Return the grade of an index on a 6 in mean."""
    cuts = ("grade-even-below", "grade-nearly-even-below", "grade-slightly-uneven-below", "grade-uneven-below")
    for grade, cut in zip(Grade, cuts, strict=False):
        if index < evenness_limit(cut):
            return grade
    return Grade.VERY_UNEVEN
