"""The whole chain on pictures drawn here: where patches are, that light is not shade, that figures follow."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from finishadvisor.errors import UsageError
from finishadvisor.evenness.color import linear_from_lab
from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.evenness.profile import srgb_encoded

SIZE_FT = (12.0, 9.0)


def saved(lab: np.ndarray, path: Path, light: np.ndarray | float = 1.0) -> Path:
    """Write a slab of CIELAB values, 2 px an inch, row 0 on top, under a light, with a little grain."""
    grain = np.random.default_rng(1).normal(0, 0.4, lab.shape[:2])
    linear = linear_from_lab(lab + grain[:, :, None] * [1, 0, 0]) * np.asarray(light)[..., None]
    Image.fromarray(np.round(255 * srgb_encoded(linear)).astype(np.uint8)).save(path)
    return path


def plain_slab() -> np.ndarray:
    return np.tile(np.array([52.0, 6.0, 10.0]), (216, 288, 1))


def test_an_even_slab_under_falling_light_reads_even(tmp_path: Path) -> None:
    fall = np.exp(np.linspace(0.3, -0.3, 288))[None, :] * np.ones((216, 1))
    measured = measure(saved(plain_slab(), tmp_path / "even.png", fall), PhotoMarks(size_ft=SIZE_FT)).evenness
    assert measured.refused is None
    assert measured.grade == "even"
    assert measured.share_over["3"] == 0
    assert measured.patches == ()


def test_a_patch_is_found_where_it_is(tmp_path: Path) -> None:
    slab = plain_slab()
    slab[216 - 96 : 216 - 48, 120:192] += [6, 0, 0]  # x 5 to 8 ft, y 2 to 4 ft from the lower left corner
    (patch,) = measure(saved(slab, tmp_path / "patch.png"), PhotoMarks(size_ft=SIZE_FT)).evenness.patches
    assert (patch.x_ft, patch.y_ft) == pytest.approx((5, 2), abs=0.25)
    assert (patch.width_ft, patch.length_ft) == pytest.approx((3, 2), abs=0.3)
    assert patch.dL == pytest.approx(6, abs=0.7)


def test_marks_that_cannot_be_meant_are_refused(tmp_path: Path) -> None:
    photo = saved(plain_slab(), tmp_path / "slab.png")
    crossed = ((0, 0), (288, 216), (288, 0), (0, 216))
    with pytest.raises(UsageError, match="cross"):
        measure(photo, PhotoMarks(corners=crossed, size_ft=SIZE_FT))
    with pytest.raises(UsageError, match="outside"):
        measure(photo, PhotoMarks(corners=((0, 0), (300, 0), (288, 216), (0, 216)), size_ft=SIZE_FT))
    with pytest.raises(UsageError, match="size"):
        measure(photo, PhotoMarks(corners=((0, 0), (288, 0), (288, 216), (0, 216))))
    with pytest.raises(UsageError, match="more than 0"):
        measure(photo, PhotoMarks(size_ft=(0, 9)))
