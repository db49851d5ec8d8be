"""The slab: measured wins, else the stated model; what is assumed is said."""

import datetime

import pytest

from finishadvisor.job.document import Floor
from finishadvisor.plan.slab import Site, floor_air
from finishadvisor.plan.weather_rows import Weather, WeatherRow
from tests.plain_jobs import job_from_plain
from tests.plan.fixtures import a_clock, shipped


def a_site(place="outdoors", facts=None, days=3, **floor):
    plain = {"name": "Walk", **floor}
    made: Floor = job_from_plain({"name": "Job", "floor": [plain]}, metric=False).floors[0]
    return Site(made, {"place": place, **(facts or {})}, shipped(), a_clock(days))


def a_weather(hours=72, begin=0, **changes):
    first = a_clock(3).start + datetime.timedelta(hours=begin)
    given = {"air_f": 60.0, "rh_pct": 50.0, "cloud_share": 0.0, **changes}
    rows = tuple(WeatherRow(time=first + datetime.timedelta(hours=n), **given) for n in range(hours))
    return Weather(rows, ())


def test_a_room_stands_for_every_hour():
    air = floor_air(a_site("indoors", room={"air": 68, "rh_pct": 45, "slab": 64}), a_weather())
    assert {(air.air_f[h], air.rh_pct[h], air.slab_f[h]) for h in range(72)} == {(68, 45, 64)}
    assert air.assumptions == ()


def test_a_room_without_a_slab_temperature_says_what_it_takes():
    air = floor_air(a_site("indoors", room={"air": 68, "rh_pct": 45}), None)
    assert air.slab_f[0] == 68
    assert "taken as warm as the room" in air.assumptions[0]


def test_outdoors_without_a_forecast_says_that_one_is_needed():
    air = floor_air(a_site(), None)
    assert (air.air_f[0], air.rh_pct[0], air.slab_f[0]) == (70, 50, 70)
    assert "a forecast is needed" in air.assumptions[0]
    assert "70 °F and 50 %" in air.assumptions[0]


def test_a_forecast_that_ended_says_so():
    assert "ends before 2026-06-01" in floor_air(a_site(), a_weather(hours=20, begin=-40)).assumptions[0]


def test_indoors_without_a_room_the_latest_readings_stand():
    readings = [
        {"kind": "air-temperature", "value": 61, "date": datetime.date(2026, 5, 30)},
        {"kind": "air-rh", "value": 55, "date": datetime.date(2026, 5, 30)},
    ]
    air = floor_air(a_site("indoors", reading=readings), None)
    assert (air.air_f[5], air.rh_pct[5]) == (61, 55)
    assert "as read on 2026-05-30" in air.assumptions[0]


def test_a_measured_slab_wins_over_the_model():
    air = floor_air(a_site(facts={"sun": "full"}), a_weather(slab_f=51.5))
    assert set(air.slab_f[:72]) == {51.5}


def test_a_clear_sky_pulls_the_slab_below_the_air_and_the_sun_lifts_it_above():
    shaded = floor_air(a_site(facts={"sun": "none"}), a_weather())
    sunny = floor_air(a_site(facts={"sun": "full"}), a_weather())
    clock = a_clock(3)
    by_hour = {clock.moment(4 * h).hour: sunny.slab_f[h] for h in range(24, 48)}
    assert max(shaded.slab_f[:72]) < 60 < max(by_hour.values())
    assert min(by_hour, key=by_hour.get) in {5, 6, 7}
    assert max(by_hour, key=by_hour.get) in {15, 16, 17}


def test_under_full_cloud_and_roof_the_slab_stays_at_the_air():
    air = floor_air(a_site("covered", facts={"sun": "none"}), a_weather())
    assert set(air.slab_f[:72]) == {60.0}


def test_a_darker_slab_is_warmer_in_the_sun():
    dark, pale = (
        max(floor_air(a_site(facts={"sun": "full", "color_depth": depth}), a_weather()).slab_f)
        for depth in ("dark", "pale")
    )
    assert dark > pale + 2


def test_direct_sun_needs_a_clear_sky_an_open_floor_and_the_day():
    clock = a_clock(3)
    noon = next(h for h in range(24) if clock.moment(4 * h).hour == 12)
    night = next(h for h in range(24) if clock.moment(4 * h).hour == 1)
    clear = floor_air(a_site(facts={"sun": "full"}), a_weather())
    assert (clear.direct_sun[noon], clear.direct_sun[night]) == (True, False)
    assert not floor_air(a_site(facts={"sun": "full"}), a_weather(cloud_share=1.0)).direct_sun[noon]
    assert not floor_air(a_site(facts={"sun": "none"}), a_weather()).direct_sun[noon]


@pytest.mark.parametrize(("place", "wet"), [("outdoors", True), ("covered", False)])
def test_rain_falls_outdoors_only(place, wet):
    air = floor_air(a_site(place), a_weather(rain_chance_pct=90.0))
    assert air.rain[10] is wet
    assert (air.hours_since_rain[10] == 0) is wet


def test_an_indoor_slab_lags_behind_a_room_that_follows_the_weather():
    first = a_clock(3).start
    rows = tuple(
        WeatherRow(time=first + datetime.timedelta(hours=n), air_f=50.0 if n < 24 else 70.0, rh_pct=50.0)
        for n in range(72)
    )
    slab_f = floor_air(a_site("indoors"), Weather(rows, ())).slab_f
    assert 50 < slab_f[30] < 65
    assert slab_f[30] < slab_f[40] < slab_f[60] < 70


def test_hours_of_the_file_before_the_plan_warm_the_slab_up_and_shift_nothing():
    first = a_clock(3).start - datetime.timedelta(hours=10)
    rows = tuple(WeatherRow(time=first + datetime.timedelta(hours=n), air_f=40.0 + n, rh_pct=50.0) for n in range(60))
    air = floor_air(a_site("covered", facts={"sun": "none"}), Weather(rows, ()))
    assert air.air_f[:3] == (50.0, 51.0, 52.0)
    assert len(air.slab_f) == len(air.air_f) == a_clock(3).hours
