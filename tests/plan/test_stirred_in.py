"""What is stirred into the mix of a coat belongs to that coat's hours, and to no other day."""

import datetime

import pytest

from finishadvisor.job.document import Workday
from finishadvisor.plan.make import make_plan
from finishadvisor.plan.today import today_on
from finishadvisor.works.added import with_added
from finishadvisor.works.make import make_works
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_job, facts_of, two_weeks
from tests.works.shipped import required

BEAD = "add-anti-slip"


def planned(finish, job=None, weather=None, asked=(BEAD,), **known):
    made = job or a_job()
    facts = facts_of(made, ON, **known)
    found = [required(item) for item in asked]
    rows = shipped()
    works = [make_works(floor, rows.finishes[finish], found, facts[floor.name], rows) for floor in made.floors]
    return works, make_plan(works, facts, made, rows, weather, ON)


def step_of(plan, task):
    return next(step for step in plan.steps if step.task_id == task)


@pytest.mark.parametrize(
    ("finish", "last"),
    [
        ("acrylic-water", "seal-coat-2"),
        ("acrylic-solvent", "seal-coat-2"),
        ("urethane-water", "seal-coat-2"),
        ("epoxy-urethane-solid", "top-coat-1"),
    ],
)
def test_bead_is_stirred_in_within_the_hours_of_the_last_coat(finish, last):
    _, plan = planned(finish)
    bead, coat = step_of(plan, BEAD), step_of(plan, last)
    assert (bead.start, bead.end) == (coat.start, coat.end)
    ids = [step.task_id for step in plan.steps]
    assert ids[ids.index(last) - 1] == BEAD
    assert "Stirred into each mix" in " ".join(bead.notes)


def test_its_hours_are_in_the_coat_and_no_hand_is_counted_twice():
    job = a_job(crew=2)
    works, plan = planned("urethane-water", job)
    hours = {task.id: task.crew_hours.expected for task in works[0].tasks}
    bead, coat = step_of(plan, BEAD), step_of(plan, "seal-coat-2")
    took = (coat.end - coat.start) / datetime.timedelta(hours=1) * coat.crew
    assert took >= hours[BEAD] + hours["seal-coat-2"]
    assert (bead.crew, bead.hours, bead.latest) == (0, round(hours[BEAD], 2), None)
    assert coat.crew == 2
    assert (bead.crew_words, coat.crew_words) == ("the crew of its coat", "crew of 2")
    told = today_on(plan, coat.start.date(), Workday())["Shop"].lines
    assert any(line.endswith("Stir anti-slip bead into the last coat (the crew of its coat).") for line in told)


def test_a_screening_goes_before_bead_and_coat():
    job = a_job(workday=Workday(days=("mon",)).model_dump(include={"days"}))
    works, plan = planned("epoxy-urethane-solid", job)
    tasks = [task.id for task in with_added(works[0], plan.added["Shop"]).tasks]
    at = tasks.index("screen-between-coats-before-top-coat-1")
    assert tasks[at + 1 : at + 3] == [BEAD, "top-coat-1"]
    order = [step.task_id for step in plan.steps]
    assert order.index(tasks[at]) < order.index(BEAD) < order.index("top-coat-1")


def test_a_coat_that_is_down_has_its_bead_in_it():
    done = [{"task": "top-coat-1", "date": ON - datetime.timedelta(days=1)}]
    _, plan = planned("epoxy-urethane-solid", a_job({"done": done}))
    assert BEAD in plan.done["Shop"]
    assert all(step.task_id != BEAD for step in plan.steps)


@pytest.mark.parametrize(("place", "said"), [("indoors", "cover the glass"), ("outdoors", "put up shade")])
def test_sun_strips_are_kept_off_by_what_the_place_has(place, said):
    _, plan = planned("acrylic-solvent", weather=two_weeks(), place=place, sun="part")
    notes = " ".join(note for step in plan.steps for note in step.notes)
    assert f"or {said}." in notes
    assert ("glass" in notes) == (place == "indoors")
