"""A plan that goes on from the coats that are down."""

import datetime

from finishadvisor.plan.today import today_lines
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_job, plan_for

TUESDAY, WEDNESDAY = ON + datetime.timedelta(days=1), ON + datetime.timedelta(days=2)


def a_job_with(*used, **more):
    rows = [
        {"material": material, "layer": layer, "coats": coats, "area_ft2": 500, "used": 3, "date": day}
        for material, layer, coats, day in used
    ]
    return a_job({"used": rows, **more})


BUILD = ("epoxy-solid", "build", 1, TUESDAY)


def test_the_top_comes_next_and_nothing_before_it():
    plan = plan_for(job=a_job_with(BUILD), on=WEDNESDAY)
    first = plan.steps[0]
    assert first.layer == "top"
    assert any("is down since 2026-09-22" in note for note in first.notes)
    assert "top" in " ".join(today_lines(plan, WEDNESDAY)["Shop"])


def test_its_window_is_counted_from_the_whole_workday():
    plan = plan_for(job=a_job_with(BUILD), on=WEDNESDAY)
    top = plan.steps[0]
    # epoxy-solid at a steady 70 °F: minimum behind Tuesday 15:30, maximum behind Tuesday 07:00.
    fresh = plan_for()
    build, laid_top = (step for step in fresh.steps if step.coat is not None)
    minimum = laid_top.earliest - build.end
    maximum = laid_top.latest - build.start
    expected = (build.end.replace(hour=15, minute=30) + minimum, build.start.replace(hour=7, minute=0) + maximum)
    assert abs(top.earliest - expected[0]) < datetime.timedelta(minutes=2)
    assert abs(top.latest - expected[1]) < datetime.timedelta(minutes=2)
    assert top.start >= top.earliest
    assert top.end <= top.latest


def test_a_window_that_is_over_calls_for_screening():
    old = ("epoxy-solid", "build", 1, ON - datetime.timedelta(days=6))
    plan = plan_for(job=a_job_with(old), on=WEDNESDAY)
    assert plan.feasible
    assert [step.layer for step in plan.steps[:2]] == [None, "top"]
    assert "Screen" in plan.steps[0].task


def test_when_all_coats_are_down_only_the_end_is_left_and_the_floor_comes_back():
    done = plan_for(job=a_job_with(BUILD, ("urethane-solid", "top", 1, WEDNESDAY)), on=WEDNESDAY)
    assert all(step.coat is None for step in done.steps)
    back = done.back_in_service["Shop"]
    fresh = plan_for().back_in_service["Shop"]
    assert abs(back.foot - fresh.foot) < datetime.timedelta(hours=12)


def test_coats_are_counted_over_several_records():
    half = a_job_with(("acrylic-water", "seal", 1, TUESDAY))
    assert [s.coat for s in plan_for("acrylic-water", job=half, on=WEDNESDAY).steps if s.coat] == [2]
    both = a_job_with(("acrylic-water", "seal", 1, TUESDAY), ("acrylic-water", "seal", 1, WEDNESDAY))
    assert [s.coat for s in plan_for("acrylic-water", job=both, on=WEDNESDAY).steps if s.coat] == []


def test_a_record_of_tomorrow_is_not_down_yet():
    layers = [step.layer for step in plan_for(job=a_job_with(BUILD), on=ON).steps if step.coat]
    assert layers == [layer.name for layer in shipped().finishes["epoxy-urethane-solid"].layers]
