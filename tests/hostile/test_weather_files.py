"""Weather files, tables and forecasts: odd cells and damaged bytes end in a result or in one line."""

import datetime
import json
import random
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import WeatherError
from finishadvisor.plan.weather import read_weather
from tests.hostile.damage import DAMAGES
from tests.hostile.kept_examples import examples
from tests.hostile.odd_jobs import ODD_VALUES, places
from tests.hostile.one_reader import SAVED, one_clear_line


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


def test_damaged_bytes_of_weather_files_are_read_or_answered(tmp_path: Path, full_job: Path) -> None:
    sound = [(full_job / "weather.csv").read_bytes(), json.dumps(forecast()).encode()]
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
