"""Every reader of what a person hands in: odd jobs, overlays, weather, prices and marks end in a result or a line."""

import copy
import datetime
import json
import random
import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from PIL import Image

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import CatalogError, FinishAdvisorError, WeatherError
from finishadvisor.plan.weather import read_weather
from finishadvisor.rules.check import check_conditions
from finishadvisor.whole_job.opened import open_for
from finishadvisor.whole_job.work_through import work_through
from tests.hostile.command import run_line
from tests.hostile.odd_jobs import ODD_VALUES, OWN_RULES, changed_job, full_text, places
from tests.hostile.odd_photos import DAMAGES, slab_codes
from tests.hostile.readers import ON, SAVED, SOUND_ROWS, one_clear_line


def examples(count: int) -> settings:
    """Return settings for so many examples, the same ones in every run."""
    allowed = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
    return settings(max_examples=count, deadline=None, derandomize=True, suppress_health_check=allowed)


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    from finishadvisor.demo.example import copy_example

    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))
    folder = tmp_path / "job"
    copy_example(folder)
    (folder / "own-rules.toml").write_text(OWN_RULES, encoding="utf-8")
    (folder / "job.toml").write_text(full_text(), encoding="utf-8")
    return folder


# --- job.toml --------------------------------------------------------------------------------------------------------
def test_the_job_that_is_made_odd_is_sound(job: Path) -> None:
    opened = open_for(job, ON)
    assert opened.job.prices
    assert opened.job.floors[0].used
    assert opened.job.floors[0].mock_ups
    assert opened.catalog.own_rows == ("rule no-flake-in-sun (own-rules.toml)",)


@pytest.mark.parametrize("start", range(0, 120, 60))
def test_odd_entries_open_or_are_answered(start: int, job: Path) -> None:
    opened = 0
    for number in range(start, start + 60):
        name, text = changed_job(number)
        (job / "job.toml").write_text(text, encoding="utf-8")
        try:
            open_for(job, ON)
            opened += 1
        except FinishAdvisorError as error:
            one_clear_line(error)
        except Exception as error:
            raise AssertionError(name) from error
    assert 3 < opened < 57


@pytest.mark.parametrize("start", range(1000, 1024, 12))
def test_odd_jobs_that_open_are_worked_through_to_order_and_plan(start: int, job: Path) -> None:
    for number in range(start, start + 12):
        name, text = changed_job(number)
        (job / "job.toml").write_text(text, encoding="utf-8")
        try:
            whole = work_through(job, ON)
            json.dumps([part.as_json() for part in (whole.advice, whole.order, whole.plan) if part], allow_nan=False)
        except FinishAdvisorError as error:
            one_clear_line(error)
        except Exception as error:
            raise AssertionError(name) from error


@pytest.mark.parametrize("file", sorted(SAVED.glob("job-*.toml")), ids=lambda path: path.name)
def test_jobs_kept_from_earlier_tries(file: Path, job: Path, capfd: pytest.CaptureFixture[str]) -> None:
    shutil.copyfile(file, job / "job.toml")
    for command in ("check", "order"):
        run_line(capfd, command, job, *(["--on", ON] if command != "check" else []))


def test_damaged_bytes_of_a_job_open_or_are_answered(job: Path) -> None:
    data = full_text().encode()
    for number in range(150):
        chance = random.Random(number)
        (job / "job.toml").write_bytes(chance.choice(DAMAGES[:-1])(bytearray(data), chance))
        try:
            open_for(job, ON)
        except FinishAdvisorError as error:
            one_clear_line(error)


# --- catalog overlays ------------------------------------------------------------------------------------------------
def load_own(path: Path) -> None:
    try:
        check_conditions(load_catalog([path]))
    except CatalogError as error:
        one_clear_line(error)


def test_odd_entries_of_own_rows_load_or_are_answered(tmp_path: Path) -> None:
    import tomlkit

    sound = tomlkit.parse(SOUND_ROWS.read_text(encoding="utf-8")).unwrap()
    every = places(sound)
    tried = 0
    for number in range(150):
        chance = random.Random(number)
        rows = copy.deepcopy(sound)
        place = chance.choice(every)
        holder: Any = rows
        for key in place[:-1]:
            holder = holder[key]
        holder[place[-1]] = chance.choice(ODD_VALUES)
        try:
            text = tomlkit.dumps(rows)
        except (ValueError, TypeError, AttributeError):
            continue
        path = tmp_path / f"own-{number}.toml"
        path.write_text(text, encoding="utf-8")
        try:
            load_own(path)
        except Exception as error:
            raise AssertionError(f"{number}: {place}") from error
        tried += 1
    assert tried > 100


@pytest.mark.parametrize("file", sorted(SAVED.glob("rows-*.toml")), ids=lambda path: path.name)
def test_own_rows_kept_from_earlier_tries(file: Path) -> None:
    load_own(file)


def test_damaged_bytes_of_own_rows_load_or_are_answered(tmp_path: Path) -> None:
    data = SOUND_ROWS.read_bytes()
    for number in range(120):
        chance = random.Random(number)
        path = tmp_path / f"own-{number}.toml"
        path.write_bytes(chance.choice(DAMAGES[:-1])(bytearray(data), chance))
        load_own(path)


CONDITIONS = st.recursive(
    st.dictionaries(
        st.sampled_from(["place", "slab_rh_pct", "heat_in_slab", "age_days", "nothing", "not", "any_of", ""]),
        st.sampled_from(["indoors", "", 3, -1.5, True, None])
        | st.lists(st.sampled_from(["indoors", "outdoors", 3]), max_size=3)
        | st.dictionaries(
            st.sampled_from(["below", "at_least", "above", "is"]), st.sampled_from([3, 80, "x", True]), max_size=3
        ),
        max_size=3,
    ),
    lambda inner: (
        st.builds(lambda a: {"not": a}, inner) | st.builds(lambda a: {"any_of": a}, st.lists(inner, max_size=3))
    ),
    max_leaves=6,
)


@examples(80)
@given(when=CONDITIONS)
@example(when={"any_of": []})
@example(when={"not": {}})
def test_any_condition_of_an_own_rule_loads_or_is_answered(when: dict[str, Any], tmp_path: Path) -> None:
    import tomlkit

    try:
        inline = tomlkit.inline_table()
        inline.update(when)
        text = OWN_RULES.replace(
            'when = { sun = ["full"], slab_rh_pct = { at_least = 60 } }', f"when = {inline.as_string()}"
        )
    except Exception:  # None and the like, which TOML has no form for
        return
    path = tmp_path / "own.toml"
    path.write_text(text, encoding="utf-8")
    load_own(path)


# --- weather ---------------------------------------------------------------------------------------------------------
def read_or_line(path: Path) -> bool:
    try:
        weather = read_weather(path, "America/Chicago")
    except WeatherError as error:
        one_clear_line(error)
        return False
    assert all(row.time.tzinfo is not None for row in weather.rows)
    assert all(note.isprintable() for note in weather.missing)
    return True


CELLS = st.sampled_from([
    "",
    "70",
    "-400",
    "1e999",
    "nan",
    "inf",
    "x",
    '"',
    "70,5",
    "2026-09-21T07:00",
    "0001-01-01T00:00",
    "9999-12-31T23:59",
    "2026-09-21T07:00+14:00",
    "٣",
    "\x00",
    "\u202e70",
    "70 ",
])
HEADS = st.sampled_from([
    "time",
    "air_f",
    "air_c",
    "rh_pct",
    "rain_in",
    "rain_mm",
    "wind_kmh",
    "cloud_pct",
    "",
    "odd",
    "TIME",
])


@examples(200)
@given(
    head=st.lists(HEADS, max_size=6),
    rows=st.lists(st.lists(CELLS, max_size=7), max_size=5),
    mark=st.sampled_from([",", ";", "\t"]),
    sound=st.booleans(),
)
def test_any_table_of_weather_is_read_or_answered(
    head: list[str], rows: list[list[str]], mark: str, sound: bool, tmp_path: Path
) -> None:
    lines = [mark.join(["time", "air_f", "rh_pct", *head] if sound else head)]
    for number, row in enumerate(rows):
        lines.append(mark.join([f"2026-09-21T0{number}:00", "70", "50", *row] if sound else row))
    (tmp_path / "weather.csv").write_text("\n".join(lines), encoding="utf-8")
    read_or_line(tmp_path / "weather.csv")


def forecast() -> dict[str, Any]:
    periods = [
        {"startTime": f"2026-09-21T{hour:02d}:00:00-05:00", "temperature": 60 + hour, "temperatureUnit": "F",
         "relativeHumidity": {"unitCode": "wmoUnit:percent", "value": 60}, "windSpeed": "5 to 10 mph",
         "probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": 10}, "shortForecast": "Mostly Sunny"}
        for hour in range(6)
    ]  # fmt: skip
    place = {"type": "Polygon", "coordinates": [[[-87.6, 41.8], [-87.5, 41.8], [-87.5, 41.9], [-87.6, 41.8]]]}
    return {"type": "Feature", "geometry": place, "properties": {"periods": periods}}


def test_odd_entries_of_a_forecast_are_read_or_answered(tmp_path: Path) -> None:
    path = tmp_path / "forecast.geojson"
    path.write_text(json.dumps(forecast()), encoding="utf-8")
    assert read_or_line(path)
    every = places(forecast())
    odd = [value for value in ODD_VALUES if not isinstance(value, datetime.date | datetime.time)]
    ends = set()
    for number in range(300):
        chance = random.Random(number)
        content = forecast()
        place = chance.choice(every)
        holder: Any = content
        for key in place[:-1]:
            holder = holder[key]
        holder[place[-1]] = chance.choice([*odd, None, 10**400, [[[[[1]]]]]])
        path.write_text(json.dumps(content), encoding="utf-8")
        try:
            ends.add(read_or_line(path))
        except Exception as error:
            raise AssertionError(f"{number}: {place}") from error
    assert ends == {True, False}


@pytest.mark.parametrize("file", sorted(SAVED.glob("weather-*")), ids=lambda path: path.name)
def test_weather_kept_from_earlier_tries(file: Path) -> None:
    read_or_line(file)


def test_damaged_bytes_of_weather_files_are_read_or_answered(tmp_path: Path, job: Path) -> None:
    sound = [(job / "weather.csv").read_bytes(), json.dumps(forecast()).encode()]
    for number in range(200):
        chance = random.Random(number)
        path = tmp_path / "weather"
        path.write_bytes(chance.choice(DAMAGES[:-1])(bytearray(sound[number % 2]), chance))
        read_or_line(path)


LONG = '{"properties": {"periods": [' + "{}," * 30_000 + "{}]}}"


@pytest.mark.parametrize("text", ["[" * 100_000, '{"a":' * 50_000, LONG], ids=["lists", "objects", "hours"])
def test_forecasts_nested_or_long_beyond_sense_are_answered(text: str, tmp_path: Path) -> None:
    (tmp_path / "w").write_text(text, encoding="utf-8")
    assert not read_or_line(tmp_path / "w")


# --- marks on the command line ---------------------------------------------------------------------------------------
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
    amount: str, area: str, coats: str, day: str, lot: str, job: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    before = (job / "job.toml").read_bytes()
    code, _ = run_line(
        capfd, "used", job, "--floor=Glaze room", "--material=flake", "--layer=flake", f"--amount={amount}",
        f"--area={area}", f"--coats={coats}", f"--on={day}", f"--lot={lot}",
    )  # fmt: skip
    assert code == 0 or (job / "job.toml").read_bytes() == before
    open_for(job, ON)
