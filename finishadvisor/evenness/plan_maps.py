"""Shade maps of several photos laid on one floor plan, and their levels matched."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.sample import Grid
from finishadvisor.job.document import Photo
from finishadvisor.records.shade import ShadeMap

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

PLAN_CELL_FT: Final = 0.25
FEWEST_SHARED: Final = 30
"""Cells that two photos must share, about 2 ft², before their levels are matched."""
CARD_LEVEL_L: Final = 1.0
"""How near cards in both photos bring two levels [L*]; an overlap is nearer."""
OVERLAP_LEVEL_L: Final = 0.3


@dataclass(frozen=True)
class PlanMaps:
    """Maps of several photos on one plan.

    Attributes:
        grid: the cells of the plan.
        origin_ft: the plan's own place of the grid's origin corner.
        lab: CIELAB by photo, not a number where it does not reach, shape (photos, rows, cols, 3).
        error: standard error of L*, shape (photos, rows, cols).
        group: number of the connected group that each photo belongs to; one group when all levels are matched.
    """

    grid: Grid
    origin_ft: tuple[float, float]
    lab: Array
    error: Array
    group: tuple[int, ...]


def lay_on_plan(maps: Sequence[ShadeMap], photos: Sequence[Photo]) -> PlanMaps:
    """Return the maps on one plan, their levels matched in overlaps and by cards.

    A photo without a place on the plan lies at the plan's origin.

    Args:
        maps: measured maps.
        photos: their photos, in the same order, with places on the plan.
    """
    outlines = [_outline(shade, photo) for shade, photo in zip(maps, photos, strict=True)]
    low, high = np.min([o.min(axis=0) for o in outlines], axis=0), np.max([o.max(axis=0) for o in outlines], axis=0)
    width_ft, length_ft = (float(side) for side in high - low)
    grid = Grid(max(1, round(length_ft / PLAN_CELL_FT)), max(1, round(width_ft / PLAN_CELL_FT)), width_ft, length_ft)
    laid = [_laid(shade, photo, grid, low) for shade, photo in zip(maps, photos, strict=True)]
    lab, error = (np.stack(part) for part in zip(*laid, strict=True))
    return PlanMaps(grid, (float(low[0]), float(low[1])), lab, error, tuple(range(len(maps))))


def match_levels(plan: PlanMaps, has_cards: Sequence[bool]) -> PlanMaps:
    """Return the maps moved so that they agree where they overlap; groups that share nothing keep their own level.

    Args:
        plan: maps on one plan.
        has_cards: by photo, whether its level rests on cards.
    """
    count = len(plan.lab)
    rows: list[Array] = []
    wanted: list[Array] = []
    group = list(range(count))
    for a in range(count):
        for b in range(a + 1, count):
            both = np.isfinite(plan.lab[a, :, :, 0]) & np.isfinite(plan.lab[b, :, :, 0])
            shared = int(both.sum()) >= FEWEST_SHARED
            if shared:
                difference = np.median(plan.lab[b][both] - plan.lab[a][both], axis=0)
                rows.append((_unit(count, a) - _unit(count, b)) / OVERLAP_LEVEL_L)
                wanted.append(difference / OVERLAP_LEVEL_L)
            if shared or (has_cards[a] and has_cards[b]):
                old, new = group[b], group[a]
                group = [new if number == old else number for number in group]
    for photo in range(count):
        near = CARD_LEVEL_L if has_cards[photo] else 100.0
        rows.append(_unit(count, photo) / near)
        wanted.append(np.zeros(3))
    moved, *_ = np.linalg.lstsq(np.array(rows), np.array(wanted), rcond=None)
    return PlanMaps(plan.grid, plan.origin_ft, plan.lab + moved[:, None, None, :], plan.error, tuple(group))


def _unit(count: int, index: int) -> Array:
    vector = np.zeros(count)
    vector[index] = 1.0
    return vector


def _axes(photo: Photo) -> Array:
    """Return the plan directions of a photo's two sides, rows of a matrix of shape (2, 2)."""
    turn = np.radians(photo.turned_deg)
    return np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])


def _place(photo: Photo) -> Array:
    return np.array(photo.origin_on_plan or (0.0, 0.0), dtype=np.float64)


def _outline(shade: ShadeMap, photo: Photo) -> Array:
    corners = np.array([(0, 0), (shade.width_ft, 0), (shade.width_ft, shade.length_ft), (0, shade.length_ft)])
    return np.asarray(corners @ _axes(photo) + _place(photo))


def _laid(shade: ShadeMap, photo: Photo, grid: Grid, low: Array) -> tuple[Array, Array]:
    """Return one map's CIELAB and standard error on the plan's cells."""
    x, y = grid.centers_ft()
    xx, yy = np.meshgrid(x + low[0], y + low[1])
    own = (np.stack([xx, yy], axis=2) - _place(photo)) @ _axes(photo).T
    rows, cols = shade.used.shape
    row = np.floor(own[:, :, 1] / shade.length_ft * rows).astype(np.intp)
    col = np.floor(own[:, :, 0] / shade.width_ft * cols).astype(np.intp)
    inside = (row >= 0) & (col >= 0) & (row < rows) & (col < cols)
    row, col = np.clip(row, 0, rows - 1), np.clip(col, 0, cols - 1)
    inside &= shade.used[row, col]
    lab = np.where(inside[:, :, None], shade.lab[row, col], np.nan)
    return lab, np.where(inside, shade.error_L[row, col], np.nan)
