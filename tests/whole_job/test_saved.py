"""A measurement is kept with the job and counts only while photos and marks stay as they were."""

from pathlib import Path

import pytest

from finishadvisor.job.document import Floor, Load, Photo
from finishadvisor.records.comparison import Comparison, MockUpDifference, Mottling, SeenTwice
from finishadvisor.records.evenness import Evenness, FloorEvenness
from finishadvisor.whole_job.saved import keep, kept, kept_path

MEASURED = FloorEvenness(floor="Hall / east", photos=(Evenness(photo="a.jpg", refused=("too-dark",)),))


@pytest.fixture
def floor(tmp_path: Path) -> Floor:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "a.jpg").write_bytes(b"first")
    return Floor(name="Hall / east", photos=(Photo(file="a.jpg"),))


def test_what_was_kept_comes_back(floor, tmp_path):
    assert kept(tmp_path, floor) is None
    keep(tmp_path, floor, MEASURED)
    assert kept(tmp_path, floor) == MEASURED


def test_another_photo_under_the_same_name_makes_it_stale(floor, tmp_path):
    keep(tmp_path, floor, MEASURED)
    (tmp_path / "photos" / "a.jpg").write_bytes(b"second")
    assert kept(tmp_path, floor) is None


def test_other_marks_make_it_stale(floor, tmp_path):
    keep(tmp_path, floor, MEASURED)
    marked = floor.model_copy(update={"photos": (Photo(file="a.jpg", size=(20.0, 15.0)),)})
    assert kept(tmp_path, marked) is None


def test_a_damaged_copy_is_worth_nothing(floor, tmp_path):
    keep(tmp_path, floor, MEASURED)
    kept_path(tmp_path, floor).write_text('{"fingerprint": 3', encoding="utf-8")
    assert kept(tmp_path, floor) is None


def test_floors_with_like_names_are_kept_apart(tmp_path):
    assert kept_path(tmp_path, Floor(name="Hall 1")) != kept_path(tmp_path, Floor(name="Hall-1"))


def test_what_was_compared_comes_back_and_is_no_part_of_the_printed_json(floor, tmp_path):
    differs = Comparison(
        mock_ups=(MockUpDifference(slab="a.jpg", mock_up="m.jpg", de00=4.9),),
        seen_twice=SeenTwice(seen_ft2=200.0, turned_ft2=12.0, moved_ft2=0.5),
        mottling=(Mottling(photo="a.jpg", lightness=1.3),),
    )
    measured = MEASURED.model_copy(update={"compared": differs})
    keep(tmp_path, floor, measured)
    assert kept(tmp_path, floor).compared == differs
    assert "compared" not in measured.as_json()


def test_another_boundary_of_a_load_makes_it_stale(floor, tmp_path):
    keep(tmp_path, floor, MEASURED)
    loaded = floor.model_copy(update={"loads": (Load(name="first", boundary=((0, 0), (0, 9))),)})
    assert kept(tmp_path, loaded) is None
