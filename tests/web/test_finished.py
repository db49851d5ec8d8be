"""What is finished is written down from the page of the days, and the plan goes on from there."""

import re
from html import unescape

import pytest

from finishadvisor.job.folder import open_job
from finishadvisor.plan.today import Due, Today
from finishadvisor.web.pages.days import FIRST_TASKS, today_rows
from finishadvisor.whole_job.work_through import work_through
from tests.papers.jobs import turn_metric


def first_tasks(page, jobs):
    whole = work_through(jobs / "pottery", page.site.on, with_order=False)
    return list(dict.fromkeys((step.floor, step.task_id) for step in whole.plan.steps))


def test_a_finished_task_leaves_the_plan(make_page, jobs):
    page = make_page()
    floor, task = first_tasks(page, jobs)[0]
    assert f'value="{floor}\n{task}"' in page.get("/job/pottery/days").text
    answer = page.post(
        "/job/pottery/days/done", {"task": f"{floor}\n{task}", "date": page.site.on.isoformat(), "time": "09:30"}
    )
    assert answer.status_code == 303
    (done,) = next(each for each in open_job(jobs / "pottery").job.floors if each.name == floor).done
    assert (done.task, done.date, f"{done.time:%H:%M}") == (task, page.site.on, "09:30")
    assert f'value="{floor}\n{task}"' not in page.get("/job/pottery/days").text


def test_a_wrong_hour_or_no_task_is_answered_with_what_was_entered(make_page, jobs):
    page = make_page()
    before = (jobs / "pottery" / "job.toml").read_bytes()
    floor, task = first_tasks(page, jobs)[1]
    wrong = page.post("/job/pottery/days/done", {"task": f"{floor}\n{task}", "date": "2026-09-21", "time": "noon"})
    assert wrong.status_code == 400
    assert "a time of day in 24 hours" in wrong.text
    assert f'value="{floor}\n{task}" selected' in wrong.text
    assert page.post("/job/pottery/days/done", {"task": "", "date": "2026-09-21"}).status_code == 400
    unknown = page.post("/job/pottery/days/done", {"task": f"{floor}\nswep", "date": "2026-09-21"})
    assert "There is no task" in unknown.text
    assert (jobs / "pottery" / "job.toml").read_bytes() == before


def test_today_tells_tasks_apart_from_what_to_mind(make_page, jobs):
    text = make_page().get("/job/pottery/days").text
    today = re.search(r"<h2>Today</h2>.*?</section>", text, re.DOTALL)[0]
    to_mind = re.compile(r'<details class="quiet">.*?</details>', re.DOTALL)
    tasks, mind = to_mind.sub("", today), to_mind.findall(today)
    listed = re.findall(r"<li>([^<]*)", tasks)
    assert len(listed) > 3
    assert all(re.match(r"\d{1,2}:\d\d [AP]M to \d{1,2}:\d\d [AP]M: .* \(crew of \d\)\.", line) for line in listed), (
        listed
    )
    assert "weather.csv does not give slab temperature" in "".join(mind)


def test_today_is_short_until_it_is_unfolded(make_page):
    """The first tasks of each floor stand there; what else is due today is folded, and nothing is left out."""
    text = make_page().get("/job/pottery/days").text
    today = re.search(r"<h2>Today</h2>.*?</section>", text, re.DOTALL)[0]
    glaze = today.split("<h3>")[1]
    folded = re.search(r'<details class="fold">(.*?)</details>', glaze, re.DOTALL)[1]
    assert len(re.findall("<li>", glaze.split("<details")[0])) == FIRST_TASKS
    rest = len(re.findall("<li>", folded))
    assert rest > 1
    assert f"{rest} more today, and what comes next" in folded
    assert "Next, " in folded


def test_what_must_be_begun_by_an_hour_is_never_folded():
    due = [Due(f"task {number}", "Begin by 3 PM." if number == 5 else None, ()) for number in range(7)]
    (row,) = today_rows({"Floor": Today(tuple(due), (), ())})
    assert [each.task for each in row["first"]] == ["task 0", "task 1", "task 5"]
    assert len(row["rest"]) == 4


def test_without_a_forecast_the_page_speaks_of_no_command(make_page, jobs):
    job = jobs / "pottery" / "job.toml"
    job.write_text(re.sub(r"(?m)^weather = .*$", "", job.read_text(encoding="utf-8")), encoding="utf-8")
    text = make_page().get("/job/pottery/days").text
    assert "so a forecast is needed; until then" in text
    assert "--weather" not in text


def test_what_is_done_leaves_the_order_and_can_still_be_written_down_as_used(make_page, jobs):
    page = make_page()
    floor, _ = first_tasks(page, jobs)[0]
    works = next(each.works for each in work_through(jobs / "pottery", page.site.on).floors if each.floor.name == floor)
    coat = next(task for task in works.tasks if task.layer)
    before = page.get("/job/pottery/order").text
    option = f'value="{floor}\n{coat.materials[0].material}\n{coat.layer}"'
    assert option in before
    assert "left out because it is done" not in before
    last = [task.id for task in works.tasks if task.layer][-1]
    fields = {"task": f"{floor}\n{last}", "date": page.site.on.isoformat(), "time": ""}
    assert page.post("/job/pottery/days/done", fields).status_code == 303
    after = page.get("/job/pottery/order").text
    assert f"{floor}: left out because it is done" in after
    assert option in after


def walk(page, jobs):
    """Return the floor with zones, a task over its area, and its zones."""
    whole = work_through(jobs / "pottery", page.site.on, with_order=False)
    outcome = next(each for each in whole.floors if len(each.works.zones) > 1)
    task = next(task for task in outcome.works.tasks if task.extent == "area" and task.certain)
    return outcome, task


def done_rows(jobs, floor):
    return next(each for each in open_job(jobs / "pottery").job.floors if each.name == floor).done


def test_zones_and_areas_are_written_as_the_command_writes_them(page, jobs):
    outcome, task = walk(page, jobs)
    floor = outcome.floor.name
    number = [each.name for each in open_job(jobs / "pottery").job.floors].index(floor) + 1
    form = {"task": f"{floor}\n{task.id}", "date": "2026-09-21", "how": "part"}
    assert f'name="zone:{number}:A"' in page.get("/job/pottery/days").text
    assert page.post("/job/pottery/days/done", {**form, f"zone:{number}:A": "on"}).status_code == 303
    assert page.post("/job/pottery/days/done", {**form, "area": "10"}).status_code == 303
    zone, area = done_rows(jobs, floor)
    assert (zone.task, zone.zones, zone.area_ft2) == (task.id, ("A",), None)
    assert (area.task, area.zones, area.area_ft2) == (task.id, (), 10)
    html = page.get("/job/pottery/days").text
    assert f'value="{floor}\n{task.id}"' in html, "a task done in part is still to be finished"
    assert page.post("/job/pottery/days/done", {**form, "how": "all"}).status_code == 303
    assert f'value="{floor}\n{task.id}"' not in page.get("/job/pottery/days").text


def test_an_area_is_typed_in_the_units_of_the_job(page, jobs):
    outcome, task = walk(page, jobs)
    turn_metric(jobs / "pottery")
    form = {"task": f"{outcome.floor.name}\n{task.id}", "date": "2026-09-21", "how": "part", "area": "1"}
    assert "Or the area done, in m²" in page.get("/job/pottery/days").text
    assert page.post("/job/pottery/days/done", form).status_code == 303
    (row,) = done_rows(jobs, outcome.floor.name)
    assert row.area_ft2 == pytest.approx(1 / 0.3048**2)


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        ({"how": "part"}, "Tick the zones that are done, or type the area"),
        ({"how": "part", "area": "9", "zone:N:A": "on"}, "one of the two"),
        ({"how": "all", "zone:N:A": "on"}, "is chosen"),
        ({"how": "part", "area": "some"}, "must be a number of ft² above zero"),
        ({"how": "part", "area": "-4"}, "above zero"),
        ({"how": "part", "area": "nan"}, "above zero"),
        ({"how": "part", "area": "90000"}, "90,000 ft² is more than"),
        ({"how": "part", "area": "9", "before": "on"}, "goes with all of a task"),
        ({"how": "part", "zone:N:Q": "on"}, 'There is no zone "Q" on this floor'),
        ({"how": "part", "zone:M:A": "on"}, "but the task is on"),
        ({"how": "part", "zone:77:A": "on"}, "but the task is on"),
    ],
)
def test_a_part_that_cannot_be_is_refused_beside_its_entries(page, jobs, entries, words):
    outcome, task = walk(page, jobs)
    number = [each.name for each in open_job(jobs / "pottery").job.floors].index(outcome.floor.name) + 1
    before = (jobs / "pottery" / "job.toml").read_bytes()
    sent = {key.replace("N", str(number)).replace("M", str(3 - number)): value for key, value in entries.items()}
    form = {"task": f"{outcome.floor.name}\n{task.id}", "date": "2026-09-21", **sent}
    answer = page.post("/job/pottery/days/done", form)
    html = unescape(answer.text)
    assert answer.status_code == 400
    assert words in html
    assert "Not saved." in html.split("How much of it is done")[1].split('id="done-part"')[0]
    assert html.count("Not saved.") == 1
    assert "done 1 (" not in html, "a person at the form is not told of rows of the job file"
    assert (jobs / "pottery" / "job.toml").read_bytes() == before


def test_work_without_parts_says_so(page, jobs):
    outcome, _ = walk(page, jobs)
    whole = next(task for task in outcome.works.tasks if task.extent in {"fixed", "count"} and task.certain)
    form = {"task": f"{outcome.floor.name}\n{whole.id}", "date": "2026-09-21", "how": "part", "area": "9"}
    assert "This work has no parts" in page.post("/job/pottery/days/done", form).text


def test_coats_of_what_was_used_are_kept(page, jobs):
    floor, _ = first_tasks(page, jobs)[0]
    works = next(each.works for each in work_through(jobs / "pottery", page.site.on).floors if each.floor.name == floor)
    coat = next(task for task in works.tasks if task.layer)
    line = f"{floor}\n{coat.materials[0].material}\n{coat.layer}"
    form = {"line": line, "used": "2", "area": "100", "date": "2026-09-21"}
    assert page.post("/job/pottery/order/used", {**form, "coats": "two"}).status_code == 400
    answer = page.post("/job/pottery/order/used", {**form, "coats": "2"})
    assert answer.headers["location"] == "/job/pottery/order?saved"
    used = next(each for each in open_job(jobs / "pottery").job.floors if each.name == floor).used
    assert [row.coats for row in used] == [2]
