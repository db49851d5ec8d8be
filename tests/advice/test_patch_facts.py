"""The facts of a patch: what it lies at, its form, and whether it stays."""

import pytest

from tests.advice.floors import a_photo
from tests.advice.marked_floor import TWICE, about, box


@pytest.mark.parametrize(
    ("patch", "fact", "there"),
    [
        (box(0.2, 2, 1.2, 14), "mark_at_edge", True), (box(6, 2, 1.2, 14), "mark_at_edge", False),
        (box(3, 0, 5, 5), "mark_at_edge", False),  # touches the wall, and reaches far into the floor
        (box(9.4, 2, 0.6, 16), "mark_along_joint", True), (box(4, 2, 6, 16), "mark_along_joint", False),
        (box(0, 12, 20, 8), "mark_at_load_end", True), (box(0, 2, 20, 3), "mark_at_load_end", False),
        (box(4, 4, 1.5, 1.5), "mark_at_test", True), (box(5.8, 4, 1.5, 1.5), "mark_at_test", True),
        (box(14, 4, 1.5, 1.5), "mark_at_test", False),
        (box(4, 4, 2, 2), "mark_square", True), (box(4, 4, 2, 2, share=0.78), "mark_square", False),
        (box(4, 4, 2, 4.1), "mark_square", False),
    ],
)  # fmt: skip
def test_what_a_patch_lies_at(patch, fact, there):
    assert about(patch)[fact] is there


def test_places_on_a_turned_photo_are_those_on_the_plan():
    turned = {"photo": [{"file": "a.jpg", "size": [20, 20], "turned_deg": 90, "origin_on_plan": [20, 0]}]}
    along_x = box(2, 9.5, 16, 0.8)  # across the photo, along the sawcut on the plan
    assert about(along_x)["mark_along_joint"] is False
    assert about(along_x, **turned)["mark_along_joint"] is True


def test_without_a_plan_a_place_is_unknown_except_at_the_edge_of_the_photo():
    known = about(box(0.2, 2, 1.2, 14), on_plan=False, photo=[{"file": "a.jpg", "size": [20, 20]}])
    assert known["mark_at_edge"] is True
    assert [known[name] for name in ("mark_along_joint", "mark_at_load_end", "mark_at_test")] == [None] * 3
    assert about(box(0.2, 2, 1.2, 14), on_plan=False)["mark_at_edge"] is None


def test_edges_of_a_floor_with_a_cut_out():
    pillar = {"rectangle": [{"x": 20, "y": 20}], "cut_outs": [[[8, 8], [12, 8], [12, 12], [8, 12]]]}
    assert about(box(12.1, 8, 0.8, 4), outline=pillar)["mark_at_edge"] is True
    assert about(box(14.1, 8, 0.8, 4), outline=pillar)["mark_at_edge"] is False


def test_length_and_width_of_a_patch():
    told = about(box(2, 3, 0.5, 6))
    assert told["mark_long_ft"] == pytest.approx(6.0, abs=0.1)
    assert told["mark_wide_ft"] == pytest.approx(0.5, abs=0.02)
    assert told["mark_slender"] == pytest.approx(12, rel=0.03)


def test_a_mark_stays_where_all_photos_together_show_it():
    here = box(3, 3, 4, 4, dL=-5)
    same, elsewhere, paler = box(4, 4, 4, 4, dL=-4), box(14, 14, 4, 4, dL=-4), box(4, 4, 4, 4, dL=4)
    for other, stays in ((same, True), (elsewhere, False), (paler, False)):
        assert about(here, together=a_photo(other, photo="together"), **TWICE)["mark_stays"] is stays
    once = {
        "photo": [{"file": "a.jpg", "size": [20, 20]}, {"file": "b.jpg", "size": [20, 9], "origin_on_plan": [20, 0]}]
    }
    assert about(here, together=a_photo(same, photo="together"), **once)["mark_stays"] is None
    assert about(here, **TWICE)["mark_stays"] is None
