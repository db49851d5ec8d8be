"""Many rules of the user's own: `python tests/bench/scale_rules.py [COUNT ...]` (500 1000 2000 when left out)."""

import datetime
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from scale_common import machine, show, sizes_given

from tests.hostile.odd_jobs import rules_text

DAY = datetime.date(2026, 9, 21)


def job_with_rules(count: int, folder: Path) -> Path:
    from finishadvisor.demo.example import copy_example

    copy_example(folder / "job")
    (folder / "job" / "own.toml").write_text(rules_text(count), encoding="utf-8")
    job = folder / "job" / "job.toml"
    text = job.read_text(encoding="utf-8")
    job.write_text(text.replace("[workday]", '[own_files]\nrules = ["own.toml"]\n\n[workday]', 1), encoding="utf-8")
    shutil.rmtree(folder / "job" / "measured", ignore_errors=True)
    return folder / "job"


def opening(count: int, folder: Path) -> Callable[[], object]:
    from finishadvisor.whole_job.opened import open_for

    job = job_with_rules(count, folder)
    return lambda: open_for(job, DAY)


def advising(count: int, folder: Path) -> Callable[[], object]:
    from finishadvisor.whole_job.work_through import work_through

    job = job_with_rules(count, folder)
    return lambda: work_through(job, DAY, with_plan=False, with_order=False)


if __name__ == "__main__":
    print(machine())
    for title, prepare in (("opening a job", opening), ("advising its two floors", advising)):
        with tempfile.TemporaryDirectory() as name:
            show(title, "own rules", prepare, sizes_given((500, 1000, 2000)), Path(name))
