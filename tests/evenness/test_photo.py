"""Reading: formats, turning, profiles, depth; and files that are no photo."""

import struct
import time
import tracemalloc
import zlib
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms

from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.evenness.photo import RefusedError, picture_size, read_photo
from finishadvisor.evenness.profile import read_profile, srgb_linear
from finishadvisor.evenness.words import Caveat, Refusal

ORIENTATION = 0x0112


def two_tone() -> np.ndarray:
    picture = np.zeros((40, 60, 3), dtype=np.uint8)
    picture[:20, :30] = (200, 50, 50)
    picture[20:, :] = (40, 90, 160)
    return picture


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_exif_orientation_reads_upright(tmp_path: Path, orientation: int) -> None:
    from PIL import ImageOps

    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    path = tmp_path / "turned.png"
    Image.fromarray(two_tone()).save(path, exif=exif)
    with Image.open(path) as image:
        upright = np.asarray(ImageOps.exif_transpose(image))
    assert picture_size(path) == (upright.shape[1], upright.shape[0])
    assert np.array_equal(read_photo(path).codes, upright)


@pytest.mark.parametrize(
    ("ending", "format_name"), [("png", "PNG"), ("tif", "TIFF"), ("webp", "WEBP"), ("heic", "HEIF")]
)
def test_other_formats_read_like_png(tmp_path: Path, ending: str, format_name: str) -> None:
    import pillow_heif

    pillow_heif.register_heif_opener()
    path = tmp_path / f"slab.{ending}"
    options = {"PNG": {}, "TIFF": {}, "WEBP": {"lossless": True}, "HEIF": {"quality": 95}}[format_name]
    Image.fromarray(two_tone()).save(path, format_name, **options)
    codes = read_photo(path).codes
    assert codes.shape == (40, 60, 3)
    assert np.abs(codes[5, 5].astype(int) - (200, 50, 50)).max() <= 8


def test_sixteen_bit_files_read_to_a_part_of_a_code(tmp_path: Path) -> None:
    values = np.linspace(2000, 60000, 64).astype(np.uint16).reshape(8, 8)
    path = tmp_path / "deep.png"
    Image.fromarray(values).save(path)
    photo = read_photo(path)
    light = photo.profile.table[photo.codes[:, :, 0], 0]
    assert light == pytest.approx(srgb_linear(values / 65535), abs=0.006)
    assert float((light - srgb_linear(values / 65535)).mean()) == pytest.approx(0, abs=3e-4)  # no bias from the cut


def matrix_profile(columns_d50: np.ndarray, gamma: float) -> bytes:
    """A minimal ICC matrix profile, written by hand."""

    def xyz(column: np.ndarray) -> bytes:
        return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(v * 65536) for v in column))

    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(gamma * 256)) + b"\0\0"
    parts = {b"rXYZ": xyz(columns_d50[:, 0]), b"gXYZ": xyz(columns_d50[:, 1]), b"bXYZ": xyz(columns_d50[:, 2])}
    parts |= {b"rTRC": curve, b"gTRC": curve, b"bTRC": curve}
    table, body, offset = b"", b"", 132 + 12 * len(parts)
    for name, content in parts.items():
        table += struct.pack(">4sII", name, offset + len(body), len(content))
        body += content
    head = bytearray(128)
    head[16:20], head[20:24], head[36:40] = b"RGB ", b"XYZ ", b"acsp"
    return bytes(head) + struct.pack(">I", len(parts)) + table + body


def test_a_wide_gamut_profile_is_not_clipped() -> None:
    # P3 primaries under a D65 white, adapted to D50 (from memory)
    p3 = np.array([[0.51512, 0.29198, 0.15710], [0.24120, 0.69225, 0.06657], [-0.00105, 0.04189, 0.78407]])
    profile = read_profile(matrix_profile(p3, 2.2))
    assert not profile.guessed
    assert profile.to_srgb is not None
    red = profile.to_srgb @ [1.0, 0, 0]
    # Display P3 red in linear sRGB: 1.2249, -0.0420, -0.0196 (CSS Color 4 sample values, from memory)
    assert red == pytest.approx([1.2249, -0.0420, -0.0196], abs=0.002)
    assert profile.to_srgb @ [1.0, 1, 1] == pytest.approx([1, 1, 1], abs=0.002)
    assert profile.table[128, 0] == pytest.approx((128 / 255) ** 2.2, rel=0.01)


def test_the_srgb_profile_changes_nothing() -> None:
    icc = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    profile = read_profile(icc)
    assert profile.to_srgb is None
    assert profile.table[:, 0] == pytest.approx(srgb_linear(np.arange(256) / 255), abs=2e-4)


def test_a_profile_that_cannot_be_used_is_said(tmp_path: Path) -> None:
    path = tmp_path / "odd.png"
    Image.fromarray(two_tone()).save(path, icc_profile=b"not a profile at all" * 20)
    assert Caveat.COLOR_PROFILE_GUESSED in read_photo(path).caveats


def test_the_camera_s_notes_become_caveats(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif.get_ifd(0x8769).update({0x9209: 1, 0xA404: 2.0, 0xA405: 14})
    path = tmp_path / "flash.jpg"
    Image.fromarray(two_tone()).save(path, exif=exif)
    assert read_photo(path).caveats == (Caveat.FLASH, Caveat.DIGITAL_ZOOM, Caveat.ULTRA_WIDE_LENS)


def bomb(path: Path, side: int = 30_000) -> Path:
    """A small PNG that claims `side` x `side` pixels and would unpack to all of them."""

    def chunk(name: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))

    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 1_000_000, 9)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b""))
    return path


def test_files_that_are_no_photo_are_answered_by_one_line(tmp_path: Path) -> None:
    whole = BytesIO()
    Image.fromarray(np.random.default_rng(0).integers(0, 255, (300, 400, 3), dtype=np.uint8)).save(whole, "JPEG")
    cases = {
        "empty.jpg": (b"", Refusal.CANNOT_BE_READ),
        "words.jpg": ("Nothing but words.\n" * 50).encode(),
        "short.jpg": (whole.getvalue()[: len(whole.getvalue()) // 2], Refusal.CUT_SHORT),
        "head.jpg": (whole.getvalue()[:200], None),
    }  # fmt: skip
    cases["words.jpg"] = (cases["words.jpg"], Refusal.CANNOT_BE_READ)
    marks = PhotoMarks(size_ft=(10, 8))
    for name, (content, wanted) in cases.items():
        path = tmp_path / name
        path.write_bytes(content)
        measured = measure(path, marks)
        assert measured.shade is None
        refused = measured.evenness.refused
        assert refused == ((wanted.value,) if wanted else refused)
        assert refused
        (line,) = measured.evenness.warnings
        assert name in line
        assert "\n" not in line
        assert measured.evenness.grade is None


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    assert measure(tmp_path / "none.jpg", PhotoMarks(size_ft=(10, 8))).evenness.refused == ("cannot-be-read",)


def test_a_huge_picture_is_refused_quickly_and_in_small_memory(tmp_path: Path) -> None:
    path = bomb(tmp_path / "bomb.png")
    tracemalloc.start()
    start = time.perf_counter()
    refused = measure(path, PhotoMarks(size_ft=(10, 8))).evenness.refused
    spent, (_, peak) = time.perf_counter() - start, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert refused == (Refusal.TOO_MANY_PIXELS.value,)
    assert peak < 50e6
    assert spent < 20  # the picture is never unpacked; a hang, not slowness, is what this finds


def test_a_picture_just_over_the_limit_is_refused_with_its_size(tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="12000 x 12000"):
        picture_size(bomb(tmp_path / "large.png", 12_000))
