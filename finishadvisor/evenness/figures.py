"""The headline numbers of a shade map: typical shade, shares, percentile, index, grade."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.smooth import masked_mean
from finishadvisor.evenness.words import Grade

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MEAN_IN: Final = 3.0
"""Shade is judged on a 3 in mean: smaller marks are texture to a standing eye."""
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


def typical_of(lab: Array, used: Mask) -> Array:
    """Return the median of each CIELAB component over used cells."""
    return np.asarray(np.nanmedian(lab[used], axis=0))


def figures_of(lab: Array, used: Mask) -> Figures:
    """Return the headline numbers of a mean shade map.

    Args:
        lab: CIELAB, shape (rows, cols, 3).
        used: True for cells that count.
    """
    typical = typical_of(lab, used)
    de00 = color_difference(lab[used], typical)
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
