"""What is finished is written down from the page of the days, and the plan goes on from there."""

from finishadvisor.job.folder import open_job
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
