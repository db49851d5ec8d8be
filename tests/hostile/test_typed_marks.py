"""Marks of a photo and amounts as typed on the command line end in a result or in one line."""

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from PIL import Image

from finishadvisor.whole_job.opened import open_for
from tests.hostile.command import run_line
from tests.hostile.kept_examples import examples
from tests.hostile.odd_photos import slab_codes
from tests.hostile.one_reader import ON

NUMBERS = st.sampled_from([
    "0",
    "1",
    "64",
    "127",
    "128",
    "95",
    "-3",
    "1e9",
    "nan",
    "inf",
    "1e400",
    "x",
    "",
    "0.5",
    "٣",
    "--1",
])
PIXELS = st.builds(lambda x, y, comma: f"{x}{comma}{y}", NUMBERS, NUMBERS, st.sampled_from([",", ",", ",", " ", ";"]))
LENGTHS = st.sampled_from([
    "2ft",
    "1.5 ft",
    "24ft 6in",
    "0",
    "-1ft",
    "1e9ft",
    "nan",
    "inf ft",
    "",
    "7 furlongs",
    "2m",
    "1mm",
    "2",
    "9" * 400 + "ft",
    "1/0 ft",
    "2' 6\"",
])


def joined(one: st.SearchStrategy[str], low: int, high: int) -> st.SearchStrategy[str]:
    return st.lists(one, min_size=low, max_size=high).map(" ".join)


MARKS = st.fixed_dictionaries(
    {},
    optional={
        "--corners": joined(PIXELS, 3, 5) | st.just("4,4 124,4 124,92 4,92"),
        "--points": joined(st.builds(lambda p, a, b: f"{p}={a},{b}", PIXELS, LENGTHS, LENGTHS), 3, 6)
        | st.just("4,4=0,0 124,4=2ft,0 124,92=2ft,1.5ft 4,92=0,1.5ft"),
        "--size": st.builds(lambda a, x, b: f"{a}{x}{b}", LENGTHS, st.sampled_from([" x ", "x", "×", " "]), LENGTHS)
        | st.just("2ft x 1.5ft"),
        "--sheet": st.builds(lambda p, r: f"{p}={r}", PIXELS, NUMBERS) | PIXELS | st.just("60,40=0.18"),
        "--leave-out": joined(PIXELS, 1, 5) | st.just("10,10 40,10 40,40"),
        "--wet": joined(PIXELS, 1, 5) | st.just("50,50 80,50 80,80"),
        "--cell": LENGTHS | st.sampled_from(["1in", "0.25in", "0.001in", "24in", "1e-300in"]),
    },
)


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    Image.fromarray(slab_codes()).save(tmp_path / "slab.png")
    return tmp_path / "slab.png"


@examples(100)
@given(marks=MARKS)
@example(marks={"--points": "4,4=0,0 124,4=2ft,0 124,92=2ft,1.5ft 64,4=1ft,0"})
@example(marks={"--points": "4,4=0,0 4,4=0,0 4,4=0,0 4,4=0,0"})
@example(marks={"--corners": "nan,4 124,4 124,92 4,92", "--size": "2ft x 1.5ft"})
@example(marks={"--size": "2ft x 1.5ft", "--leave-out": "0,0 128,0 128,96 0,96"})
@example(marks={"--size": "2ft x 1.5ft", "--wet": "0,0 128,0 128,96 0,96"})
@example(marks={"--size": "1000ft x 1mm"})
def test_any_marks_are_measured_or_answered(
    marks: dict[str, str], photo: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    words = [word for name, value in marks.items() for word in (f"{name}={value}",)]
    run_line(capfd, "evenness", photo, *words)


@examples(40)
@given(
    amount=NUMBERS,
    area=NUMBERS,
    coats=NUMBERS,
    day=st.sampled_from(["2026-09-21", "0001-01-01", "9999-12-31", "x", ""]),
    lot=st.sampled_from(["A7", "", " ", "\u202e", "a\nb", "x" * 400]),
)
def test_any_amount_used_is_written_or_answered(
    amount: str, area: str, coats: str, day: str, lot: str, full_job: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    before = (full_job / "job.toml").read_bytes()
    code, _ = run_line(
        capfd, "used", full_job, "--floor=Glaze room", "--material=flake", "--layer=flake", f"--amount={amount}",
        f"--area={area}", f"--coats={coats}", f"--on={day}", f"--lot={lot}",
    )  # fmt: skip
    assert code == 0 or (full_job / "job.toml").read_bytes() == before
    open_for(full_job, ON)
