"""Several photos of one floor taken together: bays side by side, and the same slab under other light.

What stays put under other light or from the other end is slab; what moves or turns over is light or sheen.
"""

import warnings
from collections.abc import Sequence
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.figures import Figures, figures_of, grade_of, mean_shade
from finishadvisor.evenness.patches import describe_patches, patch_cells
from finishadvisor.evenness.plan_maps import PLAN_CELL_FT, PlanMaps, lay_on_plan, match_levels
from finishadvisor.evenness.words import CAVEAT_SENTENCES, Caveat
from finishadvisor.job.document import Photo
from finishadvisor.records.evenness import Evenness, Sigma
from finishadvisor.records.shade import Measurement

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOVED_L: Final = 2.0
"""Difference [L*] between two photos of one place, beyond three standard errors, that is not the slab's."""
MOVED_SHARE: Final = 0.02


def join(measurements: Sequence[Measurement], photos: Sequence[Photo]) -> Evenness | None:
    """Return what the measured photos of one floor say together, or None where fewer than two were measured.

    Args:
        measurements: one for each photo, refused ones among them.
        photos: the photos with their marks and places on the plan, in the same order. Photos of a mock-up or taken
            after preparation show another surface and are left out.
    """
    pairs = [(m, p) for m, p in zip(measurements, photos, strict=True) if m.shade is not None and p.shows == "slab"]
    if len(pairs) < 2:
        return None
    maps = [m.shade for m, _ in pairs if m.shade is not None]
    cards = [m.evenness.level == "sheet" for m, _ in pairs]
    plan = match_levels(lay_on_plan(maps, [p for _, p in pairs]), cards)
    caveats = [Caveat.BAYS_UNJOINED] if len(set(plan.group)) > 1 else []
    lab, moved = _combined(_groups_at_one_level(plan))
    if moved > MOVED_SHARE:
        caveats.append(Caveat.MOVED_WITH_LIGHT)
    level: Literal["sheet", "assumed"] = "sheet" if all(cards) else "assumed"
    return _evenness(lab, plan, [m.evenness for m, _ in pairs], caveats, level)


def _groups_at_one_level(plan: PlanMaps) -> PlanMaps:
    """Return the maps with each unjoined group moved to one common median: between groups nothing is claimed."""
    if len(set(plan.group)) == 1:
        return plan
    lab = plan.lab.copy()
    common = np.nanmedian(lab.reshape(-1, 3), axis=0)
    for number in set(plan.group):
        members = [index for index, group in enumerate(plan.group) if group == number]
        lab[members] += common - np.nanmedian(lab[members].reshape(-1, 3), axis=0)
    return PlanMaps(plan.grid, plan.origin_ft, lab, plan.error, plan.group)


def _combined(plan: PlanMaps) -> tuple[Array, float]:
    """Return one map and the share of doubly seen cells on which photos disagree beyond noise.

    Where they agree the mean by 1/error² is taken; where they do not, the value nearest to the typical shade: a mark
    that one photo shows and another does not is not the slab's.
    """
    weight = np.where(np.isfinite(plan.lab[..., 0]), 1 / np.maximum(plan.error, 0.05) ** 2, 0.0)
    total = weight.sum(axis=0)
    mean = (np.nan_to_num(plan.lab) * weight[..., None]).sum(axis=0) / np.maximum(total, 1e-9)[..., None]
    seen_often = (weight > 0).sum(axis=0) >= 2
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # cells that no photo shows
        apart = np.nanmax(plan.lab[..., 0], axis=0) - np.nanmin(plan.lab[..., 0], axis=0)
        error = np.nanmax(plan.error, axis=0)
    moved = seen_often & (apart > np.maximum(MOVED_L, 3 * error))
    typical = np.nanmedian(mean[total > 0], axis=0)
    far = np.where(weight > 0, np.abs(plan.lab[..., 0] - typical[0]), np.inf)
    calmest = np.take_along_axis(plan.lab, np.argmin(far, axis=0)[None, :, :, None], axis=0)[0]
    lab = np.where(moved[..., None], calmest, mean)
    lab[total == 0] = np.nan
    return lab, float(moved.sum() / max(int(seen_often.sum()), 1))


def _evenness(
    lab: Array, plan: PlanMaps, singles: list[Evenness], caveats: list[Caveat], level: Literal["sheet", "assumed"]
) -> Evenness:
    used = np.asarray(np.isfinite(lab).all(axis=2))
    figures = figures_of(lab, used)
    coarse = figures_of(mean_shade(lab, used, PLAN_CELL_FT * 12, 9.0), used)
    sigma = _sigma(singles)
    de00 = np.where(used, color_difference(np.nan_to_num(lab), figures.typical_lab), np.nan)
    numbers = patch_cells(de00, used, plan.grid, 0.2)
    lowest, highest = (grade_of(max(0.0, coarse.index + sign * sigma.index)) for sign in (-1, 1))
    own = [caveat for single in singles for caveat in single.caveats]
    every = list(dict.fromkeys([*(caveat.value for caveat in caveats), *own]))
    first, second, third = (round(float(value), 2) for value in figures.typical_lab)
    return Evenness(
        photo="together",
        warnings=tuple(CAVEAT_SENTENCES[Caveat(caveat)] for caveat in every),
        caveats=tuple(every),
        grade=grade_of(coarse.index).value,
        grade_range=(lowest.value, highest.value),
        typical_lab=(first, second, third),
        level=level,
        share_over=_shares(figures),
        p95_de00=round(figures.p95_de00, 3),
        index=round(figures.index, 3),
        sigma=sigma,
        measured_share=round(float(used.mean()), 4),
        patches=describe_patches(numbers, lab, figures.typical_lab, used, plan.grid),
    )


def _shares(figures: Figures) -> dict[Literal["2", "3", "5"], float]:
    return {
        "2": round(figures.share_over[2], 4), "3": round(figures.share_over[3], 4), "5": round(figures.share_over[5], 4)
    }  # fmt: skip


def _sigma(singles: list[Evenness]) -> Sigma:
    """Return the mean of the photos' standard deviations: their errors are alike, so they do not average out."""
    known = [single.sigma for single in singles if single.sigma is not None]
    return Sigma(
        share_over_3=round(float(np.mean([s.share_over_3 for s in known])), 4),
        p95_de00=round(float(np.mean([s.p95_de00 for s in known])), 3),
        index=round(float(np.mean([s.index for s in known])), 3),
    )
