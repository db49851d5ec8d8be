"""From the slab's shade to the record that is printed and the map that is drawn."""

from typing import Final, Literal, cast

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.figures import (
    GRADE_MEAN_IN,
    figures_from,
    figures_of,
    grade_of,
    judged_shade,
    mean_shade,
    mottling,
    two_shades,
    typical_of,
)
from finishadvisor.evenness.look import Slab
from finishadvisor.evenness.patches import describe_patches, has_straight_step, patch_cells
from finishadvisor.evenness.picture import squared_up
from finishadvisor.evenness.sample import Grid, grid_over, resampled
from finishadvisor.evenness.separate import Separated
from finishadvisor.evenness.uncertainty import TONE_SHARE, Doubt, doubt_of
from finishadvisor.evenness.words import CAVEAT_SENTENCES, Caveat, Masked
from finishadvisor.records.evenness import Evenness, Lighting, ScaleSteps, Sigma
from finishadvisor.records.shade import Measurement, ShadeMap

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Lab = tuple[float, float, float]
Picture = NDArray[np.uint8]

NO_PICTURE: Final = np.zeros((0, 0, 3), dtype=np.uint8)
WET_RING_IN: Final = 8.0


def measurement_of(name: str, slab: Slab, cell_in: float, *, with_picture: bool = True) -> Measurement:
    """Return the record and the map of a slab, the map on cells of the asked size, its picture where asked for."""
    grid, used = slab.view.grid, slab.masks.used
    lab = judged_shade(slab.leveled.lab, used, grid.cell_in)
    six_in = mean_shade(slab.leveled.lab, used, grid.cell_in, GRADE_MEAN_IN)
    shades = two_shades(six_in, used)
    typical = typical_of(lab, used) if shades is None else shades[0]
    judged = used & np.isfinite(lab).all(axis=2)  # a lone cell among masked ones has no mean to be judged by
    de00 = np.where(judged, color_difference(np.nan_to_num(lab), typical), np.nan)
    figures = figures_from(de00, typical)
    coarse = figures_of(six_in[::2, ::2], used[::2, ::2], typical if shades is not None else None)
    doubt = doubt_of(slab.leveled, slab.separated, used, grid, slab.view.light.rgb)
    numbers = patch_cells(de00, used, grid, doubt.cell_noise)
    patches = describe_patches(numbers, lab, figures.typical_lab, used, grid)
    caveats = slab.caveats if shades is None else (*slab.caveats, Caveat.TWO_SHADES)
    if has_straight_step(numbers, patches, used, grid):
        caveats = (*caveats, Caveat.STEP_OR_SHADOW)
    lowest, highest = (grade_of(max(0.0, coarse.index + sign * doubt.index)) for sign in (-1, 1))
    evenness = Evenness(
        photo=name,
        warnings=tuple(CAVEAT_SENTENCES[caveat] for caveat in caveats),
        caveats=tuple(caveat.value for caveat in caveats),
        grade=grade_of(coarse.index).value,
        grade_range=(lowest.value, highest.value),
        typical_lab=_rounded_lab(figures.typical_lab),
        second_lab=None if shades is None else _rounded_lab(shades[1]),
        level=slab.leveled.level,
        share_over={cast('Literal["2", "3", "5"]', str(k)): round(v, 4) for k, v in figures.share_over.items()},
        p95_de00=round(figures.p95_de00, 3),
        index=round(figures.index, 3),
        sigma=_sigma(doubt),
        measured_share=round(float(used.mean()), 4),
        lighting=_lighting(slab.separated, figures.typical_lab),
        masked={reason: round(share, 4) for reason, share in slab.masks.shares().items()},
        scale_steps=_scale_steps(six_in, used),
        patches=patches,
    )
    picture = squared_up(slab.view.photo, slab.view.plane) if with_picture else NO_PICTURE
    return Measurement(evenness, _shade_map(slab, np.dstack([lab, de00]), typical, doubt, cell_in, picture=picture))


def _sigma(doubt: Doubt) -> Sigma:
    return Sigma(
        share_over_3=round(doubt.share_over_3, 4), p95_de00=round(doubt.p95_de00, 3), index=round(doubt.index, 3)
    )


def _rounded_lab(lab: Array) -> tuple[float, float, float]:
    return (round(float(lab[0]), 2), round(float(lab[1]), 2), round(float(lab[2]), 2))


def _lighting(separated: Separated, typical: Array) -> Lighting:
    return Lighting(
        ratio=round(float(np.exp(separated.spread)), 2),
        taken_as_light_L=round(separated.taken * (float(typical[0]) + 16) / 3, 1),
        weakened_beyond_ft=separated.weakened_beyond_ft,
    )


def _scale_steps(lab: Array, used: Mask) -> ScaleSteps:
    """Return the span from dark to light in steps of two published scales."""
    span = float(np.subtract(*np.nanpercentile(lab[:, :, 0][used], [97.5, 2.5])))
    return ScaleSteps(
        cib=round(span / evenness_limit("cib-step"), 2), belgian=round(span / evenness_limit("belgian-step"), 2)
    )


def _error_map(doubt: Doubt, slab: Slab, wanted: Grid, away: Array) -> Array:
    """Return the standard error of L* at each cell of the wanted grid: lighting, grain, tone and level together.

    Args:
        doubt: what is open.
        slab: the slab.
        wanted: the grid.
        away: difference of L* from the typical one at each cell, shape (rows, cols).
    """
    blocks = slab.separated.blocks
    every = np.ones(blocks.used.shape, dtype=np.bool_)
    light, _ = resampled(doubt.light[:, :, None], every, blocks.grid, wanted)
    tone = TONE_SHARE[slab.leveled.level] * np.nan_to_num(away)
    return np.asarray(np.sqrt(light[:, :, 0] ** 2 + doubt.cell_noise**2 + tone**2 + _sun_error(slab, wanted) ** 2))


def _sun_error(slab: Slab, wanted: Grid) -> Array | float:
    """Return the standard error of L* that taking out sun and shade adds at each cell of the wanted grid."""
    if slab.sun is None:
        return 0.0
    per_log_light = (np.nanmedian(slab.leveled.lab[slab.masks.used][:, 0]) + 16) / 3
    error, _ = resampled(slab.sun.error[:, :, None], np.ones(slab.sun.error.shape, np.bool_), slab.view.grid, wanted)
    return np.asarray(error[:, :, 0] * per_log_light)


def _wet_ratio(slab: Slab) -> float | None:
    """Return how much of the dry slab's light a wetted patch keeps: medians of the patch and of a ring around it."""
    from scipy.ndimage import binary_dilation

    wet = slab.masks.reasons.get(Masked.WET)
    if wet is None:
        return None
    reach = max(1, round(WET_RING_IN / slab.view.grid.cell_in))
    ring = binary_dilation(wet, np.ones((3, 3)), iterations=reach) & slab.masks.used
    if not ring.any():
        return None
    brightness = slab.separated.shade[:, :, 0]
    return round(float(np.exp(np.median(brightness[wet]) - np.median(brightness[ring]))), 3)


def _shade_map(
    slab: Slab, values: Array, typical: Array, doubt: Doubt, cell_in: float, *, picture: Picture
) -> ShadeMap:
    """Return the map on cells of the asked size: the 3 in mean at each cell's center.

    Args:
        slab: the slab.
        values: CIELAB of the 3 in mean and CIEDE2000, shape (rows, cols, 4).
        typical: the typical shade.
        doubt: what is open.
        cell_in: side of the cells asked for.
        picture: the squared-up photo.
    """
    plane = slab.view.plane
    grid = grid_over(plane.width_ft, plane.length_ft, cell_in)
    seen = slab.masks.used & np.isfinite(values).all(axis=2)
    values, used = resampled(values, seen, slab.view.grid, grid)
    lab = values[:, :, :3]
    return ShadeMap(
        cell_in=cell_in,
        width_ft=plane.width_ft,
        length_ft=plane.length_ft,
        lab=lab,
        de00=values[:, :, 3],
        used=used,
        typical_lab=_rounded_lab(typical),
        error_L=_error_map(doubt, slab, grid, lab[:, :, 0] - typical[0]),
        wet_ratio=_wet_ratio(slab),
        mottling_L=round(mottling(slab.leveled.lab, slab.masks.used, slab.view.grid.cell_in), 3),
        picture=picture,
    )
