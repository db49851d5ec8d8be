"""From a decoded photo to the slab's own shade: sampling, gates, masks, light, level, in their order."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishadvisor.evenness import gate
from finishadvisor.evenness.color import color_difference, light_from_log, log_light
from finishadvisor.evenness.figures import MEAN_IN, mean_shade, typical_of
from finishadvisor.evenness.glare import glare_cells
from finishadvisor.evenness.level import Leveled, set_level
from finishadvisor.evenness.lines import joint_and_crack_cells
from finishadvisor.evenness.marks import PhotoMarks
from finishadvisor.evenness.masks import Masks, first_masks, object_cells
from finishadvisor.evenness.outline import outline_width_px
from finishadvisor.evenness.photo import Photo, RefusedError
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import CellLight, Grid, grid_over, sample_cells
from finishadvisor.evenness.separate import MEDIUM, Separated, separate, settle
from finishadvisor.evenness.sun import SunPattern, find_sun_pattern
from finishadvisor.evenness.words import Caveat, Masked, Refusal

Lab = tuple[float, float, float]

FINE_CELL_IN: Final = 1.0
COARSE_CELL_IN: Final = 3.0
MOST_FINE_FT2: Final = 1200.0
"""Beyond this area cells are 3 in wide, still the mean that shade is judged on."""
MOST_CELLS: Final = 200_000
LEAST_USED: Final = 0.05
"""Share of cells below which no light can be fitted."""


@dataclass(frozen=True)
class View:
    """A photo with its marks, looked up cell by cell."""

    photo: Photo
    plane: Plane
    grid: Grid
    light: CellLight
    marks: PhotoMarks
    stated_lab: Lab | None


@dataclass(frozen=True)
class Slab:
    """What was found out about the slab in one photo."""

    view: View
    masks: Masks
    separated: Separated
    leveled: Leveled
    caveats: tuple[Caveat, ...]
    sun: SunPattern | None = None


def cell_in_for(area_ft2: float) -> float:
    """Return the side of the cells [in] that a slab is measured on: 1 in, 3 in on large slabs, more on whole lots."""
    if area_ft2 <= MOST_FINE_FT2:
        return FINE_CELL_IN
    return max(COARSE_CELL_IN, 12 * math.sqrt(area_ft2 / MOST_CELLS))


def look_at(photo: Photo, plane: Plane, marks: PhotoMarks, stated_lab: Lab | None) -> Slab:
    """Return the slab's shade and all that was left out.

    Raises:
        RefusedError: the photo fails a gate.
    """
    grid = grid_over(plane.width_ft, plane.length_ft, cell_in_for(plane.width_ft * plane.length_ft))
    light = sample_cells(photo, plane, grid)
    view = View(photo, plane, grid, light, marks, stated_lab)
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
    separated = _separated(view, masks, sun)
    leveled = _leveled(view, masks, sun, separated)
    typical = typical_of(leveled.lab, masks.used)
    calm = mean_shade(leveled.lab, masks.used, grid.cell_in, MEAN_IN)
    glare = glare_cells(calm[:, :, 0], float(typical[0]), masks.used, grid, plane)
    away = color_difference(np.where(np.isfinite(calm), calm, typical), typical)
    objects, strips = object_cells(away, leveled.lab, masks.used)
    masks.leave_out(Masked.RIM, strips)
    masks.leave_out(Masked.GLARE, glare)
    if sun is None or not sun.dappled:
        masks.leave_out(Masked.OBJECT, objects)
    if strips.any() or glare.any() or objects.any():
        separated = _separated(view, masks, sun)
    if sun is None or not sun.dappled:  # there the values bear the error of the share of sun
        separated = settle(separated, grid, plane)
    leveled = _leveled(view, masks, sun, separated)
    caveats += _pass(gate.judge_coverage(masks.shares(), float(masks.used.mean())))
    caveats += _pass(gate.judge_light(float(np.exp(separated.spread))))
    return Slab(view, masks, separated, leveled, (*caveats, *leveled.caveats), sun)


def _separated(view: View, masks: Masks, sun: SunPattern | None) -> Separated:
    if sun is None:
        return separate(view.light.rgb, masks.used, view.grid, view.plane)
    rgb = light_from_log(log_light(view.light.rgb) - sun.field)
    return separate(rgb, masks.used, view.grid, view.plane, MEDIUM if sun.dappled else None)


def _leveled(view: View, masks: Masks, sun: SunPattern | None, separated: Separated) -> Leveled:
    return set_level(
        view.photo,
        view.plane,
        view.grid,
        separated,
        used=masks.used,
        sheets=() if sun is not None and sun.dappled else view.marks.sheets,
        stated_lab=view.stated_lab,
        sun=sun,
    )


def _pass(answers: gate.Answers) -> list[Caveat]:
    """Return the caveats of a gate.

    Raises:
        RefusedError: the gate refuses the photo.
    """
    refusals, caveats = answers
    if refusals:
        raise RefusedError(tuple(refusals))
    return caveats
