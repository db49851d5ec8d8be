"""Takes the lighting out of the cells: chooses the form of the field, fits it, and says how sure it is."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import log_light
from finishadvisor.evenness.light import Light, Shape, range_of
from finishadvisor.evenness.light_fit import ROUGH_ROUNDS, STIFF, LightFit
from finishadvisor.evenness.light_settle import settled
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.smooth import block_means

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

FIT_CELL_IN: Final = 4.0
MOST_FIT_CELLS: Final = 3600
FEWEST_ALONG: Final = 20
SIMPLE: Final = STIFF
MEDIUM: Final = Shape(degree=3, color_degree=2)
FULL: Final = Shape(degree=5, color_degree=4, walls=True)
OTHERS: Final = {
    SIMPLE: (Shape(3, 2), Shape(2, 2), Shape(3, 1)),
    MEDIUM: (Shape(4, 3), Shape(3, 3), Shape(2, 1)),
    FULL: (Shape(4, 3, walls=True), Shape(6, 4), Shape(5, 4)),
}
"""Forms that could have been chosen as well: their disagreement tells how sure the field is."""


@dataclass(frozen=True)
class Blocks:
    """Cells merged into the blocks that light is fitted on.

    Attributes:
        grid: the blocks.
        size: side of a block in cells.
        balance: log brightness, ln R/G, ln B/G, shape (rows, cols, 3).
        used: True for blocks that count.
    """

    grid: Grid
    size: int
    balance: Array
    used: Mask


@dataclass(frozen=True)
class Separated:
    """Cells with the lighting taken out.

    Attributes:
        light: the fitted field.
        field: the field over all cells, shape (rows, cols, 3); its level is arbitrary.
        shade: log brightness, ln R/G, ln B/G of the slab at an arbitrary level, shape (rows, cols, 3).
        others: the same field by other forms less this one, on the blocks, level removed, shape (n, rows, cols, 3).
        blocks: the blocks.
        spread: range (2 to 98 %) of the fitted log brightness over the slab.
        taken: its narrower range (5 to 95 %).
    """

    light: Light
    field: Array
    shade: Array
    others: Array
    blocks: Blocks
    spread: float
    taken: float

    @property
    def weakened_beyond_ft(self) -> float:
        """Width of a mark's edge beyond which the field eats it."""
        if self.light.shape.walls:
            return evenness_limit("weakened-full-ft")
        return evenness_limit("weakened-simple-ft" if self.light.shape.degree <= 2 else "weakened-medium-ft")


def blocks_of(rgb: Array, used: Mask, grid: Grid) -> Blocks:
    """Return the cells merged into blocks of 4 in, larger on large slabs, smaller on small ones."""
    cells_of_4_in = max(1, round(FIT_CELL_IN / grid.cell_in))
    for_few = max(1, min(grid.rows, grid.cols) // FEWEST_ALONG)
    for_many = int(np.ceil(np.sqrt(grid.rows * grid.cols / MOST_FIT_CELLS)))
    size = max(min(cells_of_4_in, for_few), for_many)
    return merged_blocks(rgb, used, grid, size)


def merged_blocks(rgb: Array, used: Mask, grid: Grid, size: int) -> Blocks:
    """Return the cells merged into blocks of `size` x `size` cells."""
    means, kept = block_means(rgb, used, size)
    rows, cols = kept.shape
    merged = Grid(rows, cols, grid.width_ft * cols * size / grid.cols, grid.length_ft * rows * size / grid.rows)
    return Blocks(merged, size, log_light(means), kept)


def shape_for(simple: Light, fit: LightFit, blocks: Blocks, plane: Plane) -> Shape:
    """Return the simplest form that the light asks for, from a first look by the simplest one.

    A flexible field hides soft marks, a stiff one leaves light in. How far the light ranges over the slab tells open
    sky from a room; in between, a flexible field must explain markedly more than a stiff one.
    """
    spread = range_of(simple, plane, blocks.grid, blocks.used, radial=False)
    if spread < evenness_limit("light-simple-below"):
        return SIMPLE
    if spread > evenness_limit("light-medium-below"):
        return FULL
    return FULL if fit.gain_per_term(simple, FULL) > evenness_limit("light-gain-per-term") else MEDIUM


def separate(rgb: Array, used: Mask, grid: Grid, plane: Plane, shape: Shape | None = None) -> Separated:
    """Return the cells with the lighting taken out.

    Args:
        rgb: linear light of the cells, shape (rows, cols, 3).
        used: True for cells that count.
        grid: the cells.
        plane: the slab's plane.
        shape: form of the field; None chooses it.
    """
    blocks = blocks_of(rgb, used, grid)
    fit = LightFit(blocks.balance, blocks.used, blocks.grid, plane)
    simple = fit.light(SIMPLE, rounds=ROUGH_ROUNDS)
    shape = shape or shape_for(simple, fit, blocks, plane)
    light = fit.light(shape, stiff=simple)
    field = light.over(plane, grid)
    on_blocks = light.over(plane, blocks.grid)
    changes = [fit.light_like(light, other).over(plane, blocks.grid) - on_blocks for other in OTHERS[shape]]
    others = np.stack([change - np.median(change[blocks.used], axis=0) for change in changes])
    spread = range_of(light, plane, blocks.grid, blocks.used)
    taken = range_of(light, plane, blocks.grid, blocks.used, low=5, high=95)
    return Separated(light, field, log_light(rgb) - field, others, blocks, spread, taken)


def settle(separated: Separated, grid: Grid, plane: Plane) -> Separated:
    """Return cells with the light that was left in taken out as well, by the shades that the slab has."""
    blocks = separated.blocks
    light = settled(separated.light, blocks.balance, blocks.used, blocks.grid, plane)
    field = light.over(plane, grid)
    return replace(
        separated,
        light=light,
        field=field,
        shade=separated.shade + separated.field - field,
        spread=range_of(light, plane, blocks.grid, blocks.used),
        taken=range_of(light, plane, blocks.grid, blocks.used, low=5, high=95),
    )
