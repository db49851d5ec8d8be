"""When the slab lets a plan begin: its pour, its age and its moisture."""

import datetime

import pytest

from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_job, coats, plan_for


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
