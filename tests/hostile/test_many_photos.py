"""Many photos of one floor: what is kept of each does not grow with the number of the others, and is little."""

import datetime
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from finishadvisor.evenness import color
from finishadvisor.evenness.plan_maps import lay_on_plan
from finishadvisor.whole_job.opened import open_for
from finishadvisor.whole_job.photos import measure_floor
from tests.evenness.test_together import flat, made, placed
from tests.hostile.odd_photos import saved, slab

DAY = datetime.date(2026, 9, 21)
BYTES_A_CELL = 5 * 4 + 1
"""CIELAB, the difference and its error in single precision, and whether the cell counts."""


def bytes_laid(bays: int) -> int:
    maps = [made(flat(20, 20)).shade for _ in range(bays)]
    plan = lay_on_plan([shade for shade in maps if shade], [placed(5 * bay, 0) for bay in range(bays)])
    return sum(laid.lab.nbytes + laid.error.nbytes for laid in plan.maps)


def test_bays_side_by_side_take_the_room_that_they_fill() -> None:
    assert bytes_laid(40) < 1.2 * 4 * bytes_laid(10)


def test_colors_compared_block_by_block_differ_like_those_compared_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    chance = np.random.default_rng(4)
    labs = chance.normal(50, 12, (37, 41, 3))
    for other in (chance.normal(50, 12, labs.shape), chance.normal(50, 12, 3)):
        at_once = color.color_difference(labs, other)
        with monkeypatch.context() as smaller:
            smaller.setattr(color, "BLOCK_COLORS", 100)
            assert np.array_equal(color.color_difference(labs, other), at_once)
        assert at_once[3, 5] == color.color_difference(labs[3, 5], other if other.ndim == 1 else other[3, 5])


def job_of(folder: Path, count: int) -> Path:
    """Make a job whose floor has this many small photos side by side."""
    (folder / "photos").mkdir(parents=True)
    text = f'name = "many"\n[[floor]]\nname = "hall"\n[[floor.outline.rectangle]]\nx = {2 * count}\ny = 1.5\n'
    for number in range(count):
        (folder / "photos" / f"{number}.jpg").write_bytes(saved(slab(), "JPEG"))
        text += f'[[floor.photo]]\nfile = "{number}.jpg"\norigin_on_plan = [{2 * number}, 0]\nsize = [2, 1.5]\n'
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return folder


def test_no_more_is_kept_of_a_photo_than_comparing_and_joining_need(tmp_path: Path) -> None:
    opened = open_for(job_of(tmp_path / "job", 2), DAY)
    (floor,) = opened.floors_named(None)
    lines: list[str] = []
    measured, _ = measure_floor(opened.folder, floor, opened.catalog, DAY, lines.append, with_pictures=False)
    for each in measured:
        shade = each.shade
        assert shade is not None
        arrays = (shade.lab, shade.de00, shade.error_L, shade.used, shade.picture)
        assert sum(values.nbytes for values in arrays) == shade.used.size * BYTES_A_CELL
    assert [line.split(",")[0] for line in lines] == [f"hall: photo {k} of 2 is measured" for k in (1, 2)]


@pytest.mark.skipif(os.name == "nt", reason="Windows sends the keys to the whole console")
def test_measuring_many_photos_can_be_stopped_and_leaves_things_whole(tmp_path: Path) -> None:
    job = job_of(tmp_path / "job", 400)
    before = {path: path.read_bytes() for path in job.rglob("*") if path.is_file()}
    process = subprocess.Popen(
        [sys.executable, "-m", "finishadvisor", "evenness", str(job), "--json", str(tmp_path / "out.json")],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8", start_new_session=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )  # fmt: skip
    assert process.stdout is not None
    assert "photo 1 of 400 is measured" in process.stdout.readline()
    os.killpg(process.pid, signal.SIGINT)  # what Ctrl-C does: every process of the command gets it
    _, said = process.communicate(timeout=60)
    assert process.returncode == 1
    assert said.strip() == "Stopped. What was finished before is kept."
    assert not (tmp_path / "out.json").exists()
    time.sleep(0.5)
    assert {path: path.read_bytes() for path in job.rglob("*") if path.is_file()} == before
