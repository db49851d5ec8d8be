"""How sure the map and its headline numbers are."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.color import color_difference, lab_from_linear, light_from_log, linear_from_lab, log_light
from finishadvisor.evenness.figures import MEAN_IN, Figures, figures_of, window_of
from finishadvisor.evenness.gate import cell_grain
from finishadvisor.evenness.level import Leveled
from finishadvisor.evenness.profile import srgb_encoded
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.separate import Separated
from finishadvisor.evenness.smooth import block_means

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

CODE_ERROR: Final = 0.3
"""Codes by which compressed pictures miss a color over a few inches."""
ENCODED_SLOPE: Final = 2.2
"""d ln light / d ln code of sRGB over most of its range."""
LIGHT_FLOOR_L: Final = 0.35
SPREAD_FACTOR: Final = 1.5
"""The forms of the field err alike in part: their spread is taken half as large again."""
UNKNOWN_LEVELS_L: Final = (32.0, 62.0)
"""Between these lies the lightness of nearly every slab; differences shrink and grow with it."""


TONE_SHARE: Final = {"sheet": 0.12, "stated": 0.15, "assumed": 0.2}
"""Share of a difference that the camera's tone curve and the level leave open, by where the level came from."""


_HEADLINES: Final[tuple[Callable[[Figures], float], ...]] = (
    lambda figures: figures.share_over[3],
    lambda figures: figures.p95_de00,
    lambda figures: figures.index,
)


@dataclass(frozen=True)
class Doubt:
    """Standard deviations.

    Attributes:
        cell_noise: of the 3 in mean at a cell, from texture and grain alone [L*].
        light: of the lighting field at the blocks [L*], shape (rows, cols).
        share_over_3: of the share of cells that differ by more than 3.
        p95_de00: of the 95th percentile.
        index: of the index.
    """

    cell_noise: float
    light: Array
    share_over_3: float
    p95_de00: float
    index: float


def doubt_of(leveled: Leveled, separated: Separated, used: Mask, grid: Grid, photographed: Array) -> Doubt:
    """Return how sure a map is: from grain, other forms of the lighting, an unknown level, and coarse color codes.

    Args:
        leveled: the shade at its level.
        separated: the shade and its lighting.
        used: True for cells that count.
        grid: the cells.
        photographed: linear light of the cells as photographed, shape (rows, cols, 3).
    """
    code = _color_step(np.median(leveled.balance[used], axis=0), photographed[used])
    grain = cell_grain(leveled.lab[:, :, 0], used)
    blocks, kept = block_means(leveled.balance, used, separated.blocks.size)
    kept = kept & separated.blocks.used
    here = _figures(blocks, kept)
    others = [_figures(blocks - change, kept) for change in separated.others]
    levels = [_figures(_at_level(blocks, kept, level), kept) for level in _levels(leveled)]
    slope = (here.typical_lab[0] + 16) / 3
    spread = np.sqrt((separated.others[..., 0] ** 2).mean(axis=0)) if others else np.zeros(kept.shape)
    every = (here, *others)
    floors = (0.008 * (1 + code), float(np.hypot(0.2, code)), float(np.hypot(0.06, 0.4 * code)))
    share, p95, index = (
        _sigma([get(f) for f in every], [get(f) for f in levels], floor, open_share)
        for get, floor, open_share in zip(_HEADLINES, floors, (0.2, 0.12, 0.12), strict=True)
    )
    return Doubt(
        cell_noise=grain / window_of(MEAN_IN, grid.cell_in),
        light=np.sqrt(LIGHT_FLOOR_L**2 + (SPREAD_FACTOR * spread * slope) ** 2),
        share_over_3=share,
        p95_de00=p95,
        index=index,
    )


def _color_step(middle: Array, photographed: Array) -> float:
    """Return CIEDE2000 of a color error of part of a code in the slab's darker parts.

    Args:
        middle: log brightness, ln R/G, ln B/G of the typical shade.
        photographed: linear light, shape (cells, 3).
    """
    dark = np.maximum(np.percentile(photographed, 25, axis=0), 1e-4)
    off = CODE_ERROR / (255 * srgb_encoded(dark)) * ENCODED_SLOPE
    light = light_from_log(middle)
    shifted = light * (1 + off * np.array([1.0, -0.5, 1.0]))
    return float(color_difference(lab_from_linear(light), lab_from_linear(shifted)))


def _levels(leveled: Leveled) -> tuple[float, ...]:
    return UNKNOWN_LEVELS_L if leveled.level == "assumed" else ()


def _figures(balance: Array, used: Mask) -> Figures:
    return figures_of(lab_from_linear(light_from_log(balance)), used)


def _at_level(balance: Array, used: Mask, lightness: float) -> Array:
    """Return the shade moved so that its median has the given lightness."""
    middle = np.median(balance[used], axis=0)
    has = float(lab_from_linear(light_from_log(middle))[0])
    wanted, now = (log_light(linear_from_lab(np.array([value, 0.0, 0.0])))[0] for value in (lightness, max(has, 1.0)))
    return np.asarray(balance + np.array([wanted - now, 0.0, 0.0]))


def _sigma(forms: list[float], levels: list[float], floor: float, share: float) -> float:
    """Return a standard deviation: floor, a share of the value (tone curve), the forms' spread, half the levels' range.

    Args:
        forms: the figure under the field used (first) and the other forms.
        levels: the figure at the ends of an unknown level; empty where it is known.
        floor: least standard deviation.
        share: share of the figure that the camera's tone curve leaves open.
    """
    by_form = (
        SPREAD_FACTOR * float(np.sqrt(np.mean([(value - forms[0]) ** 2 for value in forms[1:]]))) if forms[1:] else 0
    )
    by_level = (max(*levels, forms[0]) - min(*levels, forms[0])) / 2 if levels else 0.0
    return float(np.sqrt(floor**2 + (share * forms[0]) ** 2 + by_form**2 + by_level**2))
