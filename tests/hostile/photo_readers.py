"""The readers of photos and of their marks."""

import json
import warnings
from pathlib import Path

from tests.hostile.one_reader import Take, answered


def photo_reader(folder: Path) -> Take:
    from finishadvisor.evenness.measure import PhotoMarks, measure
    from tests.hostile.odd_photos import SIZE_FT

    path = folder / "photo"

    def take(data: bytes) -> None:
        path.write_bytes(data)
        with warnings.catch_warnings():
            warnings.simplefilter("error", RuntimeWarning)
            answered(lambda: json.dumps(measure(path, PhotoMarks(size_ft=SIZE_FT)).evenness.as_json(), allow_nan=False))

    return take


def header_reader(folder: Path) -> Take:
    """Size, turning and color profile: what is read of a photo before and beside its pixels."""
    from finishadvisor.evenness.photo import picture_size
    from finishadvisor.evenness.profile import read_profile

    path = folder / "photo"

    def take(data: bytes) -> None:
        path.write_bytes(data)
        with warnings.catch_warnings():
            warnings.simplefilter("error", RuntimeWarning)
            answered(lambda: picture_size(path))
            answered(lambda: read_profile(data, high_bytes=False))

    return take


def mark_reader(_: Path) -> Take:
    """Option and text, as `--corners 4,4 124,4 124,92 4,92`; a line each."""
    from finishadvisor.cli.marks import marks_from_options

    def take(data: bytes) -> None:
        options: dict[str, object] = {"corners": None, "points": None, "size": None, "sheet": [], "leave_out": [],
                                      "wet": []}  # fmt: skip
        for line in data.decode("utf-8", "replace").splitlines()[:12]:
            name, _, value = line.removeprefix("--").partition(" ")
            name = name.replace("-", "_")
            held = options.get(name)
            if isinstance(held, list):
                held.append(value)
            elif name in options:
                options[name] = value
        answered(lambda: marks_from_options(options))

    return take


def sound_marks() -> list[bytes]:
    first = "--corners 4,4 124,4 124,92 4,92\n--size 2ft x 1.5ft\n--sheet 60,40=0.18\n--wet 50,50 80,50 80,80"
    second = "--points 4,4=0,0 124,4=2ft,0 124,92=24in,1ft6in 4,92=0,0.4m\n--leave-out 10,10 40,10 40,40\n--sheet 6,4"
    return [first.encode(), second.encode()]


def photo_bytes() -> list[bytes]:
    from tests.hostile.odd_photos import whole_photos, wide_gamut_profile

    return [*whole_photos().values(), wide_gamut_profile()]
