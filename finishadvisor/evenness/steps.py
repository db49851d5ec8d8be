"""Whether the shade steps along a given line, such as the one where a truck load ends.

Strips on both sides of the line are compared, and the step is held against its own scatter along the line and against
the steps across lines that run beside it: a slab that is cloudy all over has steps everywhere.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.color import color_difference

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

STRIP_FT: Final = (4 / 12, 16 / 12)
"""The strips begin beyond the blur of a border and end before the light has changed much."""
REACH_FT: Final = 1.5
"""The line on the plan is drawn by eye, and loads are raked into one another."""
SHIFT_FT: Final = 0.25
PIECE_FT: Final = 1.0
FEWEST_PIECES: Final = 5
FEWEST_CELLS: Final = 8
"""In each strip of a piece."""
LEAST_ELSEWHERE: Final = 6
"""Lines beside the given one that must lie on the map before the usual step is known."""
SIGMAS: Final = 3.5
"""Above 3, since the best of several lines within reach is taken."""
LEAST_DE00: Final = 1.0
"""A smaller step is not seen side by side."""
LEAST_SHARE: Final = 0.6
"""Share of the line along which the shade steps the same way: a border that only crosses it steps on a short part."""


@dataclass(frozen=True)
class Step:
    """The shade on both sides of a line.

    Attributes:
        lab: mean difference from the line's left to its right, L*, a*, b*.
        de00: CIEDE2000 of the step.
        error: standard error of the step along its own direction [Lab].
        elsewhere_de00: usual size of the step across lines beside it.
        length_ft: length of the line that could be tested.
        share: share of that length along which at least half of the step is there.
    """

    lab: tuple[float, float, float]
    de00: float
    error: float
    elsewhere_de00: float
    length_ft: float
    share: float

    @property
    def found(self) -> bool:
        """Whether the shade steps along the line."""
        size = float(np.linalg.norm(self.lab))
        beyond = size > SIGMAS * self.error and self.de00 > SIGMAS * self.elsewhere_de00
        return beyond and self.de00 >= LEAST_DE00 and self.share >= LEAST_SHARE


def step_across(
    lab: Array, used: Mask, size_ft: tuple[float, float], line: Sequence[tuple[float, float]]
) -> Step | None:
    """Return the step of shade across a line, None where too little of the line or of the slab beside it is seen.

    Both sides of the line itself must be seen: at the rim of a photo nothing can be told.

    Args:
        lab: CIELAB of the cells, shape (rows, cols, 3), row 0 at y = 0.
        used: True for cells that count, shape (rows, cols).
        size_ft: the map's sides along x and y.
        line: points of the line in the map's own feet.
    """
    along, across = _beside(line, used.shape, size_ft)
    on_line = used & np.isfinite(along) & np.isfinite(lab).all(axis=2)
    along, across, values = along[on_line], across[on_line], lab[on_line]
    if not len(values):
        return None
    reach = SHIFT_FT * np.arange(np.ceil(across.min() / SHIFT_FT), np.floor(across.max() / SHIFT_FT) + 1)
    tried = {float(shift): _pieces(values, along, across - shift) for shift in reach}
    whole = {shift: pieces for shift, pieces in tried.items() if len(pieces) >= FEWEST_PIECES}
    near = {shift: pieces for shift, pieces in whole.items() if abs(shift) <= REACH_FT}
    beside = [pieces for shift, pieces in whole.items() if abs(shift) > REACH_FT + STRIP_FT[1]]
    if 0.0 not in near or len(beside) < LEAST_ELSEWHERE:
        return None
    typical = np.median(values, axis=0)
    best = max(near.values(), key=lambda pieces: float(np.linalg.norm(pieces.mean(axis=0))))
    usual = [_size(pieces.mean(axis=0), typical) for pieces in beside]
    return _step(best, typical, 1.4826 * float(np.median(usual)))


def _step(pieces: Array, typical: Array, elsewhere_de00: float) -> Step:
    mean = pieces.mean(axis=0)
    size = float(np.linalg.norm(mean))
    own = pieces @ mean / max(size, 1e-9)
    light, a, b = (round(float(value), 3) for value in mean)
    return Step(
        lab=(light, a, b),
        de00=_size(mean, typical),
        error=float(own.std(ddof=1) / np.sqrt(len(own))),
        elsewhere_de00=elsewhere_de00,
        length_ft=len(pieces) * PIECE_FT,
        share=float((own > size / 2).mean()),
    )


def _size(step: Array, typical: Array) -> float:
    return float(color_difference(typical - step / 2, typical + step / 2))


def _pieces(values: Array, along: Array, across: Array) -> Array:
    """Return the step in each foot of the line whose strips are both seen, shape (pieces, 3)."""
    near, far = STRIP_FT
    piece = np.floor(along / PIECE_FT).astype(np.intp)
    count = int(piece.max()) + 1
    left, right = (
        _means(values[side], piece[side], count)
        for side in ((across < -near) & (across >= -far), (across > near) & (across <= far))
    )
    steps = right - left
    return np.asarray(steps[np.isfinite(steps).all(axis=1)])


def _means(values: Array, piece: NDArray[np.intp], count: int) -> Array:
    """Return the mean of each piece, not a number where it has too few cells, shape (count, 3)."""
    cells = np.bincount(piece, minlength=count)
    sums = np.stack([np.bincount(piece, values[:, k], count) for k in range(3)], axis=1)
    return np.where(cells[:, None] >= FEWEST_CELLS, sums / np.maximum(cells, 1)[:, None], np.nan)


def _beside(
    line: Sequence[tuple[float, float]], shape: tuple[int, ...], size_ft: tuple[float, float]
) -> tuple[Array, Array]:
    """Return of each cell its way along the line and its distance right of it [ft]; not a number beyond the ends."""
    rows, cols = shape
    x, y = np.meshgrid((np.arange(cols) + 0.5) * size_ft[0] / cols, (np.arange(rows) + 0.5) * size_ft[1] / rows)
    along, across = np.full(shape, np.nan), np.full(shape, np.inf)
    before = 0.0
    for (x0, y0), (x1, y1) in pairwise(line):
        length = float(np.hypot(x1 - x0, y1 - y0))
        if length == 0:
            continue
        ahead = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / length
        aside = ((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) / length
        nearer = (ahead >= 0) & (ahead <= length) & (np.abs(aside) < np.abs(across))
        along[nearer], across[nearer] = before + ahead[nearer], aside[nearer]
        before += length
    return along, across
