"""The whole plan of small floors, on the shipped catalog."""

import datetime
import itertools

import jsonschema
import pytest

from finishadvisor.plan.today import today_on
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, PLAN_SCHEMA, a_floor, a_job, coats, plan_for


@pytest.mark.parametrize("finish", sorted(shipped().finishes))
def test_every_finish_of_the_catalog_can_be_planned_and_keeps_the_contract(finish):
    plan = plan_for(finish)
    jsonschema.validate(plan.as_json(), PLAN_SCHEMA)
    assert plan.feasible
    assert plan.steps
    assert all(step.earliest <= step.start < step.end for step in plan.steps)
    assert all(step.latest is None or step.end <= step.latest for step in plan.steps)
    for step in plan.steps:
        assert datetime.time(7) <= step.start.time()
        assert step.end.time() <= datetime.time(15, 30)
        assert step.start.weekday() < 5


def test_a_top_coat_lies_inside_the_window_of_the_coat_below():
    build, top = coats(plan_for())
    assert build.latest is None
    assert top.latest is not None
    assert build.end < top.earliest <= top.start < top.end <= top.latest


def test_the_floor_comes_back_step_by_step_behind_the_last_coat():
    plan = plan_for()
    back = plan.back_in_service["Shop"]
    assert coats(plan)[-1].end < back.foot < back.water < back.furniture < back.vehicle < back.cover
    times = (back.foot, back.water, back.furniture, back.vehicle, back.cover)
    assert all((time.minute, time.second) == (0, 0) for time in times)


def test_a_broadcast_lies_in_the_hours_of_its_coat_and_crew_is_not_counted_twice():
    base, flake, _top = coats(plan_for("polyaspartic-flake"))
    assert (flake.start, flake.end) == (base.start, base.end)
    assert base.crew + flake.crew == 2


def test_joints_are_filled_late_and_the_crew_comes_back_for_it():
    outline = {"joint": [{"kind": "control", "start": [0, 10], "end": [25, 10]}]}
    job = a_job({"outline": outline, "pour": {"date": ON - datetime.timedelta(days=40)}})
    from finishadvisor.plan.make import make_plan
    from finishadvisor.works.make import make_works
    from tests.plan.whole import facts_of
    from tests.works.shipped import required

    facts = facts_of(job)
    finding = required("fill-control-joints")
    works = make_works(job.floors[0], shipped().finishes["epoxy-urethane-solid"], (finding,), facts["Shop"], shipped())
    plan = make_plan([works], facts, job, shipped(), None, ON)
    last = plan.steps[-1]
    assert "filler" in last.task
    assert last.start.date() >= ON + datetime.timedelta(days=20)


def test_where_the_crew_comes_once_a_week_a_screening_is_put_in_and_its_cost_told():
    plan = plan_for(job=a_job(workday={"days": ["mon"]}))
    screening = [step for step in plan.steps if "Screen" in step.task]
    assert plan.feasible
    assert len(screening) == 1
    assert "cannot be kept" in " ".join(screening[0].notes)
    assert "It costs about" in " ".join(screening[0].notes)
    build, top = coats(plan)
    assert top.latest is None
    assert build.end < screening[0].start < top.start


def test_two_floors_share_one_crew():
    plan = plan_for(job=a_job({"name": "Shop"}, {"name": "Store"}))
    spans = sorted({(step.start, step.end, step.floor) for step in plan.steps})
    assert all(before[1] <= after[0] for before, after in itertools.pairwise(spans))


def test_the_floor_is_handed_over_when_feet_may_come_with_what_it_does_not_bear_yet():
    plan = plan_for()
    back = plan.back_in_service["Shop"]
    over = next(step for step in plan.steps if step.task_id == "hand-over")
    assert back.foot <= over.start < back.foot + datetime.timedelta(days=4)
    assert over.end < back.cover
    said = " ".join(over.notes)
    assert f"rugs and covers from {back.cover:%a} {back.cover:%Y-%m-%d %H:%M}" in said
    assert f"vehicles from {back.vehicle:%a} {back.vehicle:%Y-%m-%d %H:%M}" in said
    closed = next(step for step in plan.steps if step.task_id == "protect-after")
    assert f"rolled up until {back.cover:%a} {back.cover:%Y-%m-%d %H:%M}" in " ".join(closed.notes)


def test_what_the_floor_bears_already_at_handover_is_not_held_back():
    plan = plan_for("repellent")
    over = next(step for step in plan.steps if step.task_id == "hand-over")
    back = plan.back_in_service["Shop"]
    held = " ".join(over.notes)
    assert ("rugs and covers from" in held) == (back.cover > over.end)


def test_inspections_are_days_to_look_and_not_to_renew():
    plan = plan_for()
    last = coats(plan)[-1].end.date()
    months = shipped().finishes["epoxy-urethane-solid"].upkeep.inspect_months
    assert (plan.inspect["Shop"][0] - last).days == pytest.approx(30.4 * months, abs=3)


def test_the_same_job_gives_the_same_plan():
    assert plan_for() == plan_for()


def test_a_floor_drawn_has_an_hour_for_each_hour():
    hours = plan_for().air["Shop"]
    assert hours[0].start.isoformat() == "2026-09-21T00:00:00-05:00"
    assert all((after.start - before.start).total_seconds() == 3600 for before, after in itertools.pairwise(hours))
    assert all(hour.allowed for hour in hours)


def test_a_plan_over_the_autumn_change_keeps_its_hours():
    plan = plan_for(on=datetime.date(2026, 10, 30))
    assert {step.start.utcoffset() for step in plan.steps} == {
        datetime.timedelta(hours=-5),
        datetime.timedelta(hours=-6),
    }
    assert all(step.start.time() >= datetime.time(7) for step in plan.steps)


def test_large_floors_are_coated_in_parts_that_end_at_joints():
    plan = plan_for(job=a_job(a_floor(x=100, y=60), crew=1))
    parts = [step for step in coats(plan) if any(note.startswith("Part 1 of") for note in step.notes)]
    assert parts
    assert any("ends at a joint" in " ".join(step.notes) for step in parts)


@pytest.mark.parametrize("workday", [{"days": []}, {"start": "07:00", "end": "07:00"}])
def test_a_workday_without_hours_is_told(workday):
    plan = plan_for(job=a_job(workday=workday))
    assert not plan.feasible
    assert any("no working hours" in span.why for span in plan.blocked)


def test_a_store_that_closes_at_night_is_coated_at_night():
    job = a_job(workday={"start": "22:00", "end": "06:00", "days": ["sun", "mon", "tue", "wed", "thu"]})
    plan = plan_for(job=job)
    assert plan.feasible
    for step in plan.steps:
        assert not datetime.time(6) < step.start.time() < datetime.time(22)
        assert not datetime.time(6) < step.end.time() < datetime.time(22)
    night = [step for step in plan.steps if step.start.date() == ON or step.start.time() < datetime.time(6)]
    lines = " ".join(today_on(plan, ON, job.workday)["Shop"].lines)
    for step in night:
        if step.start < datetime.datetime.combine(ON, datetime.time(6), step.start.tzinfo) + datetime.timedelta(days=1):
            assert step.task in lines
