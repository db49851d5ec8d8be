"""A plan that goes on from tasks that are done in part."""

import datetime
import math

import pytest

from tests.plan.test_done import ON, TUESDAY, WEDNESDAY
from tests.plan.whole import a_job, plan_for

BAYS = {"joint": [{"kind": "control", "start": [10, 0], "end": [10, 20]}]}
"""Zone A of 200 ft² and zone B of 300 ft² on the floor of 25 x 20 ft."""


def plan_with(*rows, finish="epoxy-urethane-solid", on=WEDNESDAY, **more):
    return plan_for(finish, job=a_job({"outline": BAYS, "done": list(rows), **more}), on=on)


def hours(plan, task):
    return sum(step.hours for step in plan.steps if step.task_id == task)


def step(plan, task):
    return next(each for each in plan.steps if each.task_id == task)


def part(task, day, time=None, **how):
    return {"task": task, "date": day, **({"time": time} if time else {}), **how}


def test_what_is_ground_is_out_of_the_hours_and_the_rest_stays():
    fresh = plan_for()
    grind = next(each.task_id for each in fresh.steps if "grind" in each.task_id)
    plan = plan_with(part(grind, ON, area_ft2=300), on=TUESDAY)
    assert 0.4 * hours(fresh, grind) <= hours(plan, grind) < 0.8 * hours(fresh, grind)
    assert grind not in plan.done["Shop"]
    assert any(note == "300 ft² of 500 ft² done; this is the rest of it." for note in step(plan, grind).notes)


def test_under_a_begun_coat_all_is_done_but_what_is_recorded_in_part():
    fresh = list(dict.fromkeys(each.task_id for each in plan_for().steps))
    grind = next(task for task in fresh if "grind" in task)
    coat = part("build-coat-1", TUESDAY, "11:00", zones=["A"])
    assert (
        list(dict.fromkeys(each.task_id for each in plan_with(coat, on=TUESDAY).steps))
        == fresh[fresh.index("build-coat-1") :]
    )
    ground = plan_with(part(grind, ON, zones=["A"]), coat)
    assert [each.task_id for each in ground.steps][:2] == [grind, "build-coat-1"]
    assert set(ground.done["Shop"]) == {*fresh[: fresh.index("build-coat-1")]} - {grind}


def test_the_next_coat_waits_for_the_last_part_and_keeps_the_window_of_the_first():
    whole = plan_with(part("build-coat-1", TUESDAY, "11:00"))
    half = plan_with(part("build-coat-1", TUESDAY, "11:00", zones=["A"]), on=TUESDAY)
    rest, top, after_whole = step(half, "build-coat-1"), step(half, "top-coat-1"), step(whole, "top-coat-1")
    assert (rest.start.date(), rest.start.hour) == (TUESDAY, 11)
    minute = datetime.timedelta(minutes=1)
    ended = datetime.datetime.combine(TUESDAY, datetime.time(11), rest.end.tzinfo)
    assert abs((top.earliest - rest.end) - (after_whole.earliest - ended)) <= minute
    # Zone A was begun later than the whole coat, of which it is two fifths, would have been: so much more is left.
    slots = math.ceil(4 * hours(plan_for(), "build-coat-1") / 2)
    began_later = datetime.timedelta(minutes=15 * (slots - math.ceil(slots * 0.4)))
    assert abs((top.latest - after_whole.latest) - began_later) <= minute
    assert top.end <= top.latest


def test_a_window_that_the_first_part_cannot_keep_calls_for_screening():
    old = ON - datetime.timedelta(days=6)
    plan = plan_with(part("build-coat-1", old, zones=["A"]))
    order = [each.task_id for each in plan.steps]
    assert plan.feasible
    assert (
        order.index("build-coat-1") < order.index("screen-between-coats-before-top-coat-1") < order.index("top-coat-1")
    )


def test_what_the_next_coat_covers_already_binds_no_more():
    old = ON - datetime.timedelta(days=6)
    in_time = part("top-coat-1", old + datetime.timedelta(days=1), zones=["A"])
    base = (part("build-coat-1", old, zones=["A"]), in_time, part("build-coat-1", TUESDAY, "11:00", zones=["B"]))
    plan = plan_with(*base)
    assert not any("screen" in each.task_id for each in plan.steps)
    assert step(plan, "top-coat-1").latest.date() > TUESDAY
    late = plan_with(base[0], base[2])
    assert any("screen" in each.task_id for each in late.steps)


def test_bead_and_flake_go_with_the_rest_of_their_coat():
    fresh = plan_for("polyaspartic-flake")
    plan = plan_with(part("base-coat-1", TUESDAY, "11:00", zones=["A"]), finish="polyaspartic-flake", on=TUESDAY)
    flake = next(each.task_id for each in fresh.steps if "flake" in each.task_id)
    assert plan.begun["Shop"][flake].rest.quantity == pytest.approx(300)
    assert 0.5 < hours(plan, flake) / hours(fresh, flake) < 1
    assert [zone.name for zone in plan.begun["Shop"]["base-coat-1"].zones_left] == ["zone 2"]


def test_parts_that_make_the_whole_are_the_whole():
    parts = [part("build-coat-1", TUESDAY, time, zones=[zone]) for zone, time in (("A", "09:30"), ("B", "11:00"))]
    plan = plan_with(*parts)
    assert "build-coat-1" in plan.done["Shop"]
    assert not plan.begun["Shop"]
    assert (
        step(plan, "top-coat-1").earliest
        == step(plan_with(part("build-coat-1", TUESDAY, "11:00")), "top-coat-1").earliest
    )


def test_once_coating_has_begun_no_gate_holds_the_rest():
    young = {"pour": {"date": ON - datetime.timedelta(days=10)}}
    held = plan_with(finish="epoxy-urethane-solid", **young)
    begun = plan_with(part("build-coat-1", TUESDAY, zones=["A"]), **young)
    assert step(held, "build-coat-1").start.date() > step(begun, "build-coat-1").start.date() == WEDNESDAY


def test_what_a_coat_lies_upon_waits_no_more():
    washed = part("wash", TUESDAY, "09:00")
    coat = part("seal-coat-1", TUESDAY, "12:00")
    plan = plan_with(washed, coat, finish="acrylic-solvent", on=WEDNESDAY)
    assert plan.steps[0].task_id == "seal-coat-2"
    assert plan.steps[0].start.date() == WEDNESDAY
    half = plan_with(washed, {**coat, "zones": ["A"]}, finish="acrylic-solvent", on=WEDNESDAY)
    assert (half.steps[0].task_id, half.steps[0].start.date()) == ("seal-coat-1", WEDNESDAY)
