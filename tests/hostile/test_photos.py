"""Whatever a photo file holds, it ends in a measurement or a refusal with its sentence, within bounds."""

import json
import math
import random
import struct
import subprocess
import sys
import warnings
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from finishadvisor.evenness.measure import PhotoMarks, measure
from finishadvisor.evenness.profile import read_profile
from finishadvisor.evenness.words import REFUSAL_SENTENCES, Grade
from finishadvisor.records.evenness import Evenness
from tests.hostile.command import run_line
from tests.hostile.damage import DAMAGES, cuts, damaged
from tests.hostile.odd_photos import SIZE_FT, profile_of, saved, slab, slab_codes, whole_photos, wide_gamut_profile
from tests.hostile.swollen_photos import bombs

SAVED = Path(__file__).with_name("saved")
MARKS = PhotoMarks(size_ft=SIZE_FT)
NO_PHOTOS = {"gif", "gif animated", "bmp"}
FEW_SHADES = {"png black and white": ("blown-out",), "tiff integers": ("too-dark",)}
"""Kinds that hold the slab in too few codes to be judged."""
TOO_LARGE = {
    "png claims 900 MP", "jpeg claims 4290 MP", "jpeg progressive claims 121 MP", "tiff claims 3600 MP",
    "webp claims 268 MP",
}  # fmt: skip
WRONG_PROFILES = {"jpeg wrong profile", "tiff CIELAB"}


def answer(folder: Path, data: bytes) -> Evenness:
    """Measure these bytes, and check what every answer must hold."""
    path = folder / "photo"
    path.write_bytes(data)
    with warnings.catch_warnings():
        warnings.simplefilter("error", RuntimeWarning)
        evenness = measure(path, MARKS).evenness
    text = json.dumps(evenness.as_json(), allow_nan=False)
    assert "NaN" not in text
    if evenness.refused:
        assert all(refusal in {str(one) for one in REFUSAL_SENTENCES} for refusal in evenness.refused)
        assert evenness.grade is None
    else:
        assert evenness.grade in set(Grade)
        assert evenness.p95_de00 is not None
        assert math.isfinite(evenness.p95_de00)
    return evenness


@pytest.mark.parametrize("kind", whole_photos())
def test_whole_photos_of_every_kind_are_measured(kind: str, tmp_path: Path) -> None:
    evenness = answer(tmp_path, whole_photos()[kind])
    if kind in NO_PHOTOS:
        assert evenness.refused == ("cannot-be-read",)
    elif kind in FEW_SHADES:
        assert evenness.refused == FEW_SHADES[kind]
    else:
        assert evenness.refused is None
        assert ("color-profile-guessed" in evenness.caveats) == (kind in WRONG_PROFILES)


def test_the_first_picture_of_several_is_measured(tmp_path: Path) -> None:
    one = answer(tmp_path, whole_photos()["png"])
    for kind in ("png animated", "tiff pages"):
        assert answer(tmp_path, whole_photos()[kind]).typical_lab == one.typical_lab


@pytest.mark.parametrize("number", range(1, 9))
def test_each_orientation_is_turned_upright(number: int, tmp_path: Path) -> None:
    turns = {2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180, 4: Image.Transpose.FLIP_TOP_BOTTOM,
             5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE,
             8: Image.Transpose.ROTATE_270}  # fmt: skip
    stored = slab().transpose(turns[number]) if number > 1 else slab()
    exif = Image.Exif()
    exif[0x0112] = number
    upright = answer(tmp_path, saved(slab(), "PNG")).as_json()
    assert answer(tmp_path, saved(stored, "PNG", exif=exif)).as_json() == upright


@pytest.mark.parametrize("kind", bombs())
def test_files_that_claim_or_unpack_to_more_than_they_hold(kind: str, tmp_path: Path) -> None:
    evenness = answer(tmp_path, bombs()[kind])
    if kind in TOO_LARGE:
        assert evenness.refused == ("too-many-pixels",)
    elif kind.startswith("jpeg"):
        assert evenness.refused == ("cut-short",)


def test_photos_cut_off_anywhere_are_refused_or_measured(tmp_path: Path) -> None:
    refused = sum(bool(answer(tmp_path, data).refused) for _, data in cuts(8))
    assert refused > 300  # nearly all: a few lose no more than their last bytes


@pytest.mark.parametrize("start", range(0, 480, 120))
def test_damaged_photos_are_refused_or_measured(start: int, tmp_path: Path) -> None:
    answers = {}
    for number in range(start, start + 120):
        name, data = damaged(number)
        try:
            answers[name] = answer(tmp_path, data).refused
        except Exception as error:
            raise AssertionError(name) from error
    assert {bool(refused) for refused in answers.values()} == {True, False}


@pytest.mark.parametrize("file", sorted(SAVED.glob("photo-*")), ids=lambda path: path.name)
def test_photos_that_once_went_wrong(file: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    answer(tmp_path, file.read_bytes())
    run_line(capfd, "evenness", file, "--size", "2ft x 1.5ft")


def test_remarks_of_the_library_are_not_printed_beside_the_line() -> None:
    command = [sys.executable, "-m", "finishadvisor", "evenness", SAVED / "photo-library-remarks.tif"]
    done = subprocess.run([*command, "--size", "2ft x 1.5ft"], capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 1
    assert len(done.stderr.splitlines()) == 1, done.stderr


def test_a_lone_cell_among_masked_ones_is_no_difference(tmp_path: Path) -> None:
    codes = slab_codes(480, 360)
    codes[120:240, 120:240] = 255
    codes[160:180, 180:200] = slab_codes(480, 360)[160:180, 180:200]
    evenness = answer(tmp_path, saved(Image.fromarray(codes), "PNG"))
    assert evenness.masked["blown-out"] == pytest.approx(35 / 432, abs=1e-4)
    assert evenness.share_over["5"] == 0
    assert "object" not in evenness.masked


def parametric(form: int, *numbers: float) -> bytes:
    return b"para\0\0\0\0" + struct.pack(f">HH{len(numbers)}i", form, 0, *(round(n * 65536) for n in numbers))


def profile_with_curve(curve: bytes) -> bytes:
    sound = wide_gamut_profile()
    xyz = [(name, sound[start : start + 20]) for name, start in ((b"rXYZ", 204), (b"gXYZ", 224), (b"bXYZ", 244))]
    return profile_of([*xyz, *((name, curve) for name in (b"rTRC", b"gTRC", b"bTRC"))])


@pytest.mark.parametrize(
    ("form", "numbers", "guessed"),
    [
        (0, (2.2,), False),
        (3, (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045), False),
        (1, (2.4, 0.0, 0.5), True),
        (0, (-2.0,), True),
        (0, (-32768.0,), True),
        (9, (1.0,), True),
    ],
)
def test_tone_curves_that_no_camera_writes_are_said(form: int, numbers: tuple[float, ...], guessed: bool) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        profile = read_profile(profile_with_curve(parametric(form, *numbers)))
    assert profile.guessed is guessed
    assert profile.table.min() >= 0
    assert profile.table.max() <= 1


def test_a_profile_whose_primaries_are_not_white_together_is_said() -> None:
    sound = wide_gamut_profile()
    assert not read_profile(sound).guessed
    place = sound.index(struct.pack(">i", round(0.5151 * 65536)))
    assert read_profile(sound[:place] + struct.pack(">i", 30 * 65536) + sound[place + 4 :]).guessed


def test_damaged_profiles_end_in_a_profile(tmp_path: Path) -> None:
    curves = (
        parametric(3, 2.4, 0.948, 0.052, 0.077, 0.04),
        parametric(2, 2.4, 0.9, 0.05, 0.1),
        b"curv\0\0\0\0\0\0\0\0",
    )
    sound = [profile_with_curve(curve) for curve in curves]
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for number in range(1500):
            chance = random.Random(number)
            data = chance.choice(DAMAGES[:-1])(bytearray(sound[number % 3]), chance)
            profile = read_profile(bytes(data))
            assert np.isfinite(profile.table).all()
            assert profile.to_srgb is None or np.isfinite(profile.to_srgb).all()


@pytest.mark.parametrize("number", range(0, 480, 24))
def test_the_command_answers_damaged_photos_in_one_line(
    number: int, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(damaged(number)[1])
    run_line(capfd, "evenness", path, "--size", "2ft x 1.5ft", "--json", tmp_path / "out.json")
    assert json.loads((tmp_path / "out.json").read_text(encoding="utf-8"))["photo"] == "photo.jpg"
