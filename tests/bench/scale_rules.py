"""Many rules of the user's own: `python tests/bench/scale_rules.py [COUNT ...]` (500 1000 2000 when left out)."""

import datetime
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from scale_common import machine, show, sizes_given

DAY = datetime.date(2026, 9, 21)
EFFECTS = ("caution", "favor", "against", "hold")


def rules_text(count: int) -> str:
    return "\n".join(
        f"""[[rule]]
id = "own-{number}"
about = {{ all = "finishes" }}
when = {{ slab_rh_pct = {{ at_least = {50 + number % 40} }}, place = "indoors" }}
effect = "{EFFECTS[number % len(EFFECTS)]}"
because = "Sentence {number}"
source = {{ id = "common-practice", from_memory = true }}
"""
        for number in range(count)
    )


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
