"""One photo to one measurement: the chain from file to grade."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final, Literal, cast

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.errors import UsageError
from finishadvisor.evenness import gate
from finishadvisor.evenness.color import color_difference, light_from_log, log_light
from finishadvisor.evenness.figures import (
    GRADE_MEAN_IN,
    MEAN_IN,
    figures_of,
    grade_of,
    mean_shade,
    mottling,
    two_shades,
    typical_of,
)
from finishadvisor.evenness.glare import glare_cells
from finishadvisor.evenness.level import Leveled, set_level
from finishadvisor.evenness.lines import joint_and_crack_cells
from finishadvisor.evenness.marks import PhotoMarks, check_marks
from finishadvisor.evenness.masks import Masks, first_masks, object_cells
from finishadvisor.evenness.outline import outline_width_px
from finishadvisor.evenness.patches import describe_patches, has_straight_step, patch_cells
from finishadvisor.evenness.photo import Photo, RefusedError, picture_size, read_photo
from finishadvisor.evenness.picture import squared_up
from finishadvisor.evenness.plane import Plane, plane_of
from finishadvisor.evenness.sample import CellLight, Grid, grid_over, resampled, sample_cells
from finishadvisor.evenness.separate import MEDIUM, Separated, separate
from finishadvisor.evenness.sun import SunPattern, find_sun_pattern
from finishadvisor.evenness.uncertainty import TONE_SHARE, Doubt, doubt_of
from finishadvisor.evenness.words import CAVEAT_SENTENCES, Caveat, Masked, Refusal
from finishadvisor.records.evenness import Evenness, Lighting, ScaleSteps, Sigma
from finishadvisor.records.shade import Measurement, ShadeMap

__all__ = ["PhotoMarks", "measure"]

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Lab = tuple[float, float, float]

FINE_CELL_IN: Final = 1.0
COARSE_CELL_IN: Final = 3.0
MOST_FINE_FT2: Final = 1200.0
"""Beyond this area cells are 3 in wide, still the mean that shade is judged on."""
LEAST_CELL_IN: Final = 0.25
MOST_CELL_IN: Final = 24.0
MOST_MAP_CELLS: Final = 2_000_000
WET_RING_IN: Final = 8.0
LEAST_USED: Final = 0.05
"""Share of cells below which no light can be fitted."""


@dataclass(frozen=True)
class _View:
    """A photo with its marks, looked up cell by cell."""

    photo: Photo
    plane: Plane
    grid: Grid
    light: CellLight
    marks: PhotoMarks
    stated_lab: Lab | None


@dataclass(frozen=True)
class _Slab:
    """What was found out about the slab in one photo."""

    view: _View
    masks: Masks
    separated: Separated
    leveled: Leveled
    caveats: tuple[Caveat, ...]


def measure(
    photo: Path,
    marks: PhotoMarks,
    *,
    cell_in: float = 1.0,
    stated_lab: Lab | None = None,
    days_old: int | None = None,
    days_since_wet: int | None = None,
) -> Measurement:
    """Measure how even the shade of the slab in one photo is.

    Args:
        photo: the picture file.
        marks: corners or known points, size, cards, polygons.
        cell_in: side of the cells of the returned map [in]; the figures do not depend on it.
        stated_lab: the slab's typical shade as the user states it, CIELAB.
        days_old: age of the slab when photographed.
        days_since_wet: days since it was last wetted.

    Returns:
        The measurement; a refused photo has the refusal ids, no figures and no map.

    Raises:
        UsageError: the marks cannot be meant (crossed corners, outside the frame, zero or missing size), or the cells
            would be too small or too large.
    """
    try:
        width_px, height_px = picture_size(photo)
        decoded = read_photo(photo)  # before the marks: a photo that cannot be read is refused whatever is marked on it
        check_marks(marks, width_px, height_px)
        plane = plane_of(marks, width_px, height_px)
        _check_cell(cell_in, plane)
        slab = _look(decoded, plane, marks, stated_lab)
    except RefusedError as refused:
        return Measurement(refused_evenness(photo.name, refused), None)
    caveats = (*decoded.caveats, *slab.caveats, *gate.judge_days(days_old, days_since_wet))
    return _measurement(photo.name, replace(slab, caveats=tuple(dict.fromkeys(caveats))), cell_in)


def refused_evenness(name: str, refused: RefusedError) -> Evenness:
    """Return the record of a refused photo."""
    return Evenness(photo=name, refused=tuple(refusal.value for refusal in refused.refusals), warnings=(str(refused),))


def _check_cell(cell_in: float, plane: Plane) -> None:
    """Refuse cells that make no map.

    Raises:
        UsageError: the cells are too small or too large for the slab.
    """
    cells = plane.width_ft * plane.length_ft * 144 / cell_in**2 if cell_in > 0 else float("inf")
    if not LEAST_CELL_IN <= cell_in <= MOST_CELL_IN or cells > MOST_MAP_CELLS:
        raise UsageError(
            f"The cell is {cell_in:g} in; it must lie between {LEAST_CELL_IN:g} and {MOST_CELL_IN:g} in and make no "
            f"more than {MOST_MAP_CELLS:,} cells. 1 in serves most slabs."
        )


def _look(photo: Photo, plane: Plane, marks: PhotoMarks, stated_lab: Lab | None) -> _Slab:
    """Return the slab's shade and all that was left out.

    Raises:
        RefusedError: the photo fails a gate.
    """
    area_ft2 = plane.width_ft * plane.length_ft
    grid = grid_over(plane.width_ft, plane.length_ft, FINE_CELL_IN if area_ft2 <= MOST_FINE_FT2 else COARSE_CELL_IN)
    light = sample_cells(photo, plane, grid)
    view = _View(photo, plane, grid, light, marks, stated_lab)
    masks = first_masks(light, marks, plane, grid)
    caveats = _pass(gate.judge_view(light))
    caveats += _pass(gate.judge_exposure(light, masks.used, grid))
    caveats += _pass(gate.judge_outline(outline_width_px(photo, plane) if marks.corners else None, light))
    brightness = log_light(light.rgb)[:, :, 0]
    masks.leave_out(Masked.JOINT_OR_CRACK, joint_and_crack_cells(brightness, light, masks.used, grid))
    if masks.used.mean() < LEAST_USED:
        raise RefusedError((Refusal.TOO_LITTLE_SLAB,))
    sun = find_sun_pattern(light.rgb, masks.used, grid, plane)
    if sun is not None:
        masks.leave_out(Masked.SHADOW_EDGE, sun.border)
        caveats.append(Caveat.DAPPLED_LIGHT if sun.dappled else Caveat.SHADOW_REMOVED)
    separated, leveled = _shade(view, masks, sun)
    typical = typical_of(leveled.lab, masks.used)
    calm = mean_shade(leveled.lab, masks.used, grid.cell_in, MEAN_IN)
    glare = glare_cells(calm[:, :, 0], float(typical[0]), masks.used, grid, plane)
    objects, strips = object_cells(color_difference(np.nan_to_num(calm), typical), leveled.lab, masks.used)
    masks.leave_out(Masked.RIM, strips)
    masks.leave_out(Masked.GLARE, glare)
    if sun is None or not sun.dappled:
        masks.leave_out(Masked.OBJECT, objects)
    if strips.any() or glare.any() or objects.any():
        separated, leveled = _shade(view, masks, sun)
    caveats += _pass(gate.judge_coverage(masks.shares(), float(masks.used.mean())))
    caveats += _pass(gate.judge_light(float(np.exp(separated.spread))))
    return _Slab(view, masks, separated, leveled, (*caveats, *leveled.caveats))


def _shade(view: _View, masks: Masks, sun: SunPattern | None) -> tuple[Separated, Leveled]:
    if sun is None:
        separated = separate(view.light.rgb, masks.used, view.grid, view.plane)
    else:
        rgb = light_from_log(log_light(view.light.rgb) - sun.field)
        separated = separate(rgb, masks.used, view.grid, view.plane, MEDIUM if sun.dappled else None)
    leveled = set_level(
        view.photo,
        view.plane,
        view.grid,
        separated,
        used=masks.used,
        sheets=() if sun is not None and sun.dappled else view.marks.sheets,
        stated_lab=view.stated_lab,
    )
    return separated, leveled


def _pass(answers: gate.Answers) -> list[Caveat]:
    """Return the caveats of a gate.

    Raises:
        RefusedError: the gate refuses the photo.
    """
    refusals, caveats = answers
    if refusals:
        raise RefusedError(tuple(refusals))
    return caveats


def _measurement(name: str, slab: _Slab, cell_in: float) -> Measurement:
    grid, used = slab.view.grid, slab.masks.used
    lab = mean_shade(slab.leveled.lab, used, grid.cell_in, MEAN_IN)
    six_in = mean_shade(slab.leveled.lab, used, grid.cell_in, GRADE_MEAN_IN)
    shades = two_shades(six_in, used)
    figures = figures_of(lab, used, None if shades is None else shades[0])
    doubt = doubt_of(slab.leveled, slab.separated, used, grid)
    coarse = figures_of(six_in, used, None if shades is None else shades[0])
    de00 = np.where(used, color_difference(np.nan_to_num(lab), figures.typical_lab), np.nan)
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
        sigma=Sigma(
            share_over_3=round(doubt.share_over_3, 4), p95_de00=round(doubt.p95_de00, 3), index=round(doubt.index, 3)
        ),
        measured_share=round(float(used.mean()), 4),
        lighting=_lighting(slab.separated, figures.typical_lab),
        masked={reason: round(share, 4) for reason, share in slab.masks.shares().items()},
        scale_steps=_scale_steps(six_in, used),
        patches=patches,
    )
    return Measurement(evenness, _shade_map(slab, lab, figures.typical_lab, doubt, cell_in))


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


def _error_map(doubt: Doubt, slab: _Slab, wanted: Grid, away: Array) -> Array:
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
    return np.asarray(np.sqrt(light[:, :, 0] ** 2 + doubt.cell_noise**2 + tone**2))


def _wet_ratio(slab: _Slab) -> float | None:
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


def _shade_map(slab: _Slab, lab: Array, typical: Array, doubt: Doubt, cell_in: float) -> ShadeMap:
    """Return the map on cells of the asked size: the 3 in mean at each cell's center."""
    plane = slab.view.plane
    grid = grid_over(plane.width_ft, plane.length_ft, cell_in)
    lab, used = resampled(lab, slab.masks.used & np.isfinite(lab).all(axis=2), slab.view.grid, grid)
    return ShadeMap(
        cell_in=cell_in,
        width_ft=plane.width_ft,
        length_ft=plane.length_ft,
        lab=lab,
        de00=np.where(used, color_difference(np.nan_to_num(lab), typical), np.nan),
        used=used,
        typical_lab=_rounded_lab(typical),
        error_L=_error_map(doubt, slab, grid, lab[:, :, 0] - typical[0]),
        wet_ratio=_wet_ratio(slab),
        mottling_L=round(mottling(slab.leveled.lab, slab.masks.used, slab.view.grid.cell_in), 3),
        picture=squared_up(slab.view.photo, plane),
    )
