"""A plan that goes on from the coats that are down."""

import datetime

import pytest

from finishadvisor.job.document import Workday
from finishadvisor.plan.make import make_plan
from finishadvisor.plan.today import today_on
from finishadvisor.works.make import make_works
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_job, facts_of, plan_for
from tests.works.shipped import required

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
    assert plan.done["Shop"][-1] == "build-coat-1"
    assert {step.task_id for step in plan_for().steps} == {*plan.done["Shop"], *(step.task_id for step in plan.steps)}
    assert "top" in " ".join(today_on(plan, WEDNESDAY, Workday())["Shop"].lines)


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


# --- finished tasks --------------------------------------------------------------------------------------------------


def done(*tasks, **more):
    """A job whose floor records tasks as (id, day) or (id, day, "HH:MM")."""
    rows = [dict(zip(("task", "date", "time"), task, strict=False)) for task in tasks]
    return a_job({"done": rows, **more})


def ids(plan):
    return [step.task_id for step in plan.steps]


def test_what_is_recorded_is_left_out_and_the_rest_stays():
    fresh = plan_for()
    first, second, *rest = dict.fromkeys(ids(fresh))
    went_on = plan_for(job=done((first, ON), (second, ON)), on=TUESDAY)
    assert list(dict.fromkeys(ids(went_on))) == rest
    assert any(note.startswith("Done by the record: ") for note in went_on.steps[0].notes)
    assert went_on.done["Shop"] == (first, second)
    assert list(dict.fromkeys(ids(plan_for(job=done((second, ON)), on=TUESDAY)))) == [first, *rest]


def test_a_task_of_tomorrow_or_of_another_finish_changes_nothing():
    assert ids(plan_for(job=done(("seal-coat-1", ON), (ids(plan_for())[0], WEDNESDAY)))) == ids(plan_for())


@pytest.mark.parametrize(("hour", "opens"), [(None, "15:30"), ("09:00", "09:00")])
def test_a_washed_floor_dries_on_from_the_recorded_hour(hour, opens):
    fresh = plan_for("acrylic-solvent")
    wash = next(step for step in fresh.steps if step.task_id == "wash")
    before = ids(fresh)[: ids(fresh).index("wash")]
    record = ("wash", TUESDAY) if hour is None else ("wash", TUESDAY, hour)
    plan = plan_for("acrylic-solvent", job=done(*((task, ON) for task in before), record), on=WEDNESDAY)
    assert "wash" not in ids(plan)
    # 48 h after Tuesday is Thursday at the same hour.
    assert plan.steps[0].start >= wash.start.replace(day=24, hour=int(opens[:2]), minute=int(opens[3:]))
    assert any("48 h must pass after it" in note for note in plan.steps[0].notes)


def test_a_recorded_hour_counts_the_window_from_the_laying_itself():
    whole_day = plan_for(job=a_job_with(BUILD), on=WEDNESDAY)
    ended = plan_for(job=done(("build-coat-1", TUESDAY, "11:00")), on=WEDNESDAY)
    assert ended.steps[0].layer == whole_day.steps[0].layer == "top"
    assert ended.steps[0].earliest == whole_day.steps[0].earliest - datetime.timedelta(hours=4, minutes=30)
    assert ended.steps[0].latest > whole_day.steps[0].latest


def test_a_short_window_is_not_called_over_for_want_of_the_hour():
    # The base wants its top within 16.3 h at 70 °F: laid at an unknown hour of Monday it is too late on Tuesday.
    used = {"material": "polyaspartic-base", "layer": "base", "coats": 1, "area_ft2": 500, "used": 3, "date": ON}
    unknown = ids(plan_for("polyaspartic-flake", job=a_job({"used": [used]}), on=TUESDAY))
    known = ids(plan_for("polyaspartic-flake", job=done(("base-coat-1", ON, "15:00")), on=TUESDAY))
    assert known == ["scrape-and-vacuum", "top-coat-1", "protect-after", "hand-over"]
    assert unknown == [known[0], "screen-between-coats-before-top-coat-1", *known[1:]]


def test_a_screening_on_record_ends_the_window():
    old = ("epoxy-solid", "build", 1, ON - datetime.timedelta(days=6))
    screened = {"task": "screen-between-coats-before-top-coat-1", "date": TUESDAY}
    plan = plan_for(job=a_job_with(old, done=[screened]), on=WEDNESDAY)
    assert plan.steps[0].layer == "top"
    assert plan.steps[0].latest is None
    before_it = {"task": screened["task"], "date": ON - datetime.timedelta(days=8)}
    assert "Screen" in plan_for(job=a_job_with(old, done=[before_it]), on=WEDNESDAY).steps[0].task


def test_holes_that_are_drilled_wait_to_be_read_and_are_not_drilled_again():
    fresh = plan_for(slab_rh_pct=None)
    assert ids(fresh)[0] == "test-slab-rh"
    drilled = plan_for(job=done(("test-slab-rh", ON, "10:00")), slab_rh_pct=None)
    assert "test-slab-rh" not in ids(drilled)
    (beside,) = drilled.added["Shop"]
    assert beside.task.id in drilled.done["Shop"]
    assert drilled.steps[0].start >= drilled.steps[0].start.replace(day=22, hour=10, minute=0)
    assert any("write the readings down" in note for note in drilled.steps[0].notes)


def test_holes_that_were_read_and_are_too_wet_are_drilled_again():
    reading = {"kind": "slab-rh", "value": 90, "date": TUESDAY}
    job = done(("test-slab-rh", ON), reading=[reading])
    again = plan_for("epoxy-urethane-clear", job=job, on=WEDNESDAY, slab_rh_pct=90.0)
    assert ids(again)[0] == "test-slab-rh-2"
    assert [added.task.id for added in again.added["Shop"]] == ["test-slab-rh", "test-slab-rh-2"]
    twice = done(("test-slab-rh", ON), ("test-slab-rh-2", WEDNESDAY), reading=[reading])
    waiting = plan_for("epoxy-urethane-clear", job=twice, on=WEDNESDAY, slab_rh_pct=90.0)
    assert not [id_ for id_ in ids(waiting) if id_.startswith("test-slab-rh")]


def plan_with(finish, *items, **floor):
    job = a_job(floor)
    facts = facts_of(job, TUESDAY)
    findings = tuple(required(item) for item in items)
    works = make_works(job.floors[0], shipped().finishes[finish], findings, facts["Shop"], shipped())
    return make_plan([works], facts, job, shipped(), None, TUESDAY)


def test_a_signed_mock_up_and_a_photo_after_preparation_are_done():
    asked = ("mock-up", "photograph-after-preparation")
    made = {"finish": "dye-acrylic", "area_ft2": 16, "material": "dye-solvent", "used": 0.1, "date": ON}
    signed = {**made, "signed_by": "the client"}
    photo = {"file": "a.jpg", "shows": "after-preparation"}
    assert {*asked} <= {*ids(plan_with("dye-acrylic", *asked))}
    assert {*asked} & {*ids(plan_with("dye-acrylic", *asked, mock_up=[made], photo=[photo]))} == {"mock-up"}
    assert {*asked} & {*ids(plan_with("dye-acrylic", *asked, mock_up=[signed]))} == {"photograph-after-preparation"}


def test_joints_left_open_under_a_coat_are_filled_at_the_end_in_their_time():
    outline = {"joint": [{"kind": "control", "start": [0, 10], "end": [25, 10]}]}
    used = [{"material": "epoxy-solid", "layer": "build", "coats": 1, "area_ft2": 500, "used": 3, "date": TUESDAY}]
    poured = ON - datetime.timedelta(days=40)
    job = a_job({"outline": outline, "pour": {"date": poured}, "used": used})
    facts = facts_of(job, WEDNESDAY)
    finding = required("fill-control-joints")
    works = make_works(job.floors[0], shipped().finishes["epoxy-urethane-solid"], (finding,), facts["Shop"], shipped())
    plan = make_plan([works], facts, job, shipped(), None, WEDNESDAY)
    assert plan.steps[0].layer == "top"
    assert plan.steps[-1].task_id == "fill-control-joints"
    assert plan.steps[-1].start.date() >= poured + datetime.timedelta(days=60)
