"""Shade maps of several photos laid on one floor plan, and their levels matched."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.sample import Grid
from finishadvisor.job.document import Photo
from finishadvisor.records.shade import ShadeMap

Array = NDArray[np.float64]
Part = tuple[slice, slice]

PLAN_CELL_FT: Final = 0.25
FEWEST_SHARED: Final = 30
"""Cells that two photos must share, about 2 ft², before their levels are matched."""
CARD_LEVEL_L: Final = 1.0
"""How near cards in both photos bring two levels [L*]; an overlap is nearer."""
OVERLAP_LEVEL_L: Final = 0.3


@dataclass(frozen=True)
class LaidMap:
    """One photo's map on the part of the plan that it reaches; many bays side by side take no more room than they fill.

    Attributes:
        part: rows and columns of the plan's grid.
        lab: CIELAB, not a number where the photo does not reach, shape (rows of the part, cols of the part, 3).
        error: standard error of L*, shape (rows of the part, cols of the part).
    """

    part: Part
    lab: Array
    error: Array

    def within(self, part: Part) -> Array:
        """Return CIELAB of a part of the plan that lies in this one."""
        return self.lab[self._inner(part)]

    def error_within(self, part: Part) -> Array:
        """Return the standard error of L* in a part of the plan that lies in this one."""
        return self.error[self._inner(part)]

    def _inner(self, part: Part) -> Part:
        rows, cols = (slice(inner.start - own.start, inner.stop - own.start)
                      for inner, own in zip(part, self.part, strict=True))  # fmt: skip
        return rows, cols


@dataclass(frozen=True)
class PlanMaps:
    """Maps of several photos on one plan.

    Attributes:
        grid: the cells of the plan.
        origin_ft: the plan's own place of the grid's origin corner.
        maps: by photo.
        group: number of the connected group that each photo belongs to; one group when all levels are matched.
    """

    grid: Grid
    origin_ft: tuple[float, float]
    maps: tuple[LaidMap, ...]
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
    laid = tuple(
        _laid(shade, photo, grid, low, _part(outline - low, grid))
        for shade, photo, outline in zip(maps, photos, outlines, strict=True)
    )
    return PlanMaps(grid, (float(low[0]), float(low[1])), laid, tuple(range(len(maps))))


def match_levels(plan: PlanMaps, has_cards: Sequence[bool]) -> PlanMaps:
    """Return the maps moved so that they agree where they overlap; groups that share nothing keep their own level.

    Args:
        plan: maps on one plan.
        has_cards: by photo, whether its level rests on cards.
    """
    count = len(plan.maps)
    rows: list[Array] = []
    wanted: list[Array] = []
    group = list(range(count))
    for a in range(count):
        for b in range(a + 1, count):
            differences = _differences(plan.maps[a], plan.maps[b])
            shared = len(differences) >= FEWEST_SHARED
            if shared:
                difference = np.median(differences, axis=0)
                rows.append((_unit(count, a) - _unit(count, b)) / OVERLAP_LEVEL_L)
                wanted.append(difference / OVERLAP_LEVEL_L)
            if group[a] != group[b] and (shared or (has_cards[a] and has_cards[b])):
                old, new = group[b], group[a]
                group = [new if number == old else number for number in group]
    for photo in range(count):
        near = CARD_LEVEL_L if has_cards[photo] else 100.0
        rows.append(_unit(count, photo) / near)
        wanted.append(np.zeros(3))
    moved, *_ = np.linalg.lstsq(np.array(rows), np.array(wanted), rcond=None)
    maps = tuple(replace(laid, lab=laid.lab + by) for laid, by in zip(plan.maps, moved, strict=True))
    return replace(plan, maps=maps, group=tuple(group))


def shared_cells(one: LaidMap, other: LaidMap) -> int:
    """Return how many cells of the plan two maps both show."""
    return len(_differences(one, other))


def _differences(one: LaidMap, other: LaidMap) -> Array:
    """Return how the other map differs from the one in each cell that both show, shape (cells, 3)."""
    shared = shared_part(one, other)
    if shared is None:
        return np.empty((0, 3))
    first, second = one.within(shared), other.within(shared)
    both = np.isfinite(first[:, :, 0]) & np.isfinite(second[:, :, 0])
    return np.asarray(second[both] - first[both])


def shared_part(one: LaidMap, other: LaidMap) -> Part | None:
    """Return the part of the plan that two maps both reach, None where they lie apart."""
    rows, cols = (slice(max(a.start, b.start), min(a.stop, b.stop)) for a, b in zip(one.part, other.part, strict=True))
    return None if rows.start >= rows.stop or cols.start >= cols.stop else (rows, cols)


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


def line_on_slab(line: Sequence[tuple[float, float]], photo: Photo) -> list[tuple[float, float]]:
    """Return a line of the plan in the feet of a photo's own slab."""
    own = (np.array(line, dtype=np.float64) - _place(photo)) @ _axes(photo).T
    return [(float(x), float(y)) for x, y in own]


def _outline(shade: ShadeMap, photo: Photo) -> Array:
    corners = np.array([(0, 0), (shade.width_ft, 0), (shade.width_ft, shade.length_ft), (0, shade.length_ft)])
    return np.asarray(corners @ _axes(photo) + _place(photo))


def _part(outline_ft: Array, grid: Grid) -> Part:
    """Return the rows and columns of the grid that an outline reaches."""
    cell_ft = np.array([grid.width_ft / grid.cols, grid.length_ft / grid.rows])
    first = np.floor(outline_ft.min(axis=0) / cell_ft).astype(int)
    last = np.ceil(outline_ft.max(axis=0) / cell_ft).astype(int)
    col, row = np.maximum(first, 0)
    return slice(int(row), min(int(last[1]) + 1, grid.rows)), slice(int(col), min(int(last[0]) + 1, grid.cols))


def _laid(shade: ShadeMap, photo: Photo, grid: Grid, low: Array, part: Part) -> LaidMap:
    """Return one map's CIELAB and standard error on its part of the plan's cells."""
    x, y = grid.centers_ft()
    xx, yy = np.meshgrid(x[part[1]] + low[0], y[part[0]] + low[1])
    own = (np.stack([xx, yy], axis=2) - _place(photo)) @ _axes(photo).T
    rows, cols = shade.used.shape
    row = np.floor(own[:, :, 1] / shade.length_ft * rows).astype(np.intp)
    col = np.floor(own[:, :, 0] / shade.width_ft * cols).astype(np.intp)
    inside = (row >= 0) & (col >= 0) & (row < rows) & (col < cols)
    row, col = np.clip(row, 0, rows - 1), np.clip(col, 0, cols - 1)
    inside &= shade.used[row, col]
    lab = np.where(inside[:, :, None], shade.lab[row, col], np.nan)
    return LaidMap(part, lab, np.where(inside, shade.error_L[row, col], np.nan))
