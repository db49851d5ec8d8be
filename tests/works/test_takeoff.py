"""Areas, lengths and zones are measured on the outline."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.catalog.supplies import WorkItem
from finishadvisor.errors import CatalogError, EntryError, JobError
from finishadvisor.works.takeoff import extents_of, take_off
from tests.works.shipped import a_floor, shipped


def joint(kind, start, end, **more):
    return {"kind": kind, "start": start, "end": end, **more}


def item(**more):
    row = {
        "id": "some",
        "title": "Some",
        "phase": 50,
        "extent": "joint",
        "steps": ("Do it.",),
        "source": {"id": "common-practice"},
        "hours_per_100": {"low": 1, "expected": 1, "high": 1},
    }
    return WorkItem.model_validate(row | more)


def test_steps_and_cove_belong_to_the_area():
    outline = {
        "steps": [{"count": 3, "width": 4, "tread": "12in", "riser": "6in"}],
        "cove": 12,
    }
    takeoff = take_off(a_floor(10, 10, outline=outline), shipped())
    assert takeoff.area_ft2 == pytest.approx(100 + 3 * 4 * 1.5 + 12 * 4 / 12)
    assert sum(zone.area_ft2 for zone in takeoff.zones) == pytest.approx(takeoff.area_ft2)
    assert [zone.name for zone in takeoff.zones] == ["whole slab", "steps", "cove"]
    assert takeoff.steps == 3


def test_edge_is_the_perimeter_unless_stated():
    assert take_off(a_floor(10, 20), shipped()).edge_ft == 60
    assert take_off(a_floor(10, 20, outline={"edge": 25}), shipped()).edge_ft == 25


def test_a_cut_out_takes_area_and_gives_edge():
    column = [[(4, 4), (6, 4), (6, 6), (4, 6)]]
    takeoff = take_off(a_floor(10, 20, outline={"cut_outs": column}), shipped())
    assert takeoff.area_ft2 == pytest.approx(196)
    assert takeoff.edge_ft == pytest.approx(68)


def test_joints_cut_the_slab_into_zones_from_the_origin():
    joints = [joint("control", (10, 0), (10, 20)), joint("construction", (0, 5), (30, 5))]
    zones = take_off(a_floor(30, 20, outline={"joint": joints}), shipped()).zones
    assert [(zone.name, zone.area_ft2) for zone in zones] == [
        ("zone 1", pytest.approx(50)),
        ("zone 2", pytest.approx(100)),
        ("zone 3", pytest.approx(150)),
        ("zone 4", pytest.approx(300)),
    ]


def test_a_joint_that_ends_in_the_middle_cuts_nothing_off():
    zones = take_off(a_floor(outline={"joint": [joint("control", (10, 0), (10, 8))]}), shipped()).zones
    assert [zone.name for zone in zones] == ["whole slab"]


def test_a_joint_drawn_two_inches_short_still_ends_a_zone():
    zones = take_off(a_floor(20, 20, outline={"joint": [joint("control", (10, 0.16), (10, 19.84))]}), shipped()).zones
    assert [zone.area_ft2 for zone in zones] == [pytest.approx(200), pytest.approx(200)]


def test_a_crack_ends_no_zone():
    takeoff = take_off(a_floor(outline={"joint": [joint("crack", (10, 0), (10, 20))]}), shipped())
    assert len(takeoff.zones) == 1
    assert (takeoff.joint_ft, takeoff.crack_ft) == (0, 20)


def test_a_crack_is_filled_by_length_width_and_depth():
    drawn = [joint("crack", (0, 0), (10, 0), width="0.25in", depth="1.5in")]
    takeoff = take_off(a_floor(outline={"joint": drawn}), shipped())
    assert takeoff.volume_ft3({"crack"}) == pytest.approx(10 * 0.25 / 12 * 1.5 / 12)


def test_moving_joints_are_told_from_those_that_are_filled():
    drawn = [
        joint("isolation", (0, 1), (10, 1)),
        joint("control", (0, 2), (10, 2), moving=True),
        joint("control", (0, 3), (10, 3)),
    ]
    takeoff = take_off(a_floor(outline={"joint": drawn}), shipped())
    assert takeoff.length_ft({"moving"}) == 20
    assert takeoff.length_ft({"control"}) == 10
    assert extents_of(item(joint_kinds=["control"]), takeoff, shipped(), asked_for=True).quantity == 10


def test_undrawn_cracks_are_allowed_for_only_when_a_rule_asks():
    takeoff = take_off(a_floor(), shipped())
    cracks = item(joint_kinds=["crack"])
    assert extents_of(cracks, takeoff, shipped(), asked_for=False).quantity == 0
    allowed = extents_of(cracks, takeoff, shipped(), asked_for=True)
    assert allowed.quantity == pytest.approx(500 * shipped().limits["crack-allowance-ft-per-100-ft2"].value / 100)
    assert "no crack is drawn" in allowed.allowed_for


def test_an_unknown_counting_rule_is_named_with_those_that_exist():
    counted = item(extent="count", count_rule="f2170-hole", hours_per_100=None)
    with pytest.raises(CatalogError, match=r'counted by "f2170-hole".*Did you mean "f2170-holes"'):
        extents_of(counted, take_off(a_floor(), shipped()), shipped(), asked_for=False)


def test_a_floor_without_outline_cannot_be_measured():
    floor = a_floor().model_copy(update={"outline": None})
    with pytest.raises(JobError, match="has no outline"):
        take_off(floor, shipped())


def test_a_polygon_that_touches_itself_is_refused_with_the_place():
    bow_tie = {"rectangle": [], "polygons": [[(0, 0), (10, 10), (10, 0), (0, 10)]]}
    floor = a_floor(outline=bow_tie)
    with pytest.raises(EntryError, match="crosses or touches itself near"):
        take_off(floor, shipped())


@given(
    x=st.floats(5, 200),
    y=st.floats(5, 200),
    at=st.lists(st.integers(1, 9), max_size=4, unique=True),
)
def test_zones_add_up_to_the_floor(x, y, at):
    joints = [joint("control", (x * tenth / 10, 0), (x * tenth / 10, y)) for tenth in at]
    takeoff = take_off(a_floor(x, y, outline={"joint": joints}), shipped())
    assert math.isclose(sum(zone.area_ft2 for zone in takeoff.zones), takeoff.area_ft2, rel_tol=1e-6)
    assert len(takeoff.zones) == len(at) + 1
