"""Several photos of one floor taken together: bays side by side, and the same slab under other light.

What stays put under other light or from the other end is slab; what moves or turns over is light or sheen.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.figures import Figures, figures_of, grade_of, mean_shade
from finishadvisor.evenness.patches import describe_patches, patch_cells
from finishadvisor.evenness.plan_maps import PLAN_CELL_FT, LaidMap, PlanMaps, lay_on_plan, match_levels
from finishadvisor.evenness.words import CAVEAT_SENTENCES, Caveat
from finishadvisor.job.document import Photo
from finishadvisor.records.evenness import Evenness, Patch, Sigma
from finishadvisor.records.shade import Measurement

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOVED_L: Final = 2.0
"""Difference [L*] between two photos of one place, beyond three standard errors, that is not the slab's."""
MOVED_SHARE: Final = 0.02
TOLD_SHARE: Final = 0.01
"""Share of what two photos show from which it is told apart what moved and what turned over."""


@dataclass(frozen=True)
class Moved:
    """Where photos of one place disagree beyond noise.

    Attributes:
        seen_ft2: area that two photos or more show.
        turned_ft2: lighter than the slab in one photo and darker in another: sheen.
        moved_ft2: lighter or darker in one photo only: light, or something that was moved.
    """

    seen_ft2: float
    turned_ft2: float
    moved_ft2: float

    @property
    def much(self) -> bool:
        """Whether it is more than noise brings about."""
        return self.turned_ft2 + self.moved_ft2 > MOVED_SHARE * self.seen_ft2

    def sentences(self) -> list[str]:
        """Return what it means, with its area."""
        least_ft2 = TOLD_SHARE * self.seen_ft2
        told = []
        if self.turned_ft2 > least_ft2:
            told.append(
                f"{self.turned_ft2:.1f} ft² is lighter than the slab in one photo and darker in another. That is "
                "sheen, which turns over with the side it is seen from; it was taken out as well as two photos allow."
            )
        if self.moved_ft2 > least_ft2:
            told.append(
                f"{self.moved_ft2:.1f} ft² stands out in one photo and not in another. That is light or shadow, or "
                "something that was moved or wiped off in between; it does not count."
            )
        return told if self.much else []


def join(measurements: Sequence[Measurement], photos: Sequence[Photo]) -> Evenness | None:
    """Return what the measured photos of one floor say together, as in `join_and_compare`."""
    joined = join_and_compare(measurements, photos)
    return joined[0] if joined else None


def join_and_compare(measurements: Sequence[Measurement], photos: Sequence[Photo]) -> tuple[Evenness, Moved] | None:
    """Return what several photos say together and where they disagree; None where fewer than two were measured.

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
    if moved.much:
        caveats.append(Caveat.MOVED_WITH_LIGHT)
    level: Literal["sheet", "assumed"] = "sheet" if all(cards) else "assumed"
    joined = _evenness(lab, plan, [m.evenness for m, _ in pairs], caveats, level)
    return joined.model_copy(update={"warnings": (*joined.warnings, *moved.sentences())}), moved


def _groups_at_one_level(plan: PlanMaps) -> PlanMaps:
    """Return the maps with each unjoined group moved to one common median: between groups nothing is claimed."""
    if len(set(plan.group)) == 1:
        return plan
    common = _median_shade(plan.maps)
    apart = {
        number: common - _median_shade([laid for laid, own in zip(plan.maps, plan.group, strict=True) if own == number])
        for number in set(plan.group)
    }
    moved = (replace(laid, lab=laid.lab + apart[own]) for laid, own in zip(plan.maps, plan.group, strict=True))
    return replace(plan, maps=tuple(moved))


def _median_shade(maps: Sequence[LaidMap]) -> Array:
    return np.asarray(np.nanmedian(np.concatenate([laid.lab.reshape(-1, 3) for laid in maps]), axis=0))


def _combined(plan: PlanMaps) -> tuple[Array, Moved]:
    """Return one map, and where photos of one place disagree beyond noise.

    Where they agree the mean by 1/error² is taken, and where a mark turns over, since its two sides cancel. Elsewhere
    it is the value nearest to the typical shade: a mark that one photo shows and another does not is not the slab's.
    """
    shape = (plan.grid.rows, plan.grid.cols)
    total, times = np.zeros(shape), np.zeros(shape, dtype=np.intp)
    mean = np.zeros((*shape, 3))
    highest, lowest, error = (np.full(shape, np.nan) for _ in range(3))
    weights = [
        np.where(np.isfinite(laid.lab[..., 0]), 1 / np.maximum(laid.error, 0.05) ** 2, 0.0) for laid in plan.maps
    ]
    for laid, weight in zip(plan.maps, weights, strict=True):
        part = laid.part
        total[part] += weight
        times[part] += weight > 0
        mean[part] += np.nan_to_num(laid.lab) * weight[..., None]
        highest[part] = np.fmax(highest[part], laid.lab[..., 0])
        lowest[part] = np.fmin(lowest[part], laid.lab[..., 0])
        error[part] = np.fmax(error[part], laid.error)
    mean /= np.maximum(total, 1e-9)[..., None]
    typical = np.nanmedian(mean[total > 0], axis=0)
    differ = (times >= 2) & (highest - lowest > np.maximum(MOVED_L, 3 * error))
    turned = differ & (highest - typical[0] > MOVED_L / 2) & (typical[0] - lowest > MOVED_L / 2)
    moved = differ & ~turned
    lab = np.where(moved[..., None], _calmest(plan, weights, typical), mean)
    lab[total == 0] = np.nan
    cell_ft2 = plan.grid.width_ft * plan.grid.length_ft / times.size
    seen, over, one_only = (float(cells.sum()) * cell_ft2 for cells in (times >= 2, turned, moved))
    return lab, Moved(seen, over, one_only)


def _calmest(plan: PlanMaps, weights: Sequence[Array], typical: Array) -> Array:
    """Return in each cell the shade of the photo that is nearest to the typical lightness, shape (rows, cols, 3)."""
    nearest = np.full((plan.grid.rows, plan.grid.cols), np.inf)
    calmest = np.full((*nearest.shape, 3), np.nan)
    for laid, weight in zip(plan.maps, weights, strict=True):
        away = np.where(weight > 0, np.abs(laid.lab[..., 0] - typical[0]), np.inf)
        nearer = away < nearest[laid.part]
        calmest[laid.part][nearer] = laid.lab[nearer]
        nearest[laid.part][nearer] = away[nearer]
    return calmest


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
        patches=tuple(
            _on_plan(patch, plan.origin_ft)
            for patch in describe_patches(numbers, lab, figures.typical_lab, used, plan.grid)
        ),
    )


def _on_plan(patch: Patch, origin_ft: tuple[float, float]) -> Patch:
    """Return a patch whose places count from the plan's origin, not from the first corner that a photo shows."""
    x_ft, y_ft = origin_ft
    return patch.model_copy(
        update={
            "x_ft": round(patch.x_ft + x_ft, 2),
            "y_ft": round(patch.y_ft + y_ft, 2),
            "outline_ft": tuple((round(x + x_ft, 2), round(y + y_ft, 2)) for x, y in patch.outline_ft),
        }
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
