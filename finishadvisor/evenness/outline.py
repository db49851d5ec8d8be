"""How sharp the photo is, judged by the slab's own outline in the picture."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.photo import Photo
from finishadvisor.evenness.plane import Plane

Array = NDArray[np.float64]

SEGMENTS: Final = 24
REACH_PX: Final = 14
SHAKEN_PX: Final = 6.0
END_OFFSETS: Final = 6
"""Offsets at each end of a profile that tell the level there."""
LEAST_STEP: Final = 6.0
"""Codes; a fainter border says nothing of sharpness."""


def outline_width_px(photo: Photo, plane: Plane) -> float | None:
    """Return the 10 to 90 % width [px] of the sharpest side of the slab's outline, or None where none can be judged.

    A shaken photo is sharp along the shake: where two sides are plainly blurred, the second widest counts.

    The outline is a better gauge than texture, which depends on the finish of the slab.
    """
    corners_ft = np.array([(0, 0), (plane.width_ft, 0), (plane.width_ft, plane.length_ft), (0, plane.length_ft)])
    u, v = plane.to_pixels(corners_ft[:, 0].astype(np.float64), corners_ft[:, 1].astype(np.float64))
    corners = np.column_stack([u, v])
    if not np.isfinite(corners).all():
        return None
    widths = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        found = [w for w in (_segment_width(photo, start, end, k) for k in range(SEGMENTS)) if w is not None]
        if len(found) >= SEGMENTS // 3:
            widths.append(float(np.median(found)))
    if not widths:
        return None
    shaken = len(widths) >= 2 and sorted(widths)[-2] > SHAKEN_PX
    return sorted(widths)[-2] if shaken else min(widths)


def _segment_width(photo: Photo, start: Array, end: Array, number: int) -> float | None:
    """Return the width of the step across one piece of a side."""
    side = end - start
    length = float(np.hypot(*side))
    if length < 4 * SEGMENTS:
        return None
    normal = np.array([-side[1], side[0]]) / length
    along = start + side * ((number + np.linspace(0.1, 0.9, 24)) / SEGMENTS)[:, None]
    offsets = np.arange(-REACH_PX, REACH_PX + 0.25, 0.5)
    points = along[None, :, :] + normal * offsets[:, None, None]
    cols, rows = points[:, :, 0].astype(np.intp), points[:, :, 1].astype(np.intp)
    picture_rows, picture_cols = photo.codes.shape[:2]
    if points.min() < 0 or cols.max() >= picture_cols or rows.max() >= picture_rows:
        return None
    profiles = photo.codes[rows, cols].astype(np.float64)
    width_px = _step_width(profiles.mean(axis=2), offsets)
    return _step_width(profiles[:, :, _clearest_channel(profiles)], offsets) if width_px is None else width_px


def _clearest_channel(profiles: Array) -> int:
    """Return the channel that steps most: grass about a buff slab may be as bright as the slab, and yet greener.

    It is asked only where brightness steps too little, since pictures hold color more coarsely.

    Args:
        profiles: codes across a border, shape (offsets, places, 3).
    """
    mean = profiles.mean(axis=1)
    return int(np.argmax(np.abs(mean[-END_OFFSETS:].mean(axis=0) - mean[:END_OFFSETS].mean(axis=0))))


def _step_width(profiles: Array, offsets: Array) -> float | None:
    """Return the 10 to 90 % width of the step in profiles of shape (offsets, places), each aligned on its own step."""
    mean = np.convolve(profiles.mean(axis=1), np.full(3, 1 / 3), mode="valid")
    ends = mean[:END_OFFSETS].mean(), mean[-END_OFFSETS:].mean()
    contrast = abs(ends[1] - ends[0])
    if contrast < LEAST_STEP:
        return None
    slope = np.abs(np.gradient(mean, offsets[1] - offsets[0])).max()
    return float(0.8 * contrast / max(slope, 1e-9))
