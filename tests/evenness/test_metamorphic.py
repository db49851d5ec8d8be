"""What must not change the answer: exposure, white balance, mirror, turn, scale, JPEG quality, cells, crop."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from finishadvisor.demo.render import Camera
from finishadvisor.evenness.measure import PhotoMarks, measure

from .conftest import falling_light, patched, slab_lab

POINT = 0.01
CAMERA = Camera((6, -5, 11), (6, 4.4), 1600, 1200, 26)


def blotchy() -> np.ndarray:
    lab = slab_lab(12, 10, lab=(48.0, 9.0, 14.0))
    lab = patched(lab, 2, 2, 3, 2, (5, 0, 1))
    return patched(lab, 7, 5, 2, 3, (-4.5, 1, 0))


@pytest.fixture
def base(shoot):
    lab = blotchy()
    return shoot(lab, light=falling_light(lab, 0.8), cards=((6, 5), (1.2, 8.8)), camera=CAMERA)


def share(path: Path, marks: PhotoMarks, **options) -> float:
    found = measure(path, marks, **options).evenness
    assert found.refused is None, found.warnings
    return found.share_over["3"]


@pytest.mark.parametrize(
    "change",
    [{"gain": 0.5}, {"gain": 0.8}, {"gain": 1.6}, {"gain": 2.0}, {"white": (1.25, 1, 0.8)}, {"white": (0.8, 1, 1.2)}],
)  # fmt: skip
def test_with_a_gray_card_exposure_and_white_balance_do_not_matter(shoot, base, change) -> None:
    lab = blotchy()
    options = {"gain": 1.0, **change}
    other = shoot(
        lab, light=falling_light(lab, 0.8), cards=((6, 5), (1.2, 8.8)), camera=CAMERA, name="other.jpg", **options
    )
    assert share(other.path, other.marks) == pytest.approx(share(base.path, base.marks), abs=2 * POINT)


@pytest.mark.parametrize("gain", [0.5, 2.0])
def test_without_a_card_the_printed_range_covers_exposure(shoot, gain) -> None:
    lab = blotchy()
    plain = shoot(lab, light=falling_light(lab, 0.8), camera=CAMERA, gain=1.0)
    other = shoot(lab, light=falling_light(lab, 0.8), camera=CAMERA, gain=gain, name="other.jpg")
    first, second = plain.measured().evenness, other.measured().evenness
    assert abs(first.share_over["3"] - second.share_over["3"]) <= 2 * first.sigma.share_over_3
    assert abs(first.p95_de00 - second.p95_de00) <= 2 * first.sigma.p95_de00
    assert second.grade in first.grade_range or first.grade in second.grade_range


def test_mirror_and_turn_change_nothing(base, tmp_path) -> None:
    """A lossless copy, mirrored or turned with its marks, gives the same shares."""
    picture = np.asarray(Image.open(base.path))
    rows, cols = picture.shape[:2]
    straight = tmp_path / "straight.png"
    Image.fromarray(picture).save(straight)
    wanted = share(straight, base.marks)
    turns = {
        "mirrored": (picture[:, ::-1], lambda x, y: (cols - x, y)),
        "turned": (np.rot90(picture, 2), lambda x, y: (cols - x, rows - y)),
        "on its side": (np.rot90(picture), lambda x, y: (y, cols - x)),
    }
    for name, (turned, move) in turns.items():
        path = tmp_path / f"{name}.png"
        Image.fromarray(turned).save(path)
        marks = PhotoMarks(
            corners=tuple(move(*corner) for corner in base.marks.corners),
            size_ft=base.marks.size_ft,
            sheets=tuple((move(*place), value) for place, value in base.marks.sheets),
        )
        assert share(path, marks) == pytest.approx(wanted, abs=0.2 * POINT), name


def test_scale_and_jpeg_quality_hardly_matter(base, tmp_path) -> None:
    wanted = share(base.path, base.marks)
    for quality in (70, 85, 100):
        path = tmp_path / f"q{quality}.jpg"
        Image.fromarray(base.picture).save(path, quality=quality)
        assert share(path, base.marks) == pytest.approx(wanted, abs=1.5 * POINT)
    for scale in (0.6, 1.5):
        path = tmp_path / f"s{scale}.png"
        size = (round(1600 * scale), round(1200 * scale))
        Image.fromarray(base.picture).resize(size, Image.Resampling.LANCZOS).save(path)
        marks = PhotoMarks(
            corners=tuple((x * scale, y * scale) for x, y in base.marks.corners),
            size_ft=base.marks.size_ft,
            sheets=tuple(((x * scale, y * scale), value) for (x, y), value in base.marks.sheets),
        )
        assert share(path, marks) == pytest.approx(wanted, abs=1.5 * POINT)


@pytest.mark.parametrize("cell_in", [0.5, 1.5, 2.0])
def test_the_figures_do_not_depend_on_the_cells(base, cell_in) -> None:
    one, other = base.measured(), base.measured(cell_in=cell_in)
    assert one.evenness == other.evenness
    assert other.shade.used.shape == (round(10 * 12 / cell_in), round(12 * 12 / cell_in))
    on_map = float((other.shade.de00[other.shade.used] > 3).mean())
    assert on_map == pytest.approx(one.evenness.share_over["3"], abs=1.5 * POINT)


def test_a_part_of_the_slab_has_the_map_of_the_whole(shoot, base) -> None:
    """Marking 9 x 7.5 ft of the 12 x 10 ft gives the same map, up to one constant."""
    x0, y0, wide, deep = 1.5, 1.25, 9.0, 7.5
    u, v = CAMERA.pixels_of(np.array([x0, x0 + wide, x0 + wide, x0]), np.array([y0, y0, y0 + deep, y0 + deep]))
    part = measure(base.path, PhotoMarks(corners=tuple(zip(u.tolist(), v.tolist(), strict=True)), size_ft=(wide, deep)))
    whole = base.measured(stated_lab=part.evenness.typical_lab)
    rows, cols = slice(15, 15 + 90), slice(18, 18 + 108)
    both = whole.shade.used[rows, cols] & part.shade.used
    off = (whole.shade.lab[rows, cols, 0] - part.shade.lab[:, :, 0])[both]
    assert off.std() < 0.4


def test_the_same_photo_gives_the_same_answer_twice(base) -> None:
    first, second = base.measured(), base.measured()
    assert first.evenness == second.evenness
    assert np.array_equal(first.shade.lab, second.shade.lab, equal_nan=True)
