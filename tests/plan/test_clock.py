"""Daylight-saving change, midnight and odd offsets."""

import datetime

import pytest

from tests.plan.fixtures import a_chain, a_clock, a_link, a_material, an_air
from tests.plan.test_search import plan

SPRING = datetime.date(2026, 3, 7)
AUTUMN = datetime.date(2026, 10, 31)
ALL = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@pytest.mark.parametrize(("first", "hours"), [(SPRING, 23), (AUTUMN, 25)])
def test_the_day_of_the_change_is_an_hour_shorter_or_longer(first, hours):
    clock = a_clock(4, first=first)
    sunday, monday = (clock.slot_of_day(first + datetime.timedelta(days=n)) for n in (1, 2))
    assert (monday - sunday) / 4 == hours


@pytest.mark.parametrize("first", [SPRING, AUTUMN])
def test_work_begins_by_the_clock_on_the_wall_on_both_sides_of_the_change(first):
    clock = a_clock(4, first, days=ALL)
    begins = [clock.moment(begin) for begin, _ in clock.stretches]
    assert len(begins) == 4
    assert {moment.strftime("%H:%M") for moment in begins} == {"07:00"}


def test_a_recoat_window_over_the_change_counts_real_hours():
    clock = a_clock_every_day(AUTUMN)
    air = an_air(clock.hours)
    steady = a_material({"slab_f": 77, "recoat_min_h": 23, "recoat_max_h": 25})
    found = plan(a_chain(air, a_link(1, steady, 70), a_link(1, steady, 70)), clock, 1)
    first, second = found.placed
    assert clock.moment(first.start).isoformat() == "2026-10-31T07:00:00-05:00"
    # 08:00 daylight time and 23 h later is 06:00 standard time; 07:00 and 25 h later is 07:00 standard time.
    assert clock.moment(second.earliest).isoformat() == "2026-11-01T06:00:00-06:00"
    assert second.latest is not None
    assert clock.moment_by(second.latest).isoformat() == "2026-11-01T07:00:00-06:00"


def a_clock_every_day(first):
    return a_clock(6, first, start=datetime.time(6), end=datetime.time(16), days=ALL)


def test_the_first_slot_is_the_midnight_of_the_job():
    clock = a_clock(first=datetime.date(2026, 6, 1))
    assert clock.moment(0).isoformat() == "2026-06-01T00:00:00-05:00"
    assert clock.slot_of_day(datetime.date(2026, 6, 2)) == 96


def test_a_zone_on_the_half_hour_keeps_its_work_hours():
    clock = a_clock(zone="Asia/Kolkata")
    begin, end = clock.stretches[0]
    assert clock.moment(begin).isoformat() == "2026-06-01T07:00:00+05:30"
    assert clock.moment(end).isoformat() == "2026-06-01T15:30:00+05:30"


def test_minutes_are_rounded_to_the_safe_side():
    clock = a_clock()
    assert clock.moment(4.01).strftime("%H:%M") == "01:01"
    assert clock.moment_by(4.01).strftime("%H:%M") == "01:00"
    assert clock.moment(4.0) == clock.moment_by(4.0)


def test_a_night_of_work_runs_through_midnight_and_over_the_change():
    clock = a_clock(4, first=AUTUMN, days=("sat", "sun"), start=datetime.time(22), end=datetime.time(6))
    nights = [(clock.moment(begin), clock.moment(end)) for begin, end in clock.stretches]
    assert [f"{a:%a %H:%M} {b:%a %H:%M}" for a, b in nights] == ["Sat 22:00 Sun 06:00", "Sun 22:00 Mon 06:00"]
    # Clocks go back at 2 in the morning of Sunday: that night is an hour longer.
    assert [end - begin for begin, end in clock.stretches] == [9 * 4, 8 * 4]
    air = an_air(clock.hours)
    (coat,) = plan(a_chain(air, a_link(6, a_material(), 70)), clock, 1).placed
    assert f"{clock.moment(coat.start):%a %H:%M} {clock.moment(coat.end):%a %H:%M}" == "Sat 22:00 Sun 03:00"
