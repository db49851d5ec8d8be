"""Plans in all kinds of air: what puts a coat off, and which change of the air or the hours would make a job fit."""

import dataclasses
import datetime
import math
import random
import re

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.plan.fixtures import shipped
from tests.plan.whole import PLAN_SCHEMA, a_job, coats, plan_for, two_weeks


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
    jsonschema.validate(plan.as_json(), PLAN_SCHEMA)


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
    jsonschema.validate(plan.as_json(), PLAN_SCHEMA)
