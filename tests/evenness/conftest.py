"""Photos rendered for the tests: a slab of known shade in known light, seen by a known camera."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from finishadvisor.demo.render import Camera, Exposure, Slab, as_jpeg, render
from finishadvisor.evenness.color import linear_from_lab
from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.records.shade import Measurement

CARD = 0.18


@dataclass(frozen=True)
class Shot:
    """A photo on disk and its marks."""

    path: Path
    marks: PhotoMarks
    picture: np.ndarray

    def measured(self, **options) -> Measurement:
        """The measurement of this photo."""
        return measure(self.path, self.marks, **options)


def slab_lab(width_ft: float = 12.0, length_ft: float = 10.0, lab=(52.0, 6.0, 10.0), grain: float = 0.8) -> np.ndarray:
    """CIELAB of half-inch cells of a plain slab with grain, shape (rows, cols, 3)."""
    shape = (round(length_ft * 24), round(width_ft * 24))
    values = np.tile(np.array(lab, dtype=float), (*shape, 1))
    values[:, :, 0] += np.random.default_rng(5).normal(0, grain, shape)
    return values


def patched(values: np.ndarray, x_ft: float, y_ft: float, width_ft: float, length_ft: float, change) -> np.ndarray:
    """A copy with a rectangle of another shade."""
    out = values.copy()
    out[round(y_ft * 24) : round((y_ft + length_ft) * 24), round(x_ft * 24) : round((x_ft + width_ft) * 24)] += change
    return out


@pytest.fixture
def shoot(tmp_path: Path) -> Callable[..., Shot]:
    """Render, save and mark a photo."""

    def take(
        lab: np.ndarray,
        *,
        light=1.0,
        cards=(),
        name: str = "slab.jpg",
        camera: Camera | None = None,
        quality: int = 92,
        glare=None,
        surroundings=Slab.surroundings,
        **exposure,
    ) -> Shot:
        width_ft, length_ft = lab.shape[1] / 24, lab.shape[0] / 24
        reflectance = linear_from_lab(lab)
        for x_ft, y_ft in cards:
            rows = slice(int((y_ft - 0.4) * 24), int((y_ft + 0.4) * 24))
            reflectance[rows, int((x_ft - 0.4) * 24) : int((x_ft + 0.4) * 24)] = CARD
        falling = np.asarray(light, dtype=float)
        falling = np.broadcast_to(falling[..., None] if falling.ndim == 2 else falling, reflectance.shape)
        camera = camera or Camera(
            (width_ft / 2, 1 - width_ft / 2, 11),
            (width_ft / 2, length_ft * 0.44),
            1200,
            900,
            26 if width_ft < 14 else 23,
        )
        slab = Slab(width_ft, length_ft, reflectance, falling, glare, surroundings)
        picture = render(slab, camera, Exposure(**exposure))
        path = tmp_path / name
        path.write_bytes(as_jpeg(picture, quality))
        u, v = camera.pixels_of(np.array([c[0] for c in cards], float), np.array([c[1] for c in cards], float))
        sheets = tuple(((float(a), float(b)), CARD) for a, b in zip(u, v, strict=True))
        marks = PhotoMarks(corners=camera.corners_px(width_ft, length_ft), size_ft=(width_ft, length_ft), sheets=sheets)
        return Shot(path, marks, picture)

    return take


def falling_light(lab: np.ndarray, amount: float) -> np.ndarray:
    """Light that falls by exp(amount) along the slab."""
    return np.exp(np.linspace(0, -amount, lab.shape[0]))[:, None] * np.ones((1, lab.shape[1]))
