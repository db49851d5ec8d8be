"""Two measurements compared: the same slab weeks apart, or the slab and a mock-up."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.errors import OutOfRangeError
from finishadvisor.evenness.color import color_difference
from finishadvisor.records.shade import Measurement, ShadeMap

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

LEAST_CHANGE: Final = 2.0
"""CIEDE2000; two maps of an unchanged slab differ by up to 1.2 to 2.0 on one cell in a hundred."""
SIGMAS: Final = 3.0


@dataclass(frozen=True)
class Change:
    """What changed between two photos of one slab, an even change of the whole slab left out.

    Attributes:
        changed: cells that changed beyond noise, shape (rows, cols).
        seen: cells that both photos show, shape (rows, cols).
        de00: size of the change, shape (rows, cols); not a number where not seen.
        share: share of the seen cells that changed.
        less_uneven: True where the marks that changed came nearer to the typical shade: they fade.
        whole_slab_de00: change of the typical shade; None where not both levels rest on cards.
    """

    changed: Mask
    seen: Mask
    de00: Array
    share: float
    less_uneven: bool
    whole_slab_de00: float | None


def change_between(before: Measurement, after: Measurement) -> Change:
    """Return what changed between two photos of one slab with the same corners.

    Args:
        before: the older photo.
        after: the newer photo, measured on cells of the same size.

    Raises:
        OutOfRangeError: a photo was refused, or the maps are of different slabs or cells.
    """
    first, second = _map_of(before), _map_of(after)
    if first.used.shape != second.used.shape:
        raise OutOfRangeError(
            f"The two maps have {first.used.shape} and {second.used.shape} cells. Give both photos the same corners "
            "and size, and measure them with the same cells."
        )
    seen = first.used & second.used
    old, new = _about_middle(first, seen), _about_middle(second, seen)
    middle = np.median(first.lab[seen], axis=0)
    de00 = np.where(seen, color_difference(np.nan_to_num(old + middle), np.nan_to_num(new + middle)), np.nan)
    noise = SIGMAS * np.hypot(_own_error(first), _own_error(second))
    changed = seen & (np.nan_to_num(de00) > np.maximum(LEAST_CHANGE, noise))
    away_before, away_after = (np.abs(side[:, :, 0])[changed] for side in (old, new))
    cards = before.evenness.level == "sheet" and after.evenness.level == "sheet"
    return Change(
        changed,
        seen,
        de00,
        float(changed.sum() / max(int(seen.sum()), 1)),
        bool(changed.any() and float(away_after.mean()) < float(away_before.mean())),
        typical_difference(before, after) if cards else None,
    )


def typical_difference(first: Measurement, second: Measurement) -> float | None:
    """Return CIEDE2000 between two typical shades, as of a slab and its mock-up; None without cards in both photos."""
    if first.evenness.level != "sheet" or second.evenness.level != "sheet":
        return None
    labs = [np.array(measurement.evenness.typical_lab, dtype=np.float64) for measurement in (first, second)]
    return round(float(color_difference(labs[0], labs[1])), 2)


def _map_of(measurement: Measurement) -> ShadeMap:
    if measurement.shade is None:
        raise OutOfRangeError(f"{measurement.evenness.photo} was refused, so there is nothing to compare. Retake it.")
    return measurement.shade


def _about_middle(shade: ShadeMap, seen: Mask) -> Array:
    return np.asarray(np.where(seen[:, :, None], shade.lab - np.median(shade.lab[seen], axis=0), np.nan))


def _own_error(shade: ShadeMap) -> Array:
    """Return the error of a cell less its part that both photos share: half of the lighting's."""
    return np.asarray(0.5 * shade.error_L)
