"""Weather files: what is read, what is said, and one plain line for whatever is broken."""

import datetime
import itertools
import json
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.errors import WeatherError
from finishadvisor.plan.hourly import hourly
from finishadvisor.plan.weather import read_weather
from finishadvisor.plan.weather_csv import weather_of_csv
from finishadvisor.plan.weather_forecast import weather_of_forecast

ZONE = "America/Chicago"
HEAD = "time,air_f,rh_pct"


def read(tmp_path, text, name="weather.csv"):
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return read_weather(path, ZONE)


def a_period(**changes):
    return {
        "startTime": "2026-09-21T07:00:00-05:00", "temperature": 58, "temperatureUnit": "F",
        "relativeHumidity": {"unitCode": "wmoUnit:percent", "value": 81}, "windSpeed": "5 to 10 mph",
        "probabilityOfPrecipitation": {"unitCode": "wmoUnit:percent", "value": 20}, "shortForecast": "Partly Sunny",
    } | changes  # fmt: skip


def a_forecast(*periods, **more):
    periods = periods or (a_period(), a_period(startTime="2026-09-21T08:00:00-05:00"))
    return json.dumps({"type": "Feature", "properties": {"periods": list(periods)}, **more})


def test_times_without_an_offset_are_the_clock_of_the_job(tmp_path):
    weather = read(tmp_path, f"{HEAD}\n2026-09-21T07:00,58,81\n2026-09-21 08:00,60,78\n")
    assert weather.rows[0].time == datetime.datetime(2026, 9, 21, 12, tzinfo=datetime.UTC)
    assert (weather.rows[1].air_f, weather.rows[1].rh_pct) == (60, 78)


def test_times_with_an_offset_keep_it(tmp_path):
    weather = read(tmp_path, f"{HEAD}\n2026-09-21T07:00+02:00,58,81\n2026-09-21T06:00Z,60,78\n")
    assert [row.time.hour for row in weather.rows] == [5, 6]


def test_the_hour_that_comes_twice_is_told_apart_by_its_order(tmp_path):
    rows = "\n".join(f"2026-11-01T{clock},50,60" for clock in ("00:00", "01:00", "01:00", "02:00"))
    times = [row.time for row in read(tmp_path, f"{HEAD}\n{rows}").rows]
    assert [(after - before).total_seconds() for before, after in itertools.pairwise(times)] == [3600] * 3


def test_metric_columns_are_converted(tmp_path):
    text = "time;air_c;rh_pct;slab_c;rain_mm;wind_kmh;cloud_pct\n2026-09-21T07:00;20;60;10;25.4;16.09344;40\n"
    row = read(tmp_path, text + "2026-09-21T08:00;20;60;;;;\n").rows[0]
    assert (row.air_f, row.slab_f, row.rain_in) == (68, 50, 1)
    assert row.wind_mph == pytest.approx(10)
    assert row.cloud_share == 0.4


def test_a_byte_order_mark_and_windows_line_ends_are_read(tmp_path):
    text = f"\ufeff{HEAD}\r\n2026-09-21T07:00,58,81\r\n2026-09-21T08:00,58,81\r\n"
    assert len(read(tmp_path, text).rows) == 2


def test_what_is_missing_is_said(tmp_path):
    text = f"{HEAD},note\n2026-09-21T07:00,58,81,fine\n2026-09-21T08:00,58,,x\n2026-09-21T09:00,58,70,x\n"
    said = " ".join(read(tmp_path, text).missing)
    for words in ("slab temperature", "rain", "cloud cover", "column note was passed over", "1 rows without"):
        assert words in said


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty"),
        (" \n\n", "is empty"),
        (b"\xff\xfe\x00broken", "not text"),
        ("just some words\nand more", "no column time"),
        ("time,air_f\n2026-09-21T07:00,58", "no column rh_pct"),
        ("tiem,air_f,rh_pct\n", 'Did you mean "time"?'),
        ("time,temp,rh_pct\n", "no column air_f or air_c"),
        (HEAD, "0 usable row"),
        (f"{HEAD}\n2026-09-21T07:00,58,81", "1 usable row"),
        (f"{HEAD}\nyesterday,58,81\n", "line 2: the time is 'yesterday'"),
        (f"{HEAD}\n2026-09-21T07:00,warm,81\n", "line 2: air_f is 'warm'"),
        (f"{HEAD}\n2026-09-21T07:00,nan,81\n", "air_f is 'nan'"),
        (f"{HEAD}\n2026-09-21T07:00,inf,81\n", "air_f is 'inf'"),
        (f"{HEAD}\n2026-09-21T07:00,58,81\n2026-09-21T08:00,580,81\n", "air temperature is 580 °F"),
        (f"{HEAD}\n2026-09-21T07:00,58,81\n2026-09-21T08:00,58,181\n", "relative humidity is 181 %"),
        (f"{HEAD}\n2026-09-21T07:00,58,81\n2026-09-21T07:00,58,81\n", "twice"),
        (f"{HEAD},air_c\n2026-09-21T07:00,58,81,14\n", "air_f in two columns"),
        (f"{HEAD}\n2026-09-21T07:00,58,81,1,2,3\n", "6 cells under 3 columns"),
        (f'{HEAD}\n"2026-09-21T07:00,58,81\n', "cannot be read as CSV"),
        (f"{HEAD}\n9999-12-31T23:59-12:00,58,81\n", "the time is"),
        ('{"properties": ', "cannot be read as JSON"),
        ("[1, 2]", "not an hourly forecast"),
        ("{}", "holds no properties.periods"),
        ('{"properties": {"periods": "many"}}', "holds no properties.periods"),
        ('{"properties": {"periods": [1]}}', "period 1 is not an hour"),
        (a_forecast(a_period(startTime="2026-09-21T07:00")), "startTime is"),
        (a_forecast(a_period(startTime=None)), "startTime is"),
        (a_forecast(a_period()), "1 usable row"),
        ("[" * 100_000, "cannot be read as JSON"),
        (",,,\n", "no column time"),
        (a_forecast(a_period(temperature=10**400), a_period(temperature=True)), "0 usable row"),
    ],
)
def test_a_broken_file_gets_one_plain_line(tmp_path, text, words):
    with pytest.raises(WeatherError) as caught:
        read(tmp_path, text)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_file_that_is_not_there_and_a_folder_get_one_plain_line(tmp_path):
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(WeatherError):
            read_weather(path, ZONE)


@settings(max_examples=150, deadline=None)
@given(
    st.text(max_size=200),
    st.sampled_from(["", f"{HEAD}\n", f"{HEAD}\n2026-09-21T07:00,", '{"properties": {"periods": [']),
)
def test_no_text_gets_past_with_anything_but_weather_or_a_plain_line(tail, head):
    for reader in (weather_of_csv, weather_of_forecast):
        try:
            assert reader(head + tail, ZoneInfo(ZONE), "weather").rows
        except WeatherError as error:
            assert "\n" not in str(error)


def test_a_saved_forecast_is_read(tmp_path):
    square = {"type": "Polygon", "coordinates": [[[-87.6, 41.8], [-87.6, 41.9], [-87.5, 41.9]]]}
    weather = read(tmp_path, a_forecast(geometry=square), "forecast.json")
    row = weather.rows[0]
    assert (row.air_f, row.rh_pct, row.rain_chance_pct, row.wind_mph) == (58, 81, 20, 10)
    assert row.cloud_share == 0.55
    assert row.time.isoformat() == "2026-09-21T12:00:00+00:00"
    assert (weather.latitude_deg, weather.longitude_deg) == (41.8, -87.6)


def test_value_objects_in_celsius_and_words_of_rain_are_understood(tmp_path):
    odd = a_period(
        temperature={"unitCode": "wmoUnit:degC", "value": 20},
        windSpeed={"unitCode": "wmoUnit:km_h-1", "value": 16.09344},
        probabilityOfPrecipitation=None,
        shortForecast="Showers And Thunderstorms",
    )
    row = read(tmp_path, a_forecast(odd, a_period(startTime="2026-09-21T08:00:00-05:00"))).rows[0]
    assert row.air_f == 68
    assert row.wind_mph == pytest.approx(10)
    assert (row.rain_chance_pct, row.cloud_share) == (60, 0.85)


# --- put on the plan's hours -----------------------------------------------------------------------------------------

START = datetime.datetime(2026, 9, 21, 12, tzinfo=datetime.UTC)


def on_hours(tmp_path, *rows, hours=6):
    text = "\n".join(f"{START + datetime.timedelta(hours=at):%Y-%m-%dT%H:%MZ},{air},{rh}" for at, air, rh in rows)
    return hourly(read(tmp_path, f"{HEAD}\n{text}"), START, hours, longest_gap_h=3)


def test_several_rows_in_an_hour_are_averaged_and_three_hours_bridged(tmp_path):
    course = on_hours(tmp_path, (0, 60, 50), (0.5, 62, 60), (3.5, 68, 60), hours=4)
    assert [hour.state for hour in course] == ["known"] * 4
    assert (course[0].air_f, course[0].rh_pct) == (61, 55)
    assert course[1].air_f == 64
    assert course[2].air_f == 66


def test_a_longer_gap_stays_unknown(tmp_path):
    course = on_hours(tmp_path, (0, 60, 50), (4, 60, 50), hours=5)
    assert [hour.state for hour in course] == ["known", "missing", "missing", "missing", "known"]


def test_hours_before_the_first_row_are_unknown(tmp_path):
    course = on_hours(tmp_path, (2, 60, 50), (3, 60, 50), hours=4)
    assert [hour.state for hour in course] == ["missing", "missing", "known", "known"]


def test_behind_the_end_the_mean_day_goes_on(tmp_path):
    rows = [(at, 50 + at % 24 + (10 if at >= 24 else 0), 50) for at in range(48)]
    course = on_hours(tmp_path, *rows, hours=96)
    assert {hour.state for hour in course[48:]} == {"assumed"}
    assert [hour.air_f for hour in course[48:72]] == [55 + at for at in range(24)]
    assert course[48:72] == course[72:96]


def test_a_file_that_ended_before_the_plan_is_no_weather(tmp_path):
    assert on_hours(tmp_path, (-5, 60, 50), (-2, 60, 50)) is None
