"""The calendar file, what may be done today, and the quick estimate."""

import datetime
import itertools

import icalendar
import pytest

from finishadvisor.job.document import Job, Workday
from finishadvisor.plan.calendar import make_calendar
from finishadvisor.plan.days import days_out
from finishadvisor.plan.service import months_later
from finishadvisor.plan.today import today_on
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_job, facts_of, plan_for, works_of

STAMP = datetime.datetime(2026, 9, 21, 12, tzinfo=datetime.UTC)


def a_file(plan=None, job: Job | None = None):
    return make_calendar(plan or plan_for(), job or a_job(), STAMP)


def events(content):
    return icalendar.Calendar.from_ical(content).walk("VEVENT")


def test_every_step_return_and_inspection_is_an_event_at_its_time():
    plan = plan_for()
    found = {(str(event["summary"]), event.decoded("dtstart")) for event in events(a_file(plan))}
    for step in plan.steps:
        assert (f"Shop: {step.task}", step.start) in found
    assert ("Shop: back for vehicles", plan.back_in_service["Shop"].vehicle) in found
    assert {day for words, day in found if "inspect" in words} == set(plan.inspect["Shop"])
    assert any("recoat window ends" in words for words, _ in found)


def test_the_file_has_what_the_standard_asks_of_it():
    content = a_file()
    assert content.startswith(b"BEGIN:VCALENDAR\r\n")
    assert content.endswith(b"END:VCALENDAR\r\n")
    assert all(len(line) <= 75 for line in content.split(b"\r\n"))
    assert b"BEGIN:VTIMEZONE" in content
    for event in events(content):
        assert event["uid"]
        assert event["dtstamp"].dt == STAMP
    calendar = icalendar.Calendar.from_ical(content)
    assert (calendar["version"], bool(calendar["prodid"])) == ("2.0", True)


def test_events_keep_their_id_when_the_plan_moves():
    def ids(on):
        return [str(event["uid"]) for event in events(a_file(plan_for(on=on)))]

    assert len(set(ids(ON))) == len(ids(ON))
    assert set(ids(ON)) == set(ids(ON + datetime.timedelta(days=7)))


def test_names_with_commas_semicolons_and_line_breaks_stay_text():
    job = a_job({"name": "Shop; big, wet"})
    found = events(a_file(plan_for(job=job), job))
    assert all(str(event["summary"]).startswith("Shop; big, wet: ") for event in found)


# --- today -----------------------------------------------------------------------------------------------------------


def test_today_says_what_is_due_and_what_comes_next():
    plan = plan_for()
    lines = today_on(plan, ON, Workday())["Shop"].lines
    due = next(step for step in plan.steps if step.start.date() == ON)
    assert any(line.startswith(f"{due.start:%H:%M} to {due.end:%H:%M}: {due.task}") for line in lines)
    assert any(line.startswith("Next, ") for line in lines)


def test_on_the_day_of_a_top_coat_its_window_and_air_are_told():
    plan = plan_for()
    top = [step for step in plan.steps if step.coat is not None][-1]
    said = " ".join(today_on(plan, top.start.date(), Workday())["Shop"].lines)
    assert f"Not after {top.latest:%a}" in said
    assert "read them at the floor" in said
    assert "Not yet for feet" in said


def test_a_day_without_work_says_why_and_until_when():
    job = a_job({"pour": {"date": ON - datetime.timedelta(days=10)}})
    plan = plan_for("acrylic-solvent", job=job)
    waiting = next(
        day
        for day in (ON + datetime.timedelta(days=n) for n in range(30))
        if day not in {step.start.date() for step in plan.steps}
    )
    assert "Nothing today" in " ".join(today_on(plan, waiting, Workday())["Shop"].lines)


def test_where_nothing_fits_today_says_what_would_help():
    plan = plan_for(job=a_job({"room": {"air": 48, "rh_pct": 60, "slab": 46}}))
    late = max(step.end for step in plan.steps).date() + datetime.timedelta(days=1)
    assert "Nothing fits" in " ".join(today_on(plan, late, Workday())["Shop"].lines)


def test_after_the_last_step_nothing_is_left():
    plan = plan_for()
    assert today_on(plan, ON + datetime.timedelta(days=200), Workday())["Shop"].lines == ["Nothing is left to do."]


# --- days out and months ---------------------------------------------------------------------------------------------


def estimate(finish, job=None):
    made = job or a_job()
    return days_out(works_of(made, finish, facts_of(made))[0], made, shipped())


@pytest.mark.parametrize("finish", sorted(shipped().finishes))
def test_the_estimate_is_near_the_plan_where_nothing_hinders(finish):
    job = a_job(workday={"days": ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]})
    plan = plan_for(finish, job=job)
    back = plan.back_in_service["Shop"].furniture
    out = (back - next(step.start for step in plan.steps if "test" not in step.task.lower())).total_seconds() / 86400
    assert estimate(finish, job) == pytest.approx(out, abs=2.5)


def test_a_cold_room_and_a_small_crew_take_longer():
    cold = a_job({"room": {"air": 58, "rh_pct": 45, "slab": 56}})
    assert estimate("epoxy-urethane-solid", cold) > estimate("epoxy-urethane-solid") + 1
    assert estimate("polished-dyed", a_job(crew=1)) > estimate("polished-dyed", a_job(crew=4))


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [("2026-01-31", 1, "2026-02-28"), ("2027-08-31", 6, "2028-02-29"), ("2026-12-15", 12, "2027-12-15")],
)
def test_months_end_on_their_last_day(day, months, later):
    assert months_later(datetime.date.fromisoformat(day), months).isoformat() == later


def test_events_do_not_end_before_they_begin():
    for event in events(a_file()):
        end = event.get("dtend")
        assert end is None or end.dt >= event["dtstart"].dt
    starts = [step.start for step in plan_for().steps]
    assert all(before <= after for before, after in itertools.pairwise(starts))


def test_the_crew_s_calendar_tells_what_was_added_and_no_money():
    plan = plan_for(job=a_job(workday={"days": ["mon"]}))
    assert any(note.startswith("It costs about") for step in plan.steps for note in step.notes)
    told = " ".join(str(event.get("description", "")) for event in events(a_file(plan)))
    assert "cannot be kept" in told
    assert "costs" not in told
    assert "USD" not in told
