"""Many floors in one job: `python tests/bench/scale_floors.py [COUNT ...]` (15 30 60 when left out).

Every floor is the workshop floor of the example, without its photos. Advice, plan and order are timed apart, the plan
also of rooms that differ in size, warmth and damp.
"""

import datetime
import tempfile
from collections.abc import Callable
from pathlib import Path

from scale_common import machine, show, sizes_given

DAY = datetime.date(2026, 9, 21)


def job_with_floors(count: int, folder: Path, *, alike: bool = True) -> Path:
    from finishadvisor.demo.example import copy_example

    copy_example(folder / "job")
    job = folder / "job" / "job.toml"
    head, first, *_ = job.read_text(encoding="utf-8").split("[[floor]]")
    first = first.split("[[floor.photo]]")[0]
    floors = [first.replace('"Glaze room"', f'"Room {number}"', 1) for number in range(count)]
    if not alike:
        floors = [unlike(text, number) for number, text in enumerate(floors)]
    job.write_text(head + "".join(f"[[floor]]{floor}\n" for floor in floors), encoding="utf-8")
    return folder / "job"


def unlike(text: str, number: int) -> str:
    """Return a floor with another size, and a room of another air."""
    for before, after in (
        ('y = "18 ft"', f'y = "{18 + number % 7} ft {number % 12} in"'),
        ("air = 68", f"air = {66 + 0.1 * number:.1f}"),
        ("rh_pct = 50", f"rh_pct = {44 + number % 13}"),
    ):
        assert before in text
        text = text.replace(before, after, 1)
    return text


class Working:
    """The whole job with or without its plan and order; an object of a class, so that another process can have it."""

    def __init__(self, plan: bool, order: bool, alike: bool) -> None:
        self.plan, self.order, self.alike = plan, order, alike

    def __call__(self, count: int, folder: Path) -> Callable[[], object]:
        from finishadvisor.whole_job.work_through import work_through

        job = job_with_floors(count, folder, alike=self.alike)
        work_through(job, DAY, floor_name="Room 0", with_plan=self.plan, with_order=self.order)  # imports, first use
        return lambda: work_through(job, DAY, with_plan=self.plan, with_order=self.order)


if __name__ == "__main__":
    print(machine())
    for title, plan, order, alike in (
        ("advice alone", False, False, True), ("advice and plan", True, False, True),
        ("advice and plan, rooms that differ", True, False, False), ("advice and order", False, True, True),
    ):  # fmt: skip
        with tempfile.TemporaryDirectory() as name:
            show(title, "floors", Working(plan, order, alike), sizes_given((15, 30, 60)), Path(name))
