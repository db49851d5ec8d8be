"""The measured shade of one photo as arrays, beside its Evenness record: what maps and tables are drawn from."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

from finishadvisor.records.evenness import Evenness


@dataclass(frozen=True)
class ShadeMap:
    """Per-cell shade on the slab: rows along the second side (row 0 at the origin), columns along the first side."""

    cell_in: float
    width_ft: float
    """First side."""
    length_ft: float
    """Second side."""
    lab: "NDArray[np.float64]"
    """3 in mean of CIELAB (D65, 2°), shape (rows, cols, 3)."""
    de00: "NDArray[np.float64]"
    """CIEDE2000 from the typical shade, shape (rows, cols), never negative."""
    used: "NDArray[np.bool_]"
    """False where masked, shape (rows, cols)."""
    typical_lab: tuple[float, float, float]
    error_L: "NDArray[np.float64]"
    """Standard error of L* against the typical shade at each cell, shape (rows, cols)."""
    picture: "NDArray[np.uint8]"
    """The squared-up photo as a viewer shows it, sRGB, shape (picture rows, picture cols, 3), row 0 at the origin.

    No rows and columns where it was not asked for."""
    wet_ratio: float | None = None
    """Reflectance of the patch that was wetted on purpose over that of the dry slab around it; None without one."""
    mottling_L: float = 0.0
    """Spread (standard deviation) of L* in marks 4 in to 12 in wide: mottling."""


@dataclass(frozen=True)
class Measurement:
    """One photo: the record that is printed, and its map (None where the photo was refused)."""

    evenness: Evenness
    shade: ShadeMap | None
