import datetime
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from finishadvisor.errors import JobError
from finishadvisor.job.checks import dated_ahead
from finishadvisor.job.folder import edit_job, open_job, user_files

Write = Callable[[str], Path]


def mistakes(folder: Path) -> tuple[str, ...]:
    with pytest.raises(JobError) as refused:
        open_job(folder)
    assert "\n" not in str(refused.value)
    assert str(refused.value).startswith(refused.value.mistakes[0])
    return refused.value.mistakes


def test_a_job_is_opened_by_its_folder_or_its_file(job_folder: Path) -> None:
    by_folder, by_file = open_job(job_folder), open_job(job_folder / "job.toml")
    assert by_folder == by_file
    assert by_folder.folder == job_folder
    assert by_folder.job.floors[0].outline is not None
    assert by_folder.job.floors[0].outline.rectangles[0].x == 20


def test_what_is_not_there_is_answered_with_the_way_to_begin(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "nowhere"):
        with pytest.raises(JobError, match="finishadvisor new"):
            open_job(path)
    (tmp_path / "photo.jpg").touch()
    with pytest.raises(JobError, match=r"Name a job folder"):
        open_job(tmp_path / "photo.jpg")


def test_units_decide_what_bare_numbers_mean(job_folder: Path) -> None:
    (job_folder / "job.toml").write_text(
        'name = "n"\nunits = "metric"\n[[floor]]\nname = "f"\nroom = { air = 20, rh_pct = 50 }\n'
        "outline = { rectangle = [{ x = 3.048, y = '10ft' }] }\n",
        encoding="utf-8",
    )
    floor = open_job(job_folder).job.floors[0]
    assert floor.room is not None
    assert floor.outline is not None
    assert floor.room.air == pytest.approx(68)
    assert floor.outline.rectangles[0].x == pytest.approx(floor.outline.rectangles[0].y)


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("surfaces = 1",
         'floor "Shed", outline, rectangle 1: the key "surfaces" is not known; allowed here: corner, x, y.'),
        ('[[floor.reading]]\nkind = "ph2"\nvalue = 9\ndate = 2026-07-01',
         'reading 1, kind: "ph2" is not allowed; write one of: slab-rh'),
        ('[[floor.reading]]\nkind = "ph"\nvalue = 9\ndat = 2026-07-01',
         'the key "dat" is not known; allowed here: date, kind'),
        ('[[floor.reading]]\nkind = "ph"\nvalue = 9\ndate = 2026-05-31',
         "reading 1 (ph), date: 2026-05-31 is before the pour, 2026-06-01."),
        ('[[floor.layer_down]]\nmaterial = "acrylic"\nlaid = 2026-05-01', "layer_down 1, laid: 2026-05-01 is before"),
        ('[[floor.reading]]\nkind = "ph"\nvalue = 9\ndate = 2026-07-01\nplace = [30, 2]',
         "reading 1 (ph), place: x 30', y 2' is outside the floor"),
        ('[[floor.photo]]\nfile = "no.jpg"', 'photo "no.jpg", file: "no.jpg" is not in the photos folder of the job.'),
        ('[[floor.photo]]\nfile = "yes.jpg"\ncorners = [[1,2],[3,4],[5,6],[7,8]]', "corners need the size of the slab"),
        ('[[floor.photo]]\nfile = "yes.jpg"\n[[floor.photo.point]]\npixel = [1, 2]\nplace = [0, 0]',
         "at least 4 are needed"),
        ('[floor.photo]\nfile = "yes.jpg"', "photo: write its heading in two brackets, [[floor.photo]]"),
        ('[[floor.room]]\nair = 72', "room: write its heading in one bracket, [floor.room]"),
        ('[[floor]]\nname = "shed"', 'the name "shed" is given to more than one floor'),
        ('[[floor.load]]\nname = "1"\n[[floor.load]]\nname = "1"', "given to two loads"),
        ('[[floor.readings]]\nkind = "ph"', 'the key "readings" is not known;'),
        ('[[floor.load]]\nname = "1"\nuse = "garage"', "Each line belongs to the heading above it"),
        ('[[floor.outline.joint]]\nkind = "crack"\nstart = [0, 0]\nend = [1, 1]\nwidth = "1/4"', '"1/4" has no unit.'),
        ('[[floor.load]]\nname = "1"\nslump = 4', 'load "1", slump: 4 has no unit.'),
        ('[floor.answers]\nsun = ["full"]', 'answers, sun: ["full"] is not an answer.'),
        ('[workday]\nstart = 16:00:00', "workday: from 16:00 to 15:30 are 23.5 h; more than 0 and at most 16 h"),
        ('[workday]\nend = 07:00:00', "workday: from 07:00 to 07:00 are 0 h; more than 0"),
        ('[workday]\ndays = []', "workday, days: no day is listed"),
        ('[workday]\nstart = 7', "workday, start: 7 is not a time of day"),
        ('[business]\nmargin = 1.5', "it must be less than 1. Write a share: 0.3 for 30 %."),
        ('[own_files]\nrules = ["ours.toml"]', 'own_files, rules: "ours.toml" is not in the job folder.'),
        ('[[price]]\nmaterial = "m"\nsize = true\nprice = 3', "price 1, size: true is not allowed; write a number"),
    ],
)  # fmt: skip
def test_a_wrong_entry_is_answered_with_its_place_and_what_is_allowed(write: Write, lines: str, said: str) -> None:
    folder = write(lines)
    (folder / "photos" / "yes.jpg").touch()
    (line,) = mistakes(folder)
    assert line.startswith("job.toml: ")
    assert said in line


def in_head(folder: Path, line: str) -> None:
    path = folder / "job.toml"
    path.write_text(f"{line}\n{path.read_text(encoding='utf-8')}", encoding="utf-8")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('unit = "us"', 'job.toml: the key "unit" is not known; allowed here: business, client'),
        ('unit = "us"', 'Did you mean "units"?'),
        ('units = "uss"', 'units: "uss" is not allowed; write one of: us, metric. Did you mean "us"?'),
        ('time_zone = "America/Chcago"', 'is not a time zone; write one like "America/Chicago".'),
        ('time_zone = "America/Chcago"', 'Did you mean "America/Chicago"?'),
        ('time_zone = "../../etc/passwd"', "is not a time zone"),
        ("crew = 2\nteams = 3", "teams: 3 teams are more than the crew of 2"),
        ('currency = "dollars"', "three capital letters"),
        ("workday = 7", "workday: 7 is not allowed; write a table of keys and values. Like this: workday = { start"),
        ("crew = 0", "crew: 0 is out of range; it must be more than 0."),
        ("crew = 1.5", "crew: 1.5 is not allowed; write a whole number"),
        ('weather = "../w.csv"', "weather: \"../w.csv\" leaves the job folder"),
        ('floors = []', 'the key "floors" is not known'),
    ],
)  # fmt: skip
def test_a_wrong_head_is_answered_too(job_folder: Path, line: str, said: str) -> None:
    in_head(job_folder, line)
    assert any(said in each for each in mistakes(job_folder))


def test_what_is_dated_ahead_of_the_day_is_told(write: Write) -> None:
    opened = open_job(write('[[floor.reading]]\nkind = "ph"\nvalue = 9\ndate = 2026-09-14\n'))
    assert dated_ahead(opened.job, datetime.date(2026, 9, 14)) == ()
    (line,) = dated_ahead(opened.job, datetime.date(2026, 9, 13))
    assert line == 'floor "Shed", reading 1 (ph), date: 2026-09-14 is still to come, so it does not count yet.'


def test_every_mistake_is_listed_and_the_first_says_how_many(write: Write) -> None:
    folder = write('[[floor.reading]]\nkind = "ph"\nvalue = 99\ndate = "soon"\n[[floor.load]]\nname = ""\n')
    assert len(mistakes(folder)) == 3
    with pytest.raises(JobError, match=r"\(2 more mistakes; check lists all\.\)$"):
        open_job(folder)


def test_wrong_entries_of_a_list_do_not_make_it_too_short_as_well(job_folder: Path) -> None:
    (job_folder / "job.toml").write_text('name = "n"\n[[floor]]\nname = 3\n', encoding="utf-8")
    assert mistakes(job_folder) == ("job.toml: floor 1, name: 3 is not allowed; write a text in quotes.",)


def test_a_job_without_a_floor_says_so(job_folder: Path) -> None:
    (job_folder / "job.toml").write_text('name = "n"\n', encoding="utf-8")
    assert mistakes(job_folder) == ("job.toml: there is no floor; write at least one [[floor]] with a name.",)


def test_an_uncertain_pour_date_and_the_air_before_the_pour_are_no_mistakes(write: Write) -> None:
    open_job(write('[[floor.reading]]\nkind = "air-rh"\nvalue = 50\ndate = 2026-05-01'))
    folder = write('[[floor.reading]]\nkind = "ph"\nvalue = 9\ndate = 2026-05-01')
    text = (folder / "job.toml").read_text(encoding="utf-8").replace("2026-06-01 }", "2026-06-01, about = true }")
    (folder / "job.toml").write_text(text, encoding="utf-8")
    open_job(folder)


def test_a_change_keeps_comments_and_the_version_before(job_folder: Path) -> None:
    before = (job_folder / "job.toml").read_text(encoding="utf-8")
    opened = edit_job(job_folder, lambda document: document.update({"crew": 4}))
    after = (job_folder / "job.toml").read_text(encoding="utf-8")
    assert opened.job.crew == 4
    assert "# the client calls it so" in after
    assert after.startswith("#:schema")
    assert (job_folder / "job.previous.toml").read_text(encoding="utf-8") == before
    words_before, words_after = before.replace(" }", "}").splitlines(), after.replace(" }", "}").splitlines()
    assert set(words_after) - set(words_before) == {"crew = 4"}
    assert set(words_before) <= set(words_after)


def test_a_change_that_would_break_the_job_is_not_written(job_folder: Path) -> None:
    before = (job_folder / "job.toml").read_bytes()
    with pytest.raises(JobError, match="crew: -1 is out of range"):
        edit_job(job_folder, lambda document: document.update({"crew": -1}))
    assert (job_folder / "job.toml").read_bytes() == before
    assert not (job_folder / "job.previous.toml").exists()


def test_no_change_writes_nothing(job_folder: Path) -> None:
    edit_job(job_folder, lambda document: None)
    assert not (job_folder / "job.previous.toml").exists()


def test_own_files_follow_those_of_the_user(job_folder: Path, tmp_path: Path) -> None:
    user = tmp_path / "user folder"
    user.mkdir()
    for file in (user / "b.toml", user / "a.toml", job_folder / "rules.toml", job_folder / "prices.toml"):
        file.touch()
    with (job_folder / "job.toml").open("a", encoding="utf-8") as file:
        file.write('[own_files]\nrules = ["rules.toml"]\nmaterials = ["prices.toml"]\n')
    assert user_files() == (user / "a.toml", user / "b.toml")
    names = [path.name for path in open_job(job_folder).own_paths]
    assert names == ["a.toml", "b.toml", "prices.toml", "rules.toml"]


@pytest.mark.parametrize("heavy", ["shapely", "numpy", "tomlkit", "filelock", "json.tool"])
def test_opening_a_plain_job_imports_nothing_heavy(job_folder: Path, heavy: str) -> None:
    code = (
        "import sys; from pathlib import Path; from finishadvisor.job.folder import open_job;"
        f"open_job(Path(sys.argv[1])); sys.exit({heavy!r} in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code, str(job_folder)], check=False, env=os.environ.copy())
    assert done.returncode == 0


def test_dates_come_out_as_dates(write: Write) -> None:
    folder = write('[[floor.reading]]\nkind = "ph"\nvalue = 9\ndate = "2026-07-01"')
    assert open_job(folder).job.floors[0].readings[0].date == datetime.date(2026, 7, 1)
