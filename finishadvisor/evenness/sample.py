"""Linear light of every slab cell: points spread evenly over the slab are looked up in the photo.

The points are even on the slab, not in the picture, so near and far cells weigh alike and the far edge does not alias.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.photo import Photo
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.smooth import filled

Array = NDArray[np.float64]

MOST_SAMPLES: Final = 1_000_000
"""Points looked up in one photo; more do not change the result (tests/bench/evenness_speed.py)."""
BLOWN_CODE: Final = 251
BLACK_CODE: Final = 8


@dataclass(frozen=True)
class Grid:
    """A grid of cells over the slab; row 0 and column 0 touch the origin corner."""

    rows: int
    cols: int
    width_ft: float
    length_ft: float

    @property
    def cell_in(self) -> float:
        """Side of a cell [in], the mean of both directions."""
        return 6.0 * (self.width_ft / self.cols + self.length_ft / self.rows)

    def centers_ft(self) -> tuple[Array, Array]:
        """Return x of each column, shape (cols,), and y of each row, shape (rows,)."""
        x = (np.arange(self.cols) + 0.5) * self.width_ft / self.cols
        y = (np.arange(self.rows) + 0.5) * self.length_ft / self.rows
        return x, y

    def index_of(self, x_ft: float, y_ft: float) -> tuple[int, int]:
        """Return row and column of a plan point; it may lie outside the grid."""
        return math.floor(y_ft / self.length_ft * self.rows), math.floor(x_ft / self.width_ft * self.cols)


def grid_over(width_ft: float, length_ft: float, cell_in: float) -> Grid:
    """Return the grid whose cells are as near `cell_in` as whole cells allow."""
    return Grid(
        rows=max(1, round(length_ft * 12 / cell_in)),
        cols=max(1, round(width_ft * 12 / cell_in)),
        width_ft=width_ft,
        length_ft=length_ft,
    )


def resampled(values: Array, used: NDArray[np.bool_], grid: Grid, wanted: Grid) -> tuple[Array, NDArray[np.bool_]]:
    """Return values of one grid at the cell centers of another, between cells by straight lines.

    Args:
        values: shape (rows, cols, channels).
        used: True for cells that count, shape (rows, cols).
        grid: the grid of `values`.
        wanted: another grid over the same slab.

    Returns:
        Values on the wanted grid, not a number where the nearest cell does not count; and where it does.
    """
    from scipy.ndimage import map_coordinates

    if (grid.rows, grid.cols) == (wanted.rows, wanted.cols):
        return np.where(used[:, :, None], values, np.nan), used
    rows = (np.arange(wanted.rows) + 0.5) * grid.rows / wanted.rows - 0.5
    cols = (np.arange(wanted.cols) + 0.5) * grid.cols / wanted.cols - 0.5
    places = np.stack(np.meshgrid(rows, cols, indexing="ij"))
    near = np.clip(np.round(places).astype(np.intp), 0, np.array([grid.rows - 1, grid.cols - 1])[:, None, None])
    kept = used[near[0], near[1]]
    whole = filled(values, used)
    channels = [map_coordinates(whole[:, :, k], places, order=1, mode="nearest") for k in range(values.shape[2])]
    return np.where(kept[:, :, None], np.stack(channels, axis=2), np.nan), kept


@dataclass(frozen=True)
class CellLight:
    """What the photo shows in each cell.

    Attributes:
        rgb: mean linear sRGB light, shape (rows, cols, 3); may leave 0 to 1 for a wide-gamut photo.
        darkest: least green light of a sample over the cell's mean, shape (rows, cols).
        blown: share of samples with a channel near the top code, shape (rows, cols).
        black: share of samples with all channels near zero, shape (rows, cols).
        in_frame: True where the whole cell is in the photo, shape (rows, cols).
        px_per_in: least and greatest scale of the picture, shape (rows, cols, 2).
    """

    rgb: Array
    darkest: Array
    blown: Array
    black: Array
    in_frame: NDArray[np.bool_]
    px_per_in: Array


def sample_cells(photo: Photo, plane: Plane, grid: Grid) -> CellLight:
    """Return the light of every cell of a grid.

    Args:
        photo: the decoded photo.
        plane: where the slab lies in it.
        grid: the cells.
    """
    x, y = grid.centers_ft()
    least, greatest = plane.scales(x[None, :], y[:, None])
    px_per_in = np.stack([least, greatest], axis=2) / 12
    side = _samples_per_side(px_per_in, grid)
    strip_rows = max(1, 150_000 // (grid.cols * side * side))
    parts = [
        _strip(photo, plane, grid, (start, min(start + strip_rows, grid.rows)), side)
        for start in range(0, grid.rows, strip_rows)
    ]
    rgb, darkest, blown, black, in_frame = (np.concatenate(column) for column in zip(*parts, strict=True))
    if photo.profile.to_srgb is not None:
        rgb = rgb @ photo.profile.to_srgb.T
    return CellLight(rgb, darkest, blown, black, in_frame, px_per_in)


def _samples_per_side(px_per_in: Array, grid: Grid) -> int:
    px_per_cell = float(np.nanmedian(px_per_in[:, :, 0] * px_per_in[:, :, 1])) * grid.cell_in**2
    most = math.sqrt(MOST_SAMPLES / (grid.rows * grid.cols))
    wanted = math.ceil(math.sqrt(px_per_cell)) if math.isfinite(px_per_cell) else 2
    return max(2, min(wanted, math.floor(most)))


def _strip(
    photo: Photo, plane: Plane, grid: Grid, rows: tuple[int, int], side: int
) -> tuple[Array, Array, Array, Array, NDArray[np.bool_]]:
    """Return rgb, darkest, blown, black and in_frame for rows `rows[0]` to `rows[1]` - 1."""
    count = rows[1] - rows[0]
    shape = (count, grid.cols, side, side)
    jitter = np.random.default_rng(rows[0]).random((2, *shape), dtype=np.float32)
    step = np.arange(side, dtype=np.float32)
    x = np.arange(grid.cols, dtype=np.float32)[None, :, None, None] + (step + jitter[0]) / side
    y = np.arange(rows[0], rows[1], dtype=np.float32)[:, None, None, None] + (step[:, None] + jitter[1]) / side
    x *= np.float32(grid.width_ft / grid.cols)
    y *= np.float32(grid.length_ft / grid.rows)
    h = plane.homography.astype(np.float32)
    w = h[2, 0] * x + h[2, 1] * y + h[2, 2]
    behind = w <= 1e-6
    w[behind] = 1.0
    u = (h[0, 0] * x + h[0, 1] * y + h[0, 2]) / w
    v = (h[1, 0] * x + h[1, 1] * y + h[1, 2]) / w
    inside = ~behind & (u >= 0) & (v >= 0) & (u < plane.width_px) & (v < plane.height_px)
    picture_rows, picture_cols = photo.codes.shape[:2]
    cols = np.clip(u, 0, picture_cols - 1).astype(np.int32)
    codes = photo.codes_at(np.clip(v, 0, picture_rows - 1).astype(np.int32), cols).reshape(-1, side * side, 3)
    light = [photo.profile.table[:, channel].take(codes[..., channel]) for channel in range(3)]
    rgb = np.stack([channel.mean(axis=1, dtype=np.float64) for channel in light], axis=1)
    top = np.maximum(np.maximum(codes[..., 0], codes[..., 1]), codes[..., 2])
    found = (
        rgb,
        light[1].min(axis=1) / np.maximum(rgb[:, 1], 1e-6),
        (top >= BLOWN_CODE).mean(axis=1),
        (top <= BLACK_CODE).mean(axis=1),
        inside.reshape(-1, side * side).all(axis=1),
    )
    rgb, darkest, blown, black, in_frame = (values.reshape(count, grid.cols, *values.shape[1:]) for values in found)
    return rgb, darkest, blown, black, in_frame
