"""The scale of shade maps: which color stands for how much lighter or darker than the typical shade."""

from typing import Any, Final

import numpy as np

from finishadvisor.records.shade import ShadeMap

Image = np.ndarray[Any, np.dtype[np.uint8]]
Array = np.ndarray[Any, np.dtype[np.float64]]

LIMITS: Final = (2.0, 3.0, 5.0)
"""Differences whose share of the slab is given; marked on the bar."""
END_OF_BAR: Final = 8.0
DARKER_TO_LIGHTER: Final = (
    (45, 0, 75), (84, 39, 136), (128, 115, 172), (178, 171, 210), (216, 218, 235), (247, 247, 247), (254, 224, 182),
    (253, 184, 99), (224, 130, 20), (179, 88, 6), (127, 59, 8),
)  # fmt: skip
"""Purple to orange, which stay apart for color-blind eyes. Source: the open map scales of Brewer (2003), PuOr."""


def signed_difference(shade: ShadeMap) -> Array:
    """Return CIEDE2000 from the typical shade, negative where darker; not a number where left out."""
    lighter = np.where(np.nan_to_num(shade.lab[:, :, 0]) >= shade.typical_lab[0], 1.0, -1.0)
    return np.where(shade.used, shade.de00 * lighter, np.nan)


def colors(difference: Array) -> Image:
    """Return the color of each signed difference, shape (..., 4); clear where it is not a number."""
    share = np.nan_to_num(np.clip(difference / END_OF_BAR, -1, 1) / 2 + 0.5, nan=0.5)
    steps = np.linspace(0, 1, len(DARKER_TO_LIGHTER))
    channels = [np.interp(share, steps, channel) for channel in zip(*DARKER_TO_LIGHTER, strict=True)]
    return np.stack([*channels, np.where(np.isnan(difference), 0, 255)], axis=-1).round().astype(np.uint8)
