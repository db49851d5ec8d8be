"""What is finished is written down from the page of the days, and the plan goes on from there."""

import re

from finishadvisor.job.folder import open_job
from finishadvisor.plan.today import Due, Today
from finishadvisor.web.pages.days import FIRST_TASKS, today_rows
from finishadvisor.whole_job.work_through import work_through


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
