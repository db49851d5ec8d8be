"""Photos of very many pixels, reduced while they are decoded or refused; JPEG files that end before they should."""

import io
import struct
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.demo.render import Camera
from finishadvisor.evenness import picture_file
from finishadvisor.evenness.jpeg import ends_early, in_one_scan
from finishadvisor.evenness.marks import PhotoMarks
from finishadvisor.evenness.measure import measure
from finishadvisor.evenness.photo import read_photo
from finishadvisor.evenness.reduced import reduced_marks

from .conftest import falling_light, patched, slab_lab

CAMERA = Camera((6, -5, 11), (6, 4.4), 2401, 1801, 26)
WAYS = ({}, {"progressive": True}, {"subsampling": 0}, {"restart_marker_blocks": 5}, {"optimize": True})


@pytest.fixture
def kept_megapixels(monkeypatch: pytest.MonkeyPatch):
    """Set how many megapixels a JPEG may have before it is reduced."""

    def set_to(value: float) -> None:
        own = {"photo-megapixels-kept": value}
        monkeypatch.setattr(picture_file, "evenness_limit", lambda name: own.get(name) or evenness_limit(name))

    return set_to


@pytest.mark.parametrize("by", [2, 4])
def test_a_reduced_photo_is_measured_like_the_whole_one(shoot, kept_megapixels, by: int) -> None:
    lab = patched(patched(slab_lab(12, 10, lab=(48.0, 9.0, 14.0)), 2, 2, 3, 2, (5, 0, 1)), 7, 5, 2, 3, (-4.5, 1, 0))
    shot = shoot(lab, light=falling_light(lab, 0.8), cards=((6, 5), (1.2, 8.8)), camera=CAMERA)
    corner = shot.marks.corners[0]
    out = ((corner[0], corner[1]), (corner[0] + 200, corner[1]), (corner[0] + 200, corner[1] - 200))
    marks = PhotoMarks(shot.marks.corners, size_ft=shot.marks.size_ft, sheets=shot.marks.sheets, leave_out=(out,))
    whole = measure(shot.path, marks).evenness
    kept_megapixels(2401 * 1801 / 1e6 / by**2 + 0.01)
    assert read_photo(shot.path).reduced_by == by
    reduced = measure(shot.path, marks).evenness
    assert reduced.refused is None
    assert (reduced.caveats, reduced.level) == (whole.caveats, whole.level)
    assert reduced.share_over["3"] == pytest.approx(whole.share_over["3"], abs=0.015)
    assert reduced.p95_de00 == pytest.approx(whole.p95_de00, abs=0.3 * whole.sigma.p95_de00)
    assert reduced.typical_lab == pytest.approx(whole.typical_lab, abs=0.3)
    assert reduced.masked["left-out"] == pytest.approx(whole.masked["left-out"], abs=0.002)
    for found, expected in zip(reduced.patches, whole.patches, strict=True):
        assert (found.x_ft, found.y_ft) == pytest.approx((expected.x_ft, expected.y_ft), abs=0.2)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_each_pixel_of_a_reduced_photo_is_the_mean_of_its_own_square(tmp_path, kept_megapixels, orientation) -> None:
    smooth = np.add.outer(np.arange(90.0), np.arange(130.0) / 2)[:, :, None] + [20, 40, 60]
    exif = Image.Exif()
    exif[0x0112] = orientation
    path = tmp_path / "smooth.jpg"
    Image.fromarray(smooth.astype(np.uint8)).save(path, quality=98, subsampling=0, exif=exif)
    whole = read_photo(path).codes.astype(float)
    kept_megapixels(0.01)
    reduced = read_photo(path)
    assert reduced.reduced_by == 2
    means = whole.reshape(whole.shape[0] // 2, 2, whole.shape[1] // 2, 2, 3).mean(axis=(1, 3))
    assert np.abs(reduced.codes - means).max() <= 2


def test_marks_go_with_the_picture() -> None:
    marks = PhotoMarks(
        points=tuple(((8.0 * x, 4.0 * y), (x, y)) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))), size_ft=(3, 2),
        sheets=(((10, 6), 0.18),), wet=(((4, 4), (8, 4), (8, 8)),),
    )  # fmt: skip
    half = reduced_marks(marks, 2)
    assert half.points[2] == ((4, 2), (1, 1))
    assert half.sheets == (((5, 3), 0.18),)
    assert half.wet == (((2, 2), (4, 2), (4, 4)),)
    assert (half.corners, half.size_ft, half.leave_out) == (None, (3, 2), ())


def grainy(width: int = 400, height: int = 300) -> Image.Image:
    return Image.fromarray(np.random.default_rng(3).normal(130, 9, (height, width, 3)).clip(0, 255).astype(np.uint8))


def as_jpeg(image: Image.Image, **options: object) -> bytes:
    file = io.BytesIO()
    image.save(file, "JPEG", **options)
    return file.getvalue()


def claiming(data: bytes, width: int, height: int) -> bytes:
    """Return a JPEG whose frame header says another size."""
    frame = next(place for place in (data.find(b"\xff\xc0"), data.find(b"\xff\xc2")) if place > 0)
    return data[: frame + 5] + struct.pack(">HH", height, width) + data[frame + 9 :]


def cut_with_end_mark(data: bytes, share: float) -> bytes:
    """Return a JPEG of which only this share of its first scan is left, the end mark put behind it."""
    start = data.index(b"\xff\xda")
    end = min(place for place in (data.find(mark, start) for mark in (b"\xff\xd9", b"\xff\xc4")) if place > 0)
    return data[: start + 20 + int((end - start - 20) * share)].rstrip(b"\xff") + b"\xff\xd9"


@pytest.mark.parametrize("options", WAYS, ids=str)
def test_a_jpeg_that_ends_early_is_refused_though_it_bears_an_end_mark(tmp_path: Path, options: dict) -> None:
    whole = as_jpeg(grainy(), **options)
    path = tmp_path / "photo.jpg"
    path.write_bytes(whole)
    assert measure(path, PhotoMarks(size_ft=(4, 3))).evenness.refused is None
    for share in (0.1, 0.5, 0.9, 0.98):
        path.write_bytes(cut_with_end_mark(whole, share))
        assert measure(path, PhotoMarks(size_ft=(4, 3))).evenness.refused == ("cut-short",), share


@pytest.mark.parametrize("options", WAYS, ids=str)
def test_a_plain_gray_corner_is_not_taken_for_an_early_end(tmp_path: Path, options: dict) -> None:
    image = grainy()
    image.paste((128, 128, 128), (0, 180, 400, 300))
    whole = as_jpeg(image, **options)
    assert (np.asarray(Image.open(io.BytesIO(whole)))[-8:, -8:] == 128).all()
    assert not ends_early(whole)
    assert not ends_early(whole + b"\0" * 100)
    path = tmp_path / "photo.jpg"
    path.write_bytes(whole)
    assert read_photo(path).codes.shape == (300, 400, 3)


def test_the_first_of_two_pictures_in_a_file_is_looked_at(tmp_path: Path) -> None:
    file = io.BytesIO()
    grainy().save(file, "MPO", save_all=True, append_images=[grainy()])
    assert not ends_early(file.getvalue())


def test_pictures_in_one_scan_are_told_from_those_held_whole() -> None:
    assert in_one_scan(io.BytesIO(as_jpeg(grainy())))
    assert in_one_scan(io.BytesIO(as_jpeg(grainy().convert("L"))))
    assert not in_one_scan(io.BytesIO(as_jpeg(grainy(), progressive=True)))
    assert not in_one_scan(io.BytesIO(b"\xff\xd8\xff"))


@pytest.mark.parametrize(
    ("size", "options", "refused"),
    [
        ((16_320, 12_240), {}, "cut-short"),  # a phone's 200 megapixels are let in; this file only claims them
        ((16_320, 15_400), {}, "too-many-pixels"),
        ((10_000, 9_900), {"progressive": True}, "cut-short"),
        ((10_100, 10_000), {"progressive": True}, "too-many-pixels"),
    ],
)
def test_what_is_let_in_depends_on_how_it_is_decoded(tmp_path: Path, size, options, refused: str) -> None:
    path = tmp_path / "claims.jpg"
    path.write_bytes(claiming(as_jpeg(grainy(64, 64), **options), *size))
    evenness = measure(path, PhotoMarks(size_ft=(20, 15))).evenness
    assert evenness.refused == (refused,)
    assert f"({size[0]} x {size[1]}" in evenness.warnings[0] or refused == "cut-short"
