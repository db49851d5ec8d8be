"""Finished tasks in the job file: written, replaced, refused."""

import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import JobError
from finishadvisor.job.catalog_check import check_against_catalog
from finishadvisor.job.document import Done
from finishadvisor.job.edits import add_done
from finishadvisor.job.folder import open_job

Write = Callable[[str], Path]
DAY = datetime.date(2026, 9, 1)


def test_finished_tasks_are_added_and_read_back_with_their_hour(write: Write) -> None:
    folder = write("# the crew's notes\n")
    rows = [Done(task="sweep", date=DAY), Done(task="build-coat-1", date=DAY, time=datetime.time(11, 30))]
    assert add_done(folder, "Shed", rows).job.floors[0].done == tuple(rows)
    assert open_job(folder).job.floors[0].done == tuple(rows)
    assert "\n\n\n" not in (folder / "job.toml").read_text(encoding="utf-8")
    assert "# the crew's notes" in (folder / "job.toml").read_text(encoding="utf-8")


def test_a_task_recorded_again_has_one_entry_with_the_new_day(write: Write) -> None:
    folder = write("")
    add_done(folder, "Shed", [Done(task="sweep", date=DAY, time=datetime.time(9)), Done(task="mask", date=DAY)])
    later = Done(task="sweep", date=DAY + datetime.timedelta(days=1))
    assert add_done(folder, "Shed", [later]).job.floors[0].done == (later, Done(task="mask", date=DAY))


def test_what_is_before_the_pour_or_no_hour_is_refused_and_nothing_is_written(write: Write) -> None:
    folder = write("")
    before = (folder / "job.toml").read_bytes()
    with pytest.raises(JobError, match=r"done 1, date: 2020-01-01 is before the pour"):
        add_done(folder, "Shed", [Done(task="sweep", date=datetime.date(2020, 1, 1))])
    assert (folder / "job.toml").read_bytes() == before


def test_a_task_that_there_is_not_is_named_with_the_nearest(write: Write) -> None:
    job = open_job(write('[[floor.done]]\ntask = "swep"\ndate = 2026-09-01\n')).job
    with pytest.raises(JobError, match=r'done 1, task: "swep" is not a task\. Did you mean "sweep"'):
        check_against_catalog(job, load_catalog())


@pytest.mark.parametrize(
    "task", ["grind-csp-2-3", "vacuum-2", "polish-metal-40", "build-coat-1", "screen-between-coats-before-top-coat-1"]
)
def test_every_form_of_id_that_works_can_have_is_known(write: Write, task: str) -> None:
    job = open_job(write(f'[[floor.done]]\ntask = "{task}"\ndate = 2026-09-01\n')).job
    check_against_catalog(job, load_catalog())
