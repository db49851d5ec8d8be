"""Two rendered photos of one slab from opposite ends, with a window that its smooth bands mirror to one end only."""

from dataclasses import replace

import numpy as np
import pytest

from finishadvisor.demo.render import Camera
from finishadvisor.evenness.join import join, join_and_compare
from finishadvisor.evenness.measure import measure
from finishadvisor.job.document import Photo

from .conftest import patched, slab_lab

WIDTH_FT, LENGTH_FT = 14.0, 12.0
FROM_FRONT = Camera((7, -6, 10), (7, 5.2), 1200, 900, 24)
FROM_BACK = Camera((7, 18, 10), (7, 6.8), 1200, 900, 24)
WINDOW_FT = [(x, 40.0, 25.0) for x in np.linspace(-8, 22, 16)]
"""Beyond the back end: who looks from the front looks into its mirror image."""


def places(lab: np.ndarray) -> np.ndarray:
    """Plan places of half-inch cells with height 0, shape (rows, cols, 3)."""
    y, x = (np.mgrid[: lab.shape[0], : lab.shape[1]] + 0.5) / 24
    return np.stack([x, y, np.zeros_like(x)], axis=2)


def mirrored(lab: np.ndarray, camera: Camera, roughness: float, strength: float) -> np.ndarray:
    """Light of the window that facets of a surface turn to the camera (Beckmann's slopes), shape (rows, cols)."""
    at = places(lab)
    to_eye = unit(np.array(camera.place_ft) - at)
    total = np.zeros(lab.shape[:2])
    for pane in WINDOW_FT:
        half = unit(to_eye + unit(np.array(pane) - at))
        slope_square = 1 / half[..., 2] ** 2 - 1
        total += np.exp(-slope_square / roughness**2) / roughness**2
    return strength * total / len(WINDOW_FT)


def unit(vectors: np.ndarray) -> np.ndarray:
    return vectors / np.linalg.norm(vectors, axis=-1, keepdims=True)


def both_ends(shoot, lab, band, *, light_from_back=1.0):
    """Measurements and places of a photo from the front and one from the back, whose marks are turned with it."""
    measured = []
    for name, camera, light in (("front.jpg", FROM_FRONT, 1.0), ("back.jpg", FROM_BACK, light_from_back)):
        rough, smooth = (mirrored(lab, camera, roughness, 8e-3) for roughness in (0.5, 0.2))
        glare = np.where(band, smooth, rough)[:, :, None] * np.array([0.97, 1.0, 1.04])
        shot = shoot(lab, camera=camera, glare=glare, name=name, light=light, noise=0.006)
        marks = shot.marks
        if name == "back.jpg":
            marks = replace(marks, corners=marks.corners[2:] + marks.corners[:2])
        measured.append(measure(shot.path, marks))
    turned = Photo(file="back.jpg", origin_on_plan=(WIDTH_FT, LENGTH_FT), turned_deg=180)
    return measured, [Photo(file="front.jpg", origin_on_plan=(0, 0)), turned]


def test_smooth_bands_that_turn_over_from_the_other_end_are_sheen_and_cancel(shoot) -> None:
    lab = patched(slab_lab(WIDTH_FT, LENGTH_FT), 10, 2, 2.5, 2.5, (-5, 0, 0))  # a real mark stays put
    band = np.zeros(lab.shape[:2], dtype=bool)
    band[:, 4 * 24 : 6 * 24] = True
    lab[band] += [-3.0, 0, 0]  # a dense surface scatters less
    measured, photos = both_ends(shoot, lab, band)
    front, back = (np.median(m.shade.lab[m.shade.used], axis=0)[0] for m in measured)
    own = np.s_[40:100, 52:68]
    assert np.nanmedian(measured[0].shade.lab[own][..., 0]) > front + 1.5  # it mirrors the window
    assert np.nanmedian(np.rot90(measured[1].shade.lab, 2)[own][..., 0]) < back - 1.5
    together, moved = join_and_compare(measured, photos)
    assert "moved-with-light" in together.caveats
    assert any("sheen, which turns over" in warning for warning in together.warnings)
    assert moved.turned_ft2 > 0.6 * 2 * LENGTH_FT
    assert moved.moved_ft2 < 0.25 * 2 * LENGTH_FT
    (mark,) = [patch for patch in together.patches if patch.area_ft2 > 2]
    assert (mark.x_ft, mark.y_ft) == pytest.approx((10, 2), abs=0.5)
    assert mark.dL == pytest.approx(-5, abs=1.2)


def test_a_pool_of_light_that_one_photo_shows_is_no_slab_and_no_sheen(shoot) -> None:
    lab = slab_lab(WIDTH_FT, LENGTH_FT)
    x, y = np.moveaxis(places(lab)[..., :2], 2, 0)
    pool = 1 + 0.35 / (1 + np.exp(np.clip((np.hypot(x - 4, y - 7) - 1.6) * 9, -40, 40)))
    measured, photos = both_ends(shoot, lab, np.zeros(lab.shape[:2], dtype=bool), light_from_back=pool)
    assert measured[1].evenness.share_over["3"] > 0.03  # one photo alone takes it for a mark
    together = join(measured, photos)
    assert "moved-with-light" in together.caveats
    assert any("stands out in one photo" in warning for warning in together.warnings)
    assert not any("sheen, which turns over" in warning for warning in together.warnings)
    assert together.share_over["3"] < 0.01


def test_a_mark_of_the_slab_seen_from_both_ends_is_told_of_neither(shoot) -> None:
    lab = patched(slab_lab(WIDTH_FT, LENGTH_FT), 3, 5, 3, 3, (-5, 0.5, 1))
    measured, photos = both_ends(shoot, lab, np.zeros(lab.shape[:2], dtype=bool))
    together = join(measured, photos)
    assert "moved-with-light" not in together.caveats
    assert together.share_over["3"] == pytest.approx(9 / 168, abs=0.02)
