"""Tasks that are done in part: what is left of them, and which parts are refused."""

import datetime

import pytest

from finishadvisor.errors import JobError
from finishadvisor.works.check_parts import check_parts
from finishadvisor.works.make import make_works
from finishadvisor.works.parts import begun, progress_of
from tests.works.shipped import a_floor, shipped

ON = datetime.date(2026, 9, 21)
NEXT = ON + datetime.timedelta(days=1)
BAYS = {"joint": [{"kind": "control", "start": [at, 0], "end": [at, 20]} for at in (10, 20)]}
"""Three zones of a floor of 25 x 20 ft: 200, 200 and 100 ft²."""


def a_floor_with(*rows, **more):
    return a_floor(outline=BAYS, done=[{"date": ON, **row} for row in rows], **more)


def progress(floor, on=NEXT):
    works = make_works(floor, shipped().finishes["acrylic-water"], (), {}, shipped())
    return works, progress_of(works, floor, on, shipped())


def left(floor, task, on=NEXT):
    works, found = progress(floor, on)
    named = next(each for each in works.tasks if each.id == task)
    return begun(named, found[task], works, shipped())


def test_an_area_leaves_the_rest_of_extent_hours_and_material():
    rest = left(a_floor_with({"task": "wash", "area_ft2": 300}), "wash")
    assert rest.rest.quantity == pytest.approx(200)
    assert rest.said == "300 ft² of 500 ft² done"
    assert [zone.area_ft2 for zone in rest.zones_left] == pytest.approx([200])
    works, _ = progress(a_floor_with())
    whole = next(task for task in works.tasks if task.id == "wash").crew_hours
    setup = shipped().work_items["wash"].setup_hours
    assert rest.rest.crew_hours.expected == pytest.approx(setup + 0.4 * (whole.expected - setup))


def test_zones_add_up_over_days_and_leave_the_others():
    parts = ({"task": "wash", "zones": ["A"]}, {"task": "wash", "zones": ["zone b"], "date": NEXT})
    rest = left(a_floor_with(*parts), "wash")
    assert [zone.name for zone in rest.zones_left] == ["zone 3"]
    assert rest.said == "400 ft² of 500 ft² done (zones A, B)"
    assert rest.last == NEXT
    assert left(a_floor_with(*parts), "wash", on=ON).rest.quantity == pytest.approx(300)
    _, all_of_it = progress(a_floor_with(*parts, {"task": "wash", "zones": ["3"], "date": NEXT}))
    assert all_of_it["wash"].finished


def used(*areas):
    row = {"material": "acrylic-water", "layer": "seal", "used": 1, "date": ON}
    return [{**row, "area_ft2": area} for area in areas]


@pytest.mark.parametrize(
    ("areas", "shares"), [((300,), (0.6, None)), ((300, 200), (1, None)), ((490,), (1, None)), ((490, 250), (1, 0.5))]
)
def test_amounts_used_are_coats_by_the_area_that_they_cover(areas, shares):
    _, found = progress(a_floor_with(used=used(*areas)))
    told = [found[task].share if task in found else None for task in ("seal-coat-1", "seal-coat-2")]
    assert told == [None if share is None else pytest.approx(share) for share in shares]


REFUSED = [
    ({"task": "wash", "zones": ["D"]}, 'there is no zone "D" on this floor; it has A, B, C'),
    ({"task": "wash", "zones": ["A", "zone 1"]}, "zone A is recorded already"),
    ({"task": "wash", "area_ft2": 501 * 1.01}, "506 ft² is more than the whole floor of 500 ft²"),
    ({"task": "mock-up", "area_ft2": 10}, "this work has no parts"),
    ({"task": "fill-control-joints", "area_ft2": 10}, "measured along lines, not by area"),
    ({"task": "screen-between-coats-before-seal-coat-2", "area_ft2": 10}, "this work has no parts"),
]


@pytest.mark.parametrize(("row", "said"), REFUSED)
def test_a_part_that_cannot_be_meant_is_refused_in_a_plain_line(row, said):
    with pytest.raises(JobError) as error:
        check_parts(a_floor_with(row), shipped(), "us")
    assert said in str(error.value)
    assert "done 1" in str(error.value)


def test_parts_that_add_up_to_more_than_the_floor_and_zones_of_a_floor_without_joints_are_refused():
    with pytest.raises(JobError, match=r"300 ft² is more than the 200 ft² of 500 ft² that are left"):
        check_parts(a_floor_with(*({"task": "wash", "area_ft2": 300},) * 2), shipped(), "us")
    with pytest.raises(JobError, match=r"27\.9 m² is more than the 18\.6 m² of 46\.5 m² that are left"):
        check_parts(a_floor_with(*({"task": "wash", "area_ft2": 300},) * 2), shipped(), "metric")
    with pytest.raises(JobError, match="no joint cuts this floor into zones"):
        check_parts(a_floor(done=[{"task": "wash", "date": ON, "zones": ["A"]}]), shipped(), "us")


def test_lines_are_told_by_zones_and_a_round_area_is_taken():
    check_parts(a_floor_with({"task": "fill-control-joints", "zones": ["A"]}), shipped(), "us")
    check_parts(a_floor_with({"task": "wash", "area_ft2": 504}), shipped(), "us")
