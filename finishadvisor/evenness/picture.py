"""The photo squared up: the slab as seen from straight above, for people to look at."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.photo import Photo
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.profile import srgb_encoded

LONG_SIDE: Final = 720


def squared_up(photo: Photo, plane: Plane) -> NDArray[np.uint8]:
    """Return the slab in sRGB, row 0 at the origin corner, shape (rows, cols, 3), the long side 720 pixels."""
    scale = LONG_SIDE / max(plane.width_ft, plane.length_ft)
    rows, cols = max(1, round(plane.length_ft * scale)), max(1, round(plane.width_ft * scale))
    x = (np.arange(cols) + 0.5) * plane.width_ft / cols
    y = (np.arange(rows) + 0.5) * plane.length_ft / rows
    u, v = plane.to_pixels(*np.broadcast_arrays(x[None, :], y[:, None]))
    seen = np.isfinite(u) & (u >= 0) & (v >= 0) & (u < plane.width_px) & (v < plane.height_px)
    codes = photo.codes_at(np.where(seen, v, 0).astype(np.int32), np.where(seen, u, 0).astype(np.int32))
    if photo.profile.to_srgb is not None:
        light = np.stack([photo.profile.table[codes[:, :, k], k] for k in range(3)], axis=2)
        codes = np.round(255 * srgb_encoded(light @ photo.profile.to_srgb.T)).astype(np.uint8)
    return np.where(seen[:, :, None], codes, np.uint8(255))
