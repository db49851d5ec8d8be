"""Two measurements compared: the same slab weeks apart, or the slab and a mock-up."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.errors import OutOfRangeError
from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.plan_maps import FEWEST_SHARED, lay_on_plan, shared_part
from finishadvisor.job.document import Photo
from finishadvisor.records.shade import Measurement, ShadeMap

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

LEAST_CHANGE: Final = 2.0
"""CIEDE2000; two maps of an unchanged slab differ by up to 1.2 to 2.0 on one cell in a hundred."""
SIGMAS: Final = 3.0
SHARED_ERROR: Final = 0.5
"""Half of the error of a cell is the lighting's, and both photos share it."""


LEAST_SHARED: Final = 0.5
"""Share of the smaller photo that both must show before they count as photos of one place."""


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
        seen_ft2: area that both photos show.
    """

    changed: Mask
    seen: Mask
    de00: Array
    share: float
    less_uneven: bool
    whole_slab_de00: float | None
    seen_ft2: float


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
    cell_ft2 = first.width_ft * first.length_ft / seen.size
    return _change(
        (first.lab, second.lab), (first.error_L, second.error_L), seen, cell_ft2, typical_difference(before, after)
    )


def change_on_plan(before: tuple[Measurement, Photo], after: tuple[Measurement, Photo]) -> Change | None:
    """Return what changed where two photos overlap on the plan, None where they do not show one place.

    Args:
        before: the older photo and its place on the plan.
        after: the newer photo and its place on the plan.

    Raises:
        OutOfRangeError: a photo was refused.
    """
    plan = lay_on_plan([_map_of(before[0]), _map_of(after[0])], [before[1], after[1]])
    first, second = plan.maps
    part = shared_part(first, second)
    if part is None:
        return None
    labs = first.within(part), second.within(part)
    seen = np.asarray(np.isfinite(labs[0]).all(axis=2) & np.isfinite(labs[1]).all(axis=2))
    smaller = min(int(np.isfinite(laid.lab[:, :, 0]).sum()) for laid in plan.maps)
    if seen.sum() < max(LEAST_SHARED * smaller, FEWEST_SHARED):
        return None
    errors = first.error_within(part), second.error_within(part)
    cell_ft2 = plan.grid.width_ft * plan.grid.length_ft / (plan.grid.rows * plan.grid.cols)
    return _change(labs, errors, seen, cell_ft2, typical_difference(before[0], after[0]))


def _change(
    labs: tuple[Array, Array], errors: tuple[Array, Array], seen: Mask, cell_ft2: float, whole_slab_de00: float | None
) -> Change:
    """Return the change between two maps on the same cells, the older one first."""
    old, new = (_about_middle(lab, seen) for lab in labs)
    middle = np.median(labs[0][seen], axis=0)
    de00 = np.where(seen, color_difference(np.nan_to_num(old + middle), np.nan_to_num(new + middle)), np.nan)
    noise = SIGMAS * SHARED_ERROR * np.hypot(*errors)
    changed = seen & (np.nan_to_num(de00) > np.maximum(LEAST_CHANGE, np.nan_to_num(noise)))
    away_before, away_after = (np.abs(side[:, :, 0])[changed] for side in (old, new))
    return Change(
        changed,
        seen,
        de00,
        float(changed.sum() / max(int(seen.sum()), 1)),
        bool(changed.any() and float(away_after.mean()) < float(away_before.mean())),
        whole_slab_de00,
        float(seen.sum() * cell_ft2),
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


def _about_middle(lab: Array, seen: Mask) -> Array:
    return np.asarray(np.where(seen[:, :, None], lab - np.median(lab[seen], axis=0), np.nan))
