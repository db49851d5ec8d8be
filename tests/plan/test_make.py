"""The whole plan of small floors, on the shipped catalog."""

import dataclasses
import datetime
import itertools
import json
import math
import random
import re
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.plan.today import today_on
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_floor, a_job, plan_for, two_weeks

SCHEMA = json.loads(Path("tests/contracts/plan.schema.json").read_text(encoding="utf-8"))


def coats(plan):
    return [step for step in plan.steps if step.coat is not None]


@pytest.mark.parametrize("finish", sorted(shipped().finishes))
def test_every_finish_of_the_catalog_can_be_planned_and_keeps_the_contract(finish):
    plan = plan_for(finish)
    jsonschema.validate(plan.as_json(), SCHEMA)
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


def test_a_young_slab_waits_for_its_age():
    job = a_job({"pour": {"date": ON - datetime.timedelta(days=10)}})
    plan = plan_for(job=job)
    first = coats(plan)[0]
    assert first.start.date() >= ON + datetime.timedelta(days=18)
    assert any(note.startswith("Not before 2026-10-09") for note in first.notes)
    assert any("not ready" in span.why for span in plan.blocked)
    assert (coats(plan_for())[0].start.date() - ON).days <= 2


def test_nothing_begins_before_the_slab_is_poured():
    job = a_job({"pour": {"date": ON + datetime.timedelta(days=10)}})
    plan = plan_for("cure-and-seal", job=job, pour_ahead=True)
    assert coats(plan)[0].start.date() == datetime.date(2026, 10, 1)


@pytest.mark.parametrize(("loads", "from_hour"), [((), 13), (("07:40", "08:30"), 14)])
def test_on_the_day_of_the_pour_the_slab_is_finished_before_it_is_sealed(loads, from_hour):
    day = ON + datetime.timedelta(days=1)
    rows = [{"name": time, "time": f"{day}T{time}:00"} for time in loads]
    job = a_job({"pour": {"date": day}, "load": rows}, workday={"end": "18:00"})
    for on in (ON, day):
        (seal,) = coats(plan_for("cure-and-seal", job=job, on=on, pour_ahead=True))
        assert seal.start.date() == day
        assert from_hour <= seal.start.hour < from_hour + 1
        assert any("placed and finished first" in note for note in seal.notes)


def test_unknown_slab_rh_under_a_tight_film_puts_in_the_test_with_its_holes_and_wait():
    job = a_job({"x": 100, "pour": {"date": datetime.date(2025, 6, 1)}})
    plan = plan_for(job=job, slab_rh_pct=None, thickness_in=4.0)
    test = plan.steps[0]
    assert "4 holes, 1.6 in deep" in " ".join(test.notes)
    assert plan.steps[1].start >= test.end + datetime.timedelta(hours=24)
    assert "the order holds its material" in " ".join(test.notes)


def test_a_wet_slab_is_tested_again_when_its_trend_reaches_the_limit():
    readings = [
        {"kind": "slab-rh", "value": value, "date": ON - datetime.timedelta(days=back), "place": "by the door"}
        for back, value in ((60, 94), (30, 90), (2, 86.5))
    ]
    plan = plan_for("epoxy-urethane-clear", job=a_job({"reading": readings}), slab_rh_pct=86.5)
    test = next(step for step in plan.steps if "humidity" in step.task)
    assert 30 <= (test.start.date() - ON).days <= 120
    assert "by its trend" in " ".join(test.notes)


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


def test_a_cold_room_does_not_fit_and_heat_is_the_nearest_change():
    cold = {"room": {"air": 48, "rh_pct": 60, "slab": 46}}
    plan = plan_for(job=a_job(cold))
    assert not plan.feasible
    assert any("10 °F warmer" in words for words in plan.changes)
    assert not any("every day of the week" in words for words in plan.changes)
    whys = " ".join(span.why for span in plan.blocked)
    assert "the slab is 46 °F; at least 55 °F is needed" in whys
    assert "it would fit with" in whys
    assert plan.back_in_service["Shop"].foot is None
    jsonschema.validate(plan.as_json(), SCHEMA)


def test_a_damp_room_fits_with_a_dehumidifier():
    damp = {"room": {"air": 72, "rh_pct": 90, "slab": 70}}
    plan = plan_for(job=a_job(damp))
    assert not plan.feasible
    assert "a dehumidifier" in plan.changes[0]


def test_a_hot_room_fits_when_it_is_cooled_and_not_when_it_is_heated():
    hot = {"room": {"air": 99, "rh_pct": 40, "slab": 99}}
    plan = plan_for(job=a_job(hot))
    assert not plan.feasible
    assert any("cooler, by air conditioning" in words for words in plan.changes)
    assert not any("warmer" in words for words in plan.changes)
    step_f = shipped().limits["heat-step-f"].value
    (cooler,) = (words for words in plan.changes if "cooler" in words)
    needed_f = float(re.search(r"slab (\d+) °F cooler", cooler)[1])
    assert plan_for(job=a_job({"room": {"air": 99 - needed_f, "rh_pct": 40, "slab": 99 - needed_f}})).feasible
    less_f = needed_f - step_f
    assert not plan_for(job=a_job({"room": {"air": 99 - less_f, "rh_pct": 40, "slab": 99 - less_f}})).feasible


def test_an_earlier_start_is_tried_where_only_the_early_hours_would_fit():
    june = datetime.date(2026, 6, 15)
    rows = [
        dataclasses.replace(row, air_f=70.0 if (number % 24) < 7 else 105.0)
        for number, row in enumerate(two_weeks(june).rows)
    ]
    hot = two_weeks(june).__class__(tuple(rows), ())
    plan = plan_for("repellent", job=a_job({"room": None}, workday={"start": "09:00"}), weather=hot, on=june,
                    place="outdoors", sun="none")  # fmt: skip
    assert not plan.feasible
    assert any("work from 05:00 on" in words for words in plan.changes)


def test_rain_puts_a_coat_outdoors_off():
    outdoors = {"place": "outdoors", "sun": "none"}
    dry = plan_for("acrylic-solvent", weather=two_weeks(), job=a_job({"room": None}), **outdoors)
    rows = two_weeks().rows
    wet_rows = tuple(
        row if not 50 < number < 100 else row.__class__(**{**vars(row), "rain_in": 0.1})
        for number, row in enumerate(rows)
    )
    wet = plan_for(
        "acrylic-solvent", weather=two_weeks().__class__(wet_rows, ()), job=a_job({"room": None}), **outdoors
    )
    assert dry.feasible
    assert wet.feasible
    assert coats(wet)[0].start >= coats(dry)[0].start + datetime.timedelta(days=1)
    assert any("rain" in span.why for span in wet.blocked if "seal, coat 1" in span.task)


def test_a_film_in_full_sun_waits_for_cloud_or_shade():
    outdoors = {"place": "outdoors", "sun": "full"}
    job = a_job({"room": None})
    assert plan_for("acrylic-solvent", weather=two_weeks(cloud_share=1.0), job=job, **outdoors).feasible
    sunny = plan_for("acrylic-solvent", weather=two_weeks(cloud_share=0.0), job=job, **outdoors)
    whys = [span.why for span in sunny.blocked if "seal, coat 1" in span.task]
    assert any("direct sun" in why for why in whys)
    # Nothing fits until the sun rises after the crew begins: in late October, on a slab that is still cooling.
    assert coats(sunny)[0].start >= datetime.datetime(2026, 10, 5, tzinfo=datetime.UTC)


def test_a_film_that_finds_no_shade_in_a_summer_is_told_to_get_some():
    job = a_job({"room": None})
    june = datetime.date(2026, 6, 15)
    sunny = plan_for(
        "acrylic-solvent", weather=two_weeks(june, cloud_share=0.0), job=job, on=june, place="outdoors", sun="full"
    )
    assert not sunny.feasible
    assert any("shade over the floor" in words for words in sunny.changes)


def test_where_no_single_change_helps_shade_and_first_light_are_tried_together():
    june = datetime.date(2026, 6, 15)
    steady = two_weeks(june, cloud_share=0.0)
    air_f = [60.0 if number % 24 < 10 else 93.0 for number in range(len(steady.rows))]
    rows = tuple(dataclasses.replace(row, air_f=at) for row, at in zip(steady.rows, air_f, strict=True))
    large = a_job({"room": None, "x": 60, "y": 40})
    plan = plan_for(
        "acrylic-solvent", weather=steady.__class__(rows, ()), job=large, on=june, place="outdoors", sun="full"
    )
    assert not plan.feasible
    assert plan.changes == ("Shop: shade over the floor (a canopy or tent) and work from 05:00 on together",)


def test_without_a_forecast_an_outdoor_floor_says_what_is_assumed():
    plan = plan_for("repellent", job=a_job({"room": None}), place="outdoors", sun="full")
    assert "a forecast is needed" in plan.assumptions[0]
    assert plan.assumptions[0] in plan.steps[0].notes


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


def test_a_slab_not_yet_poured_waits_for_its_age_after_the_pour():
    plan = plan_for(job=a_job({"pour": {"date": ON + datetime.timedelta(days=10)}}), pour_ahead=True)
    assert coats(plan)[0].start.date() >= ON + datetime.timedelta(days=38)


def test_an_age_that_was_answered_without_a_pour_date_grows_by_the_day():
    plan = plan_for(job=a_job({"pour": None}), age_days=10.0)
    assert any("Not before 2026-10-09" in note for note in coats(plan)[0].notes)


def test_a_slab_that_was_wetted_dries_by_the_day():
    plan = plan_for("repellent", job=a_job({"pour": None}), days_since_wetting=0.0, age_days=100.0)
    assert any("Not before 2026-09-23" in note for note in coats(plan)[0].notes)


def test_a_rule_that_days_never_heal_is_a_condition_and_no_gate():
    catalog = shipped()
    base = catalog.rules["film-on-a-young-slab"]
    too_old = base.model_copy(update={"id": "too-old", "when": {"age_days": {"at_least": 60}}, "because": "Too old"})
    own = catalog.model_copy(update={"rules": {**catalog.rules, "too-old": too_old}})
    plan = plan_for(catalog=own)
    assert (coats(plan)[0].start.date() - ON).days <= 2
    assert "Hold: Too old." in coats(plan)[0].notes


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10**9), st.sampled_from(["epoxy-urethane-solid", "polyaspartic-flake", "acrylic-water"]))
def test_no_step_of_a_whole_plan_breaks_a_window_a_limit_or_the_work_hours(seed, finish):
    chance = random.Random(seed)
    base = two_weeks()
    middle_f, swing_f = chance.uniform(58, 82), chance.uniform(2, 12)
    rows = tuple(
        dataclasses.replace(
            row,
            air_f=middle_f + swing_f * math.sin(number * math.pi / 12) + chance.gauss(0, 1),
            rh_pct=min(max(chance.gauss(55, 14), 5), 100),
        )
        for number, row in enumerate(base.rows)
    )
    plan = plan_for(finish, weather=dataclasses.replace(base, rows=rows), job=a_job({"room": None}), place="covered",
                    sun="none")  # fmt: skip
    materials = {layer.name: shipped().materials[layer.material] for layer in shipped().finishes[finish].layers}
    for step in plan.steps:
        assert step.earliest <= step.start < step.end
        assert step.latest is None or step.end <= step.latest
        assert datetime.time(7) <= step.start.time() < step.end.time() <= datetime.time(15, 30)
        limits = materials[step.layer].limits if step.layer else None
        if limits is not None:
            assert limits.air_low_f - 0.05 <= step.air.air_f <= limits.air_high_f + 0.05
            assert limits.slab_low_f - 0.05 <= step.air.slab_f <= limits.slab_high_f + 0.05
            assert limits.rh_low_pct - 0.05 <= step.air.rh_pct <= limits.rh_high_pct + 0.05
            assert step.air.slab_f - step.air.dew_point_f >= limits.dew_margin_f - 0.1


@pytest.mark.parametrize(("air_f", "rh_pct"), [(-39.0, 100.0), (-39.0, 1.0), (121.0, 100.0), (121.0, 1.0)])
def test_the_hardest_weather_is_an_answer_and_no_error(air_f, rh_pct):
    weather = two_weeks(air_f=air_f, rh_pct=rh_pct, cloud_share=0.0)
    plan = plan_for("acrylic-solvent", weather=weather, job=a_job({"room": None}), place="outdoors", sun="full")
    assert not plan.feasible
    jsonschema.validate(plan.as_json(), SCHEMA)


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
