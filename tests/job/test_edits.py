import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from finishadvisor.errors import JobError
from finishadvisor.job.document import Decision, KnownPoint, Photo, Sheet, Used
from finishadvisor.job.edits import add_reading, add_used, answer, decide, describe, mark_photo
from finishadvisor.job.folder import open_job

Write = Callable[[str], Path]
DAY = datetime.date(2026, 9, 1)

TWO_FLOORS = """
[[floor.reading]]
kind = "ph"
value = 9
date = 2026-07-01             # by the door

# --- the second floor ---

[[floor]]
name = "Ramp"
# nothing known yet
"""


def text(folder: Path) -> str:
    return (folder / "job.toml").read_text(encoding="utf-8")


def test_a_reading_joins_its_floor_and_the_heading_of_the_next_floor_stays_there(write: Write) -> None:
    folder = write(TWO_FLOORS)
    opened = add_reading(folder, "Shed", kind="pull-off", value="200 psi", date=DAY, place=["3ft", 4], note='said "ok"')
    new = opened.job.floors[0].readings[1]
    assert (new.kind, new.value, new.date, new.place, new.note) == ("pull-off", 200, DAY, (3, 4), 'said "ok"')
    assert text(folder).index("pull-off") < text(folder).index("# --- the second floor ---")
    assert text(folder).index("# --- the second floor ---") < text(folder).index('name = "Ramp"')
    assert "# by the door" in text(folder)


def test_a_first_reading_of_a_floor_and_one_more(write: Write) -> None:
    folder = write(TWO_FLOORS)
    add_reading(folder, "Ramp", kind="slab-rh", value=80, date=DAY)
    opened = add_reading(folder, "Ramp", kind="slab-rh", value=78, date=DAY, place="middle")
    assert [reading.value for reading in opened.job.floors[1].readings] == [80, 78]
    assert len(opened.job.floors[0].readings) == 1


def test_a_refused_reading_leaves_the_file_alone(write: Write) -> None:
    folder = write(TWO_FLOORS)
    before = text(folder)
    with pytest.raises(JobError, match="before the pour"):
        add_reading(folder, "Shed", kind="ph", value=9, date=datetime.date(2026, 1, 1))
    with pytest.raises(JobError, match=r'no floor "Shde"\. Did you mean "Shed"'):
        add_reading(folder, "Shde", kind="ph", value=9, date=DAY)
    assert text(folder) == before


def test_a_decision_replaces_the_one_before(write: Write) -> None:
    folder = write(TWO_FLOORS)
    decide(folder, "Shed", Decision(finish="densified", by="the client", date=DAY))
    opened = decide(folder, "Shed", Decision(finish="bare"))
    assert opened.job.floors[0].decision == Decision(finish="bare")
    assert opened.job.floors[1].decision is None


def test_a_decision_written_as_a_table_is_replaced_too(write: Write) -> None:
    folder = write('[floor.decision]\nfinish = "bare"\nby = "me"\n' + TWO_FLOORS)
    assert decide(folder, "Shed", Decision(finish="guard")).job.floors[0].decision == Decision(finish="guard")


def test_amounts_used_are_added(write: Write) -> None:
    folder = write(TWO_FLOORS)
    used = Used(material="acrylic-water", layer="sealer", coats=2, area_ft2=200, used=1.5, date=DAY, lot="7")
    add_used(folder, "Ramp", used)
    assert add_used(folder, "Ramp", used).job.floors[1].used == (used, used)


def test_answers_are_set_and_taken_away(write: Write) -> None:
    folder = write('[floor.answers]\nsun = "full"\nuse = "store"  # says the client\n' + TWO_FLOORS)
    opened = answer(folder, "Shed", {"sun": None, "heat_in_slab": True})
    assert opened.job.floors[0].answers == {"use": "store", "heat_in_slab": True}
    assert "# says the client" in text(folder)
    assert answer(folder, "Ramp", {"sun": "part"}).job.floors[1].answers == {"sun": "part"}


@pytest.mark.parametrize("units", ["us", "metric"])
def test_marks_of_a_photo_come_back_as_they_went_in(write: Write, units: str) -> None:
    folder = write(TWO_FLOORS)
    (folder / "job.toml").write_text(f'units = "{units}"\n{text(folder)}', encoding="utf-8")
    (folder / "photos" / "a.jpg").touch()
    cornered = Photo(
        file="a.jpg", corners=((1, 2), (3, 4.5), (5, 6), (7, 8)), size=(20, 15.25), origin_on_plan=(0, -1.5),
        turned_deg=90, sheets=(Sheet(at=(1, 2), reflectance=0.85),), wet=(((0, 0), (1, 0), (1, 1)),),
    )  # fmt: skip
    (read,) = mark_photo(folder, "Shed", cornered).job.floors[0].photos
    assert read.size == pytest.approx(cornered.size)
    assert read.origin_on_plan == pytest.approx(cornered.origin_on_plan)
    assert read.model_copy(update={"size": cornered.size, "origin_on_plan": cornered.origin_on_plan}) == cornered
    pointed = Photo(file="a.jpg", points=tuple(KnownPoint(pixel=(n, n), place=(n, 2)) for n in range(4)))
    (read,) = mark_photo(folder, "Shed", pointed).job.floors[0].photos
    assert (read.corners, read.size, read.sheets, read.wet) == (None, None, (), ())
    assert [point.place for point in read.points] == [pytest.approx((n, 2)) for n in range(4)]
    assert text(folder).index("# --- the second floor ---") > text(folder).index("a.jpg")


def test_marks_leave_the_other_keys_of_a_photo_alone(write: Write) -> None:
    folder = write('[[floor.photo]]\nfile = "a.jpg"\ntaken = 2026-07-01T09:00:00  # hazy\nshows = "mock-up"\n')
    (folder / "photos" / "a.jpg").touch()
    (read,) = mark_photo(folder, "Shed", Photo(file="a.jpg", size=(20, 10))).job.floors[0].photos
    assert read.shows == "mock-up"
    assert read.taken is not None
    assert "# hazy" in text(folder)


def test_an_area_is_added_behind_cards_that_were_written_anew(write: Write) -> None:
    """Rows written anew leave a gap where they stood, and what is added after them comes behind the gap."""
    folder = write('[[floor.photo]]\nfile = "a.jpg"\nsheet = [{ at = [1, 2], reflectance = 0.18 }]  # gray\n')
    (folder / "photos" / "a.jpg").touch()
    photo = open_job(folder).job.floors[0].photos[0]
    area = photo.model_copy(update={"leave_out": (((0, 0), (1, 0), (1, 1)),), "wet": (((2, 0), (3, 0), (3, 1)),)})
    (read,) = mark_photo(folder, "Shed", area).job.floors[0].photos
    assert read == area


def test_marks_stay_with_their_photo_where_a_heading_follows(write: Write) -> None:
    folder = write('[[floor.photo]]\nfile = "a.jpg"\n\n# --- the second floor ---\n[[floor]]\nname = "Ramp"\n')
    (folder / "photos" / "a.jpg").touch()
    mark_photo(folder, "Shed", Photo(file="a.jpg", size=(20, 10)))
    assert text(folder).index("size = ") < text(folder).index("# --- the second floor ---")


def test_floors_written_in_one_line_take_readings_too(job_folder: Path) -> None:
    (job_folder / "job.toml").write_text('name = "n"\nfloor = [{ name = "f" }]\n', encoding="utf-8")
    add_reading(job_folder, "f", kind="ph", value=9, date=DAY)
    opened = add_reading(job_folder, "f", kind="ph", value=8, date=DAY)
    opened = answer(job_folder, "f", {"sun": "part"})
    opened = decide(job_folder, "f", Decision(finish="bare"))
    floor = opened.job.floors[0]
    assert [reading.value for reading in floor.readings] == [9, 8]
    assert floor.answers == {"sun": "part"}
    assert open_job(job_folder) == opened


def test_sides_are_written_where_the_corner_is_stated_at_the_origin(tmp_path):
    (tmp_path / "job.toml").write_text(
        'name = "A"\n[[floor]]\nname = "B"\n[[floor.outline.rectangle]]\ncorner = [0, "0 ft"]\nx = 9\ny = 8\n',
        encoding="utf-8",
    )
    describe(tmp_path, "B", pour=None, last_wetting=None, sides=("10ft", "8ft"))
    assert open_job(tmp_path).job.floors[0].outline.rectangles[0].x == 10
