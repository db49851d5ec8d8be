"""From linear light to CIELAB (D65, 2°) and color differences, on arrays."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.profile import XYZ_FROM_SRGB

Array = NDArray[np.float64]

LOG_BALANCE: Final = np.array([[0.25, 0.60, 0.15], [1.0, -1.0, 0.0], [0.0, -1.0, 1.0]])
"""Rows: log brightness, ln R/G, ln B/G, from ln R, ln G, ln B."""

BLOCK_COLORS: Final = 65_536
"""Colors that are compared at once: some 200 bytes are held for each, too many on a plan of hundreds of bays."""

MOST_LOG: Final = 80.0
"""No light is as strong as e to this power; a field fitted to few cells may run off to more where it is not used."""


def lab_from_linear(rgb: Array) -> Array:
    """Return CIELAB of linear sRGB light, white 1.

    Args:
        rgb: shape (..., 3); light outside 0 to 1 is kept, not clipped.

    Source: ISO/CIE 11664-4, with the white of the sRGB matrix, so that equal channels are exactly neutral.
    """
    white = XYZ_FROM_SRGB.sum(axis=1)
    ratio = (rgb @ XYZ_FROM_SRGB.T) / white
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], axis=-1)


def linear_from_lab(lab: Array) -> Array:
    """Return linear sRGB light, white 1, of CIELAB colors of shape (..., 3); the inverse of `lab_from_linear`."""
    white = XYZ_FROM_SRGB.sum(axis=1)
    fy = (lab[..., 0] + 16) / 116
    f = np.stack([fy + lab[..., 1] / 500, fy, fy - lab[..., 2] / 200], axis=-1)
    ratio = np.where(f > 6 / 29, f**3, (f - 4 / 29) * 3 * (6 / 29) ** 2)
    return np.asarray((ratio * white) @ np.linalg.inv(XYZ_FROM_SRGB).T)


def color_difference(lab: Array, other: Array) -> Array:
    """Return CIEDE2000 with all weights 1 between colors of shape (..., 3). Source: ISO/CIE 11664-6."""
    from skimage.color import deltaE_ciede2000

    both = np.broadcast_arrays(lab, other)
    first, second = (side.reshape(-1, 3) for side in both)
    found = [
        deltaE_ciede2000(first[start : start + BLOCK_COLORS], second[start : start + BLOCK_COLORS])
        for start in range(0, max(len(first), 1), BLOCK_COLORS)
    ]
    return np.asarray(np.concatenate(found), dtype=np.float64).reshape(both[0].shape[:-1])


def log_light(rgb: Array) -> Array:
    """Return log brightness, ln R/G and ln B/G of linear light, shape (..., 3)."""
    return np.asarray(np.log(np.maximum(rgb, 1e-5)) @ LOG_BALANCE.T)


def light_from_log(balance: Array) -> Array:
    """Return linear light from log brightness, ln R/G and ln B/G; the inverse of `log_light`."""
    logs = balance @ np.linalg.inv(LOG_BALANCE).T
    return np.asarray(np.exp(np.clip(logs, -MOST_LOG, MOST_LOG)))
