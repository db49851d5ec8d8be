"""Which photos are refused, and which caveats the others bear."""

import math

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import lab_from_linear
from finishadvisor.evenness.sample import CellLight, Grid
from finishadvisor.evenness.smooth import masked_mean, robust_sd
from finishadvisor.evenness.words import Caveat, Masked, Refusal

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Answers = tuple[list[Refusal], list[Caveat]]


def judge_view(light: CellLight) -> Answers:
    """Return refusals and caveats that follow from how the slab lies in the frame."""
    seen = light.in_frame & np.isfinite(light.px_per_in[:, :, 0])
    if not seen.any():
        return [Refusal.TOO_LITTLE_SLAB], []
    least, greatest = light.px_per_in[seen][:, 0], light.px_per_in[seen][:, 1]
    per_in2 = float(np.median(least * greatest))
    far = float(np.percentile(least, 2))
    angle_deg = np.degrees(np.arcsin(np.clip(least / np.maximum(greatest, 1e-9), 0, 1)))
    flat_share = float((angle_deg < evenness_limit("gate-view-deg")).mean())
    refusals, caveats = [], []
    if float(np.median(angle_deg)) < evenness_limit("gate-view-refuse-deg"):
        refusals.append(Refusal.VIEW_TOO_FLAT)
    elif per_in2 < evenness_limit("gate-pixels-refuse") or far < evenness_limit("gate-scale-refuse"):
        refusals.append(Refusal.TOO_FEW_PIXELS)
    if per_in2 < evenness_limit("gate-pixels-caveat") or far < evenness_limit("gate-scale-caveat"):
        caveats.append(Caveat.SMALL_PIXEL_COUNT)
    if flat_share > evenness_limit("gate-view-caveat-share"):
        caveats.append(Caveat.FLAT_VIEW)
    return refusals, caveats


def judge_exposure(light: CellLight, used: Mask, grid: Grid) -> Answers:
    """Return refusals and caveats that follow from how the slab is exposed."""
    slab = light.in_frame
    blown = float(light.blown[slab].mean()) if slab.any() else 0.0
    refusals, caveats = [], []
    if blown > evenness_limit("gate-blown-refuse"):
        return [Refusal.BLOWN_OUT], []
    if blown > evenness_limit("gate-blown-caveat"):
        caveats.append(Caveat.PARTLY_BLOWN_OUT)
    if not used.any():
        median = float(np.median(lab_from_linear(light.rgb[slab])[:, 0])) if slab.any() else 0.0
        dark = median < evenness_limit("gate-dark-refuse")
        return [Refusal.TOO_DARK if dark else Refusal.TOO_LITTLE_SLAB], []
    lightness = lab_from_linear(light.rgb)[:, :, 0]
    median = float(np.median(lightness[used]))
    if median < evenness_limit("gate-dark-refuse"):
        refusals.append(Refusal.TOO_DARK)
    elif median < evenness_limit("gate-dark-caveat"):
        caveats.append(Caveat.DARK)
    grain = cell_grain(lightness, used) * grid.cell_in
    if grain > evenness_limit("gate-grain-refuse"):
        refusals.append(Refusal.TOO_GRAINY)
    elif grain > evenness_limit("gate-grain-caveat"):
        caveats.append(Caveat.GRAINY)
    return refusals, caveats


def cell_grain(values: Array, used: Mask) -> float:
    """Return the robust spread of single cells about their 3 x 3 mean."""
    return robust_sd((values - masked_mean(values, used, 3))[used]) * math.sqrt(9 / 8)


def judge_outline(width_px: float | None, light: CellLight) -> Answers:
    """Return refusals and caveats that follow from how sharp the slab's outline is; None: it could not be judged."""
    if width_px is None:
        return [], []
    px_per_in = float(np.nanmedian(np.sqrt(light.px_per_in[:, :, 0] * light.px_per_in[:, :, 1])))
    if width_px > evenness_limit("gate-edge-refuse") or width_px / px_per_in > evenness_limit("gate-blur-in"):
        return [Refusal.BLURRED], []
    return [], [Caveat.SOFT_FOCUS] if width_px > evenness_limit("gate-edge-caveat") else []


def judge_coverage(shares: dict[str, float], measured_share: float) -> Answers:
    """Return refusals and caveats that follow from what had to be left out."""
    refusals, caveats = [], []
    asked = shares.get(Masked.LEFT_OUT, 0.0) + shares.get(Masked.OUT_OF_FRAME, 0.0) + shares.get(Masked.WET, 0.0)
    wanted = max(1.0 - asked, 1e-6)
    if measured_share / wanted < evenness_limit("gate-measured-refuse"):
        refusals.append(Refusal.TOO_LITTLE_SLAB)
    elif measured_share / wanted < evenness_limit("gate-measured-caveat"):
        caveats.append(Caveat.PARTLY_MEASURED)
    if shares.get(Masked.OBJECT, 0.0) > evenness_limit("gate-objects-caveat"):
        caveats.append(Caveat.OBJECTS_LEFT_OUT)
    if shares.get(Masked.GLARE, 0.0) > 0:
        caveats.append(Caveat.GLARE_LEFT_OUT)
    return refusals, caveats


def judge_light(ratio: float) -> Answers:
    """Return refusals and caveats that follow from how steeply the light falls off."""
    if ratio > evenness_limit("gate-light-ratio-refuse"):
        return [Refusal.LIGHT_TOO_UNEVEN], []
    return [], [Caveat.LIGHT_STEEP] if ratio > evenness_limit("gate-light-ratio-caveat") else []


def judge_days(days_old: int | None, days_since_wet: int | None) -> list[Caveat]:
    """Return caveats that follow from the slab's age and its last wetting."""
    caveats = []
    if days_old is not None and days_old < evenness_limit("young-slab-days"):
        caveats.append(Caveat.YOUNG_SLAB)
    if days_since_wet is not None and days_since_wet < evenness_limit("wetted-days"):
        caveats.append(Caveat.WETTED_LATELY)
    return caveats
