"""What is left of the works once some of it is done."""

import pytest

from finishadvisor.records.works import Begun
from finishadvisor.works.make import make_works
from finishadvisor.works.parts import rest_of
from finishadvisor.works.remaining import remaining, supplied
from tests.works.shipped import a_floor, required, shipped


def works_of(*findings):
    return make_works(a_floor(), shipped().finishes["acrylic-water"], findings, {}, shipped())


def test_what_nobody_did_is_left_and_the_works_are_the_same():
    works = works_of()
    assert remaining(works, (), {}) is works
    assert remaining(works, {"top-coat-7"}, {}) is works


def test_with_a_coat_what_was_only_possible_under_it_has_lapsed():
    works = works_of(required("repair-cracks", "unknown"), required("recut-joints", "unknown"))
    possible = {task.id for task in works.tasks if not task.certain}
    washed = {task.id for task in remaining(works, {"wash"}, {}).tasks if not task.certain}
    coated = {task.id for task in remaining(works, {"seal-coat-1"}, {}).tasks if not task.certain}
    assert washed == possible
    assert coated == {task for task in possible if task == "recut-joints"}


def test_the_mock_up_is_made_once_it_or_a_coat_is_done():
    works = works_of(required("mock-up"))
    assert remaining(works, {"wash"}, {}).mock_up_ft2 == works.mock_up_ft2 > 0
    assert remaining(works, {"mock-up"}, {}).mock_up_ft2 == 0
    assert remaining(works, {"seal-coat-1"}, {}).mock_up_ft2 == 0


def test_only_what_took_material_is_told():
    works = works_of(required("mock-up"))
    assert [task.id for task in supplied(works, {"mock-up", "wash", "seal-coat-1"})] == ["wash", "seal-coat-1"]


def test_of_what_is_begun_the_rest_is_left_and_a_begun_coat_ends_the_mock_up():
    works = works_of(required("mock-up"))
    begun = {task.id: Begun(rest=rest_of(task, 0.6, shipped()), zones_left=(), said="", last=None)
             for task in works.tasks if task.id in {"wash", "seal-coat-1"}}  # fmt: skip
    washed = remaining(works, {"mock-up"}, {"wash": begun["wash"]})
    assert {task.id: task.quantity for task in washed.tasks}["wash"] == pytest.approx(0.4 * works.area_ft2)
    assert remaining(works, (), {"wash": begun["wash"]}).mock_up_ft2 == works.mock_up_ft2
    assert remaining(works, (), {"seal-coat-1": begun["seal-coat-1"]}).mock_up_ft2 == 0
    assert remaining(works, {"wash"}, begun).tasks[0].id != "wash"
