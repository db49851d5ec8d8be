"""Draws photos of slabs whose shade is known: for the example job, for reference images and for tests.

A slab is a grid of reflectance; light falls on it, a camera stands somewhere, and the camera's own faults follow.
Plan feet: x along the first side, y along the second, row 0 of every grid at y = 0.
"""

import math
from dataclasses import dataclass, field
from io import BytesIO
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FILM_DIAGONAL_MM: Final = 43.27
"""Diagonal of the 36 x 24 mm frame that focal lengths are quoted for."""


@dataclass(frozen=True)
class Camera:
    """A camera on a stand.

    Attributes:
        place_ft: x, y and height above the slab.
        look_at_ft: the plan point in the middle of the picture.
        width_px: width of the picture.
        height_px: height of the picture.
        focal_mm: focal length on the 36 x 24 mm frame.
        barrel: radial distortion at the corner, as a share of the half diagonal; 0 for none.
    """

    place_ft: tuple[float, float, float]
    look_at_ft: tuple[float, float]
    width_px: int = 1600
    height_px: int = 1200
    focal_mm: float = 26.0
    barrel: float = 0.0

    def homography(self) -> Array:
        """Return the matrix that takes plan points (x, y, 1) to pixels before distortion."""
        eye = np.array(self.place_ft, dtype=np.float64)
        forward = np.array([*self.look_at_ft, 0.0]) - eye
        forward /= np.linalg.norm(forward)
        up = np.array([0.0, 0.0, 1.0]) if abs(forward[2]) < 0.999 else np.array([0.0, 1.0, 0.0])
        right = np.cross(forward, up)
        right /= np.linalg.norm(right)
        down = np.cross(forward, right)
        focal_px = self.focal_mm / FILM_DIAGONAL_MM * math.hypot(self.width_px, self.height_px)
        lens = np.array([[focal_px, 0, self.width_px / 2], [0, focal_px, self.height_px / 2], [0, 0, 1]])
        turn = np.stack([right, down, forward])
        return np.asarray(lens @ np.column_stack([turn[:, 0], turn[:, 1], -turn @ eye]))

    def pixels_of(self, x_ft: Array, y_ft: Array) -> tuple[Array, Array]:
        """Return where plan points appear in the picture."""
        u, v, w = np.tensordot(self.homography(), np.stack([x_ft, y_ft, np.ones_like(x_ft)]), axes=1)
        return self._bent(u / w, v / w)

    def corners_px(self, width_ft: float, length_ft: float) -> tuple[tuple[float, float], ...]:
        """Return the pixels of a slab's corners: origin, along the first side, opposite, along the second side."""
        u, v = self.pixels_of(np.array([0.0, width_ft, width_ft, 0.0]), np.array([0.0, 0.0, length_ft, length_ft]))
        return tuple((round(float(a), 2), round(float(b), 2)) for a, b in zip(u, v, strict=True))

    def feet_of(self, u: Array, v: Array) -> tuple[Array, Array, NDArray[np.bool_]]:
        """Return the plan points seen at pixels, and where the ground is seen at all."""
        if self.barrel:
            straight = u, v
            for _ in range(3):  # the bend is small: a few turns undo it
                bent = self._bent(*straight)
                straight = straight[0] + u - bent[0], straight[1] + v - bent[1]
            u, v = straight
        x, y, w = np.tensordot(np.linalg.inv(self.homography()), np.stack([u, v, np.ones_like(u)]), axes=1)
        return x / w, y / w, w > 0

    def _bent(self, u: Array, v: Array) -> tuple[Array, Array]:
        half_w, half_h = self.width_px / 2, self.height_px / 2
        square = ((u - half_w) ** 2 + (v - half_h) ** 2) / (half_w**2 + half_h**2)
        factor = 1 - self.barrel * square
        return half_w + (u - half_w) * factor, half_h + (v - half_h) * factor


@dataclass(frozen=True)
class Slab:
    """A slab in its light.

    Attributes:
        width_ft: first side.
        length_ft: second side.
        reflectance: linear sRGB reflectance, shape (rows, cols, 3).
        light: light that falls on each cell, white light of full strength being 1, shape (rows, cols, 3).
        glare: light mirrored by the surface toward the camera, shape (rows, cols, 3), or None.
        surroundings: linear sRGB of what lies around the slab.
    """

    width_ft: float
    length_ft: float
    reflectance: Array
    light: Array
    glare: Array | None = None
    surroundings: tuple[float, float, float] = (0.16, 0.20, 0.10)


@dataclass(frozen=True)
class Exposure:
    """How the camera renders light.

    Attributes:
        gain: factor on the light; None puts the slab's median at mid-gray.
        white: factors on red, green and blue.
        curve: strength of the S-shaped tone curve, 0 to 0.3.
        noise: standard deviation of the noise at white, as a share of white.
        fall_off: loss of light in the picture's corners, as a share.
        blur_px: standard deviation of the blur.
        shake_px: length of a level motion blur.
        seed: of the noise.
    """

    gain: float | None = None
    white: tuple[float, float, float] = (1.0, 1.0, 1.0)
    curve: float = 0.0
    noise: float = 0.01
    fall_off: float = 0.1
    blur_px: float = 0.6
    shake_px: int = 0
    seed: int = field(default=0)


def render(slab: Slab, camera: Camera, exposure: Exposure | None = None) -> NDArray[np.uint8]:
    """Return the photo, sRGB, shape (rows, cols, 3), row 0 on top."""
    exposure = exposure or Exposure()
    cols, rows = np.meshgrid(np.arange(camera.width_px) + 0.5, np.arange(camera.height_px) + 0.5)
    x_ft, y_ft, ground = camera.feet_of(cols, rows)
    seen = slab.reflectance * slab.light + (0.0 if slab.glare is None else slab.glare)
    picture = _looked_up(seen, x_ft * seen.shape[1] / slab.width_ft, y_ft * seen.shape[0] / slab.length_ft)
    around = np.array(slab.surroundings) * np.median(slab.light, axis=(0, 1))
    inside = ground & (x_ft >= 0) & (y_ft >= 0) & (x_ft < slab.width_ft) & (y_ft < slab.length_ft)
    picture = np.where(inside[:, :, None], picture, around)
    if exposure.gain is None:
        picture *= 0.18 / max(float(np.median(picture[inside])), 1e-6)
    else:
        picture *= exposure.gain
    return _developed(picture * exposure.white, exposure)


def as_jpeg(picture: NDArray[np.uint8], quality: int = 92) -> bytes:
    """Return a picture as a JPEG file with halved color, as phones write it."""
    from PIL import Image

    file = BytesIO()
    Image.fromarray(picture).save(file, "JPEG", quality=quality, subsampling=2)
    return file.getvalue()


def _looked_up(grid: Array, across: Array, down: Array) -> Array:
    """Return a grid of cells at fractional places, by straight lines between cell centers."""
    rows, cols = grid.shape[:2]
    across, down = np.clip(across - 0.5, 0, cols - 1.001), np.clip(down - 0.5, 0, rows - 1.001)
    left, top = across.astype(np.intp), down.astype(np.intp)
    a, b = (across - left)[..., None], (down - top)[..., None]
    upper = grid[top, left] * (1 - a) + grid[top, left + 1] * a
    lower = grid[top + 1, left] * (1 - a) + grid[top + 1, left + 1] * a
    return np.asarray(upper * (1 - b) + lower * b)


def _developed(light: Array, exposure: Exposure) -> NDArray[np.uint8]:
    """Return codes from the light on the sensor: fall-off, blur, noise, clipping, tone."""
    rows, cols = light.shape[:2]
    v, u = np.mgrid[-1 : 1 : rows * 1j, -1 : 1 : cols * 1j]
    shape = rows**2 + cols**2
    light = light * (1 - exposure.fall_off * (u**2 * cols**2 / shape + v**2 * rows**2 / shape))[:, :, None]
    light = _blurred(light, exposure)
    random = np.random.default_rng(exposure.seed)
    spread = exposure.noise * np.sqrt(np.maximum(light, 0) + 0.01)
    light = np.clip(light + random.standard_normal(light.shape, dtype=np.float32) * spread, 0, 1)
    encoded = np.where(light <= 0.0031308, light * 12.92, 1.055 * np.maximum(light, 0.0031308) ** (1 / 2.4) - 0.055)
    encoded = encoded - exposure.curve / (2 * np.pi) * np.sin(2 * np.pi * encoded)
    return np.asarray(np.round(np.clip(encoded, 0, 1) * 255), dtype=np.uint8)


def _blurred(light: Array, exposure: Exposure) -> Array:
    kernels = []
    if exposure.blur_px > 0:
        reach = max(1, math.ceil(3 * exposure.blur_px))
        bell = np.exp(-0.5 * (np.arange(-reach, reach + 1) / exposure.blur_px) ** 2)
        kernels += [(0, bell / bell.sum()), (1, bell / bell.sum())]
    if exposure.shake_px > 1:
        kernels.append((1, np.full(exposure.shake_px, 1 / exposure.shake_px)))
    for axis, kernel in kernels:
        reach = len(kernel) // 2
        pads = [(0, 0), (0, 0), (0, 0)]
        pads[axis] = (reach, len(kernel) - 1 - reach)
        padded = np.pad(light, pads, mode="edge")
        length = light.shape[axis]
        light = sum(w * np.take(padded, range(k, k + length), axis=axis) for k, w in enumerate(kernel))
    return light
