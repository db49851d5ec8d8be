import subprocess
import sys
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import Point

from finishadvisor.errors import EntryError
from finishadvisor.job.drawn import Outline
from finishadvisor.job.outline import (
    area_ft2,
    check_outline,
    edge_ft,
    floor_polygon,
    perimeter_ft,
    points_outside,
    steps_area_ft2,
)


def outline(**keys: Any) -> Outline:
    return Outline.model_validate(keys)


SHED = {"x": 20, "y": 10}
L_SHAPE = [[0, 0], [34, 0], [34, 14], [22, 14], [22, 6], [0, 6]]


def test_one_rectangle_has_its_area_and_edge() -> None:
    shed = outline(rectangle=[SHED])
    assert area_ft2(shed) == 200
    assert perimeter_ft(shed) == edge_ft(shed) == 60
    assert floor_polygon(shed).area == 200


def test_overlapping_rectangles_count_once() -> None:
    # 20 x 10 and 10 x 10 shifted by 15 share 5 x 10
    joined = outline(rectangle=[SHED, {"corner": [15, 0], "x": 10, "y": 10}])
    assert area_ft2(joined) == pytest.approx(250)
    assert perimeter_ft(joined) == pytest.approx(70)


def test_a_polygon_with_a_cut_out_by_hand_arithmetic() -> None:
    # 34 x 14 less 22 x 8 in the corner, less a 2 x 2 column whose edge is edge too
    yard = outline(polygons=[L_SHAPE], cut_outs=[[[26, 4], [28, 4], [28, 6], [26, 6]]])
    assert area_ft2(yard) == pytest.approx(34 * 14 - 22 * 8 - 4)
    assert perimeter_ft(yard) == pytest.approx(2 * (34 + 14) + 8)


def test_the_turning_sense_and_a_closing_corner_do_not_matter() -> None:
    there, back = outline(polygons=[L_SHAPE]), outline(polygons=[[*L_SHAPE[::-1], L_SHAPE[-1]]])
    assert area_ft2(there) == area_ft2(back)


def test_a_stated_edge_wins_and_may_be_none_at_all() -> None:
    assert edge_ft(outline(rectangle=[SHED], edge="12ft")) == 12
    assert edge_ft(outline(rectangle=[SHED], edge=0)) == 0


def test_steps_count_treads_and_risers() -> None:
    # 3 x 4 ft x (1 ft + 0.5 ft)
    steps = outline(rectangle=[SHED], steps=[{"count": 3, "width": 4, "tread": "12in", "riser": "6in"}])
    assert steps_area_ft2(steps) == pytest.approx(18)


@pytest.mark.parametrize(
    ("points", "place"),
    [
        ([[0, 0], [10, 10], [10, 0], [0, 10]], "x 5', y 5'"),
        ([[0, 0], [10, 0], [10, 10], [5, 0], [0, 10]], "x 5', y 0'"),
        ([[0, 0], [10, 0], [10, 10], [5, 5], [10, 10], [0, 10]], "x 5', y 5'"),
    ],
    ids=["crossing", "touching", "spike"],
)
def test_a_polygon_that_meets_itself_is_refused_with_the_place(points: Any, place: str) -> None:
    with pytest.raises(EntryError, match="polygon 1 crosses or touches itself near") as refused:
        check_outline(outline(polygons=[points]))
    assert place in str(refused.value)


def test_a_polygon_without_area_is_refused() -> None:
    with pytest.raises(EntryError, match="polygon 1"):
        check_outline(outline(polygons=[[[0, 0], [5, 0], [10, 0]]]))
    with pytest.raises(EntryError, match="no area"):
        check_outline(outline(polygons=[[[0, 0], [0.1, 0], [0.1, 0.1]]]))


@pytest.mark.parametrize("points", [[[30, 0], [32, 0], [32, 2]], [[18, 2], [22, 2], [22, 4], [18, 4]]])
def test_a_cut_out_outside_or_across_the_edge_is_refused_with_the_place(points: Any) -> None:
    with pytest.raises(EntryError, match="cut-out 1 lies outside the floor near x"):
        check_outline(outline(rectangle=[SHED], cut_outs=[points]))


def test_a_cut_out_may_lie_on_the_edge_and_miss_it_by_a_hair() -> None:
    niche = outline(rectangle=[SHED], cut_outs=[[[18, 0], [20.01, 0], [20.01, 2], [18, 2]]])
    check_outline(niche)
    assert area_ft2(niche) == pytest.approx(196)


def test_a_cut_out_of_everything_leaves_nothing() -> None:
    with pytest.raises(EntryError, match="nothing is left"):
        check_outline(outline(rectangle=[SHED], cut_outs=[[[0, 0], [20, 0], [20, 10], [0, 10]]]))


def test_no_shape_at_all_is_refused() -> None:
    with pytest.raises(EntryError, match="no rectangle and no polygon"):
        check_outline(outline(edge="10ft"))


@pytest.mark.parametrize("shape", [{"rectangle": [SHED]}, {"polygons": [[[0, 0], [20, 0], [20, 10], [0, 10]]]}])
def test_joints_lie_in_the_floor_or_are_refused(shape: Any) -> None:
    inside = outline(**shape, joint=[{"kind": "control", "start": [10, 0], "end": [10, 10]}])
    check_outline(inside)
    with pytest.raises(EntryError, match=r"joint 1, from x 10', y 0' to x 10', y 12', leaves the floor"):
        check_outline(outline(**shape, joint=[{"kind": "control", "start": [10, 0], "end": [10, 12]}]))
    with pytest.raises(EntryError, match="starts and ends at"):
        check_outline(outline(**shape, joint=[{"kind": "crack", "start": [10, 1], "end": [10, 1]}]))


def test_places_outside_are_found() -> None:
    assert points_outside(outline(rectangle=[SHED]), [(1, 1), (21, 1), (0, 30)]) == {(21, 1), (0, 30)}
    assert points_outside(outline(polygons=[L_SHAPE]), [(1, 1), (1, 10)]) == {(1, 10)}
    assert points_outside(outline(polygons=[L_SHAPE]), [(34, 14), (22, 6)]) == set()


FEET = st.integers(min_value=-2, max_value=22)
BOXES = st.lists(st.tuples(FEET, FEET, *[st.integers(min_value=1, max_value=6)] * 2), max_size=3)
SPOTS = st.lists(st.tuples(*[st.integers(min_value=-8, max_value=100).map(lambda number: number / 4)] * 2), max_size=8)
NEAR = st.sampled_from((0.0, 0.01, -0.01, 0.03, -0.03))
"""Within and beyond the slack of a quarter inch."""
SHAPES = {
    "rectangle": [[0, 0], [20, 0], [20, 18], [0, 18]],
    "L": [[0, 0], [20, 0], [20, 18], [12, 18], [12, 8], [0, 8]],
    "step": [[0, 0], [12, 0], [12, 8], [20, 8], [20, 18], [0, 18]],
    "U": [[0, 0], [0, 18], [6, 18], [6, 7], [14, 7], [14, 18], [20, 18], [20, 0]],
    "folded back": [[0, 0], [20, 0], [20, 18], [9, 18], [9, 0], [5, 0]],
    "crossing": [[0, 0], [20, 0], [20, 18], [5, 18], [5, -2], [0, -2]],
    "doubled back": [[0, 0], [20, 0], [20, 18], [25, 18], [25, 0]],
    "slanted": [[0, 0], [20, 0], [18, 18], [0, 18]],
}


def corners_of(x: float, y: float, width: float, length: float) -> list[list[float]]:
    return [[x, y], [x + width, y], [x + width, y + length], [x, y + length]]


@given(st.sampled_from(sorted(SHAPES)), BOXES, SPOTS, NEAR)
@example("rectangle", [(2, 2, 3, 3), (5, 2, 3, 3)], [], 0.0)  # two cut-outs that share an edge
@example("rectangle", [(2, 2, 6, 6), (4, 4, 1, 1)], [], 0.0)  # one cut-out in another
@example("rectangle", [(0, 2, 3, 3)], [], 0.0)  # at the wall
@example("rectangle", [], [(20.0, 5.0)], 0.01)  # beside the floor, within the slack
@example("step", [], [(5.0, 8.0)], 0.0)  # level with a corner
def test_straight_walls_are_told_as_the_geometry_library_tells_them(
    shape: str, boxes: list[Any], spots: list[Any], aside: float
) -> None:
    floor = outline(polygons=[SHAPES[shape]], cut_outs=[corners_of(*box) for box in boxes])
    try:
        polygon = floor_polygon(floor)
    except EntryError as refused:
        with pytest.raises(EntryError) as again:
            check_outline(floor)
        assert str(again.value) == str(refused)
        return
    check_outline(floor)
    assert area_ft2(floor) == pytest.approx(polygon.area)
    assert perimeter_ft(floor) == pytest.approx(polygon.length)
    points = [(x + aside, y - aside) for x, y in spots]
    around = polygon.buffer(0.02, join_style="mitre")
    assert points_outside(floor, points) == {point for point in points if not around.covers(Point(point))}


def test_straight_walls_ask_for_no_geometry_library() -> None:
    code = (
        "import sys\n"
        "from finishadvisor.job.drawn import Outline\n"
        "from finishadvisor.job.outline import area_ft2, check_outline\n"
        f"floor = Outline.model_validate({{'polygons': [{SHAPES['U']}], 'cut_outs': [{corners_of(2, 2, 1, 1)}]}})\n"
        "check_outline(floor)\n"
        "print(area_ft2(floor), 'shapely' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == [str(20.0 * 18 - 8 * 11 - 1), "False"]
