"""Where each batch goes on the plan: areas to scale, numbers that can be read, one layout for coats that are alike."""

import re
from xml.etree import ElementTree

import pytest
from shapely import union_all

from finishadvisor.job.document import Floor
from finishadvisor.papers.batch_areas import batch_areas, layouts_of
from finishadvisor.papers.floor_plan import MarkedPlace, batch_plan, floor_plan
from finishadvisor.papers.plans_of_floor import BATCHES, plan_blocks
from finishadvisor.records.order import Batch
from finishadvisor.records.works import FloorWorks, Zone
from tests.papers import jobs
from tests.papers.test_figures import SVG, words_of

L_SHAPE = [[0, 0], [34, 0], [34, 14], [22, 14], [22, 6], [0, 6]]
JOINT = {"kind": "control", "start": [22, 0], "end": [22, 6]}


def floor_of(*joints):
    outline = {"polygons": [L_SHAPE], "joint": list(joints)}
    return Floor.model_validate({"name": "Test", "outline": outline}, context={"metric": False})


def works_of(*zones):
    named = tuple(Zone(name=name, area_ft2=area) for name, area in zones)
    area = sum(area for _, area in zones)
    return FloorWorks(
        floor="Test", finish="bare", area_ft2=area, edge_ft=1, joint_ft=1, zones=named, absorption="low", tasks=()
    )


ZONES = (("zone 1", 132.0), ("zone 2", 168.0), ("steps", 20.0))


def mixed(task, *areas):
    return [
        Batch(floor="Test", task=task, number=n, zone=zone, volume_gal=1, area_ft2=area, wet_film_mils=None,
              use_within_min=None)
        for n, (zone, area) in enumerate(areas, start=1)
    ]  # fmt: skip


def areas_of(batches, ft_per_in=4.0, zones=ZONES):
    (layout,) = layouts_of(works_of(*zones), batches)
    return list(batch_areas(floor_of(*([JOINT] if len(zones) > 1 else [])), layout, ft_per_in))


def test_a_zone_is_parted_by_the_areas_of_its_batches_across_its_longer_side():
    first, second, third = areas_of(mixed("base", ("zone 1", 99), ("zone 1", 33), ("zone 2", 168)))
    assert [area.label for area in (first, second, third)] == ["1", "2", "3"]
    assert first.shape.area == pytest.approx(99, rel=1e-6)
    assert first.shape.bounds == pytest.approx((0, 0, 16.5, 6), abs=1e-6)
    assert second.shape.bounds == pytest.approx((16.5, 0, 22, 6), abs=1e-6)
    assert first.ends.length == pytest.approx(6)
    assert second.ends is None
    assert third.shape.area == pytest.approx(168)


def test_the_parts_of_a_crooked_floor_have_the_areas_of_their_batches_and_leave_nothing_out():
    parts = areas_of(mixed("base", *[("whole slab", 60)] * 5), zones=[("whole slab", 300.0)])
    assert [part.shape.area for part in parts] == pytest.approx([60] * 5, rel=1e-6)
    assert union_all([part.shape for part in parts]).area == pytest.approx(300)


def test_more_batches_than_can_be_read_are_told_from_first_to_last():
    many = mixed("base", *[("zone 1", 6.6)] * 20, ("zone 2", 168))
    assert [area.label for area in areas_of(many, ft_per_in=6.0)] == ["1–20", "21"]
    assert len(areas_of(many, ft_per_in=1.0)) == 21  # drawn larger there is room for each


def test_one_batch_over_several_zones_stands_in_each_and_steps_in_none():
    areas = areas_of(mixed("base", ("zone 1 to zone 2", 300), ("steps", 20)))
    assert [(area.label, round(area.shape.area)) for area in areas] == [("1", 132), ("1", 168)]


def test_coats_with_the_same_batches_share_a_layout():
    alike = mixed("base", ("zone 1", 132), ("zone 2", 168)) + mixed("top", ("zone 1", 132), ("zone 2", 168))
    unlike = mixed("seal", ("zone 1 to zone 2", 300))
    layouts = layouts_of(works_of(*ZONES), alike + unlike)
    assert [layout.tasks for layout in layouts] == [("base", "top"), ("seal",)]


def test_plans_bear_the_numbers_beside_the_letters():
    (layout,) = layouts_of(works_of(*ZONES), mixed("base", ("zone 1", 66), ("zone 1", 66), ("zone 2", 168)))
    words = words_of(floor_plan(floor_of(JOINT), "us", layout=layout))
    assert {"A", "B", "1", "2", "3", "132 ft²"} <= set(words)
    small = words_of(batch_plan(floor_of(JOINT), layout, (3.0, 2.0)))
    assert sorted(small) == ["1", "2", "3", "A", "B"]
    assert batch_plan(Floor(name="Test"), layout, (3.0, 2.0)) is None


def test_a_job_sheet_draws_each_layout_once(worked):
    from finishadvisor.whole_job.batches import batches_of

    floor = jobs.floor("Shop", outline=jobs.US_OUTLINE.replace("24 ft", "60 ft").replace("15 ft", "40 ft"))
    whole = worked([floor + '\n[floor.decision]\nfinish = "epoxy-urethane-clear"\n'])
    outcome, batches = whole.floors[0], batches_of(whole)
    layouts = layouts_of(outcome.works, batches)
    assert len(layouts) == 2
    blocks, pictures = plan_blocks(whole, outcome, outcome.works, batches, ())
    assert set(pictures) == {"plan.svg", "batches-1.svg", "batches-2.svg"}
    (drawn,) = [block for block in blocks if block["kind"] == "drawings"]
    for caption, layout in zip(drawn["captions"], layouts, strict=True):
        assert f"{len(layout.batches)} batch" in caption
        assert re.match(r"Step \d+, ", caption)
    one = [batch for batch in batches if batch.task == layouts[0].tasks[0]]
    assert set(plan_blocks(whole, outcome, outcome.works, one, ())[1]) == {"plan.svg"}


def test_a_label_at_the_right_wall_stands_left_of_its_cross():
    places = [MarkedPlace(33.9, 10.0, "T10"), MarkedPlace(26.0, 10.0, "T9")]
    svg = ElementTree.fromstring(floor_plan(floor_of(), "us", tests=places))
    sides = {word.text: word.get("text-anchor") for word in svg.iter(f"{SVG}text")}
    assert (sides["T10"], sides["T9"]) == ("end", "start")


def test_what_is_left_without_a_place_is_on_no_plan(worked):
    whole = worked([jobs.floor("Shop")])
    outcome = whole.floors[0]
    rest = [batch.model_copy(update={"floor": "Shop"}) for batch in mixed("base", ("the rest", 90))]
    blocks, pictures = plan_blocks(whole, outcome, outcome.works, rest, ())
    assert set(pictures) == {"plan.svg"}
    assert BATCHES not in str(blocks)
    both = [*rest, *(batch.model_copy(update={"floor": "Shop"}) for batch in mixed("top", ("zone 1", 180)))]
    blocks, pictures = plan_blocks(whole, outcome, outcome.works, both, ())
    assert set(pictures) == {"plan.svg", "batches-1.svg"}
    assert BATCHES in str(blocks)
