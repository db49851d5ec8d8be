"""What each reader of what a stranger hands in has in common.

A reader ends quietly where the bytes are taken or answered in one clear line, and raises only where there is a fault.
"""

import datetime
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from finishadvisor.errors import FinishAdvisorError
from tests.hostile.odd_jobs import OWN_RULES

SAVED = Path(__file__).with_name("saved")
ON = datetime.date(2026, 9, 21)

Take = Callable[[bytes], None]


@dataclass(frozen=True)
class Reader:
    """One reader: made ready in an empty folder, and what sound input looks like."""

    ready: Callable[[Path], Take]
    sound: Callable[[], list[bytes]] = field(repr=False)
    text: bool = True
    """False: what it reads is binary; its corpus is made anew each time and not kept."""


def one_clear_line(error: FinishAdvisorError) -> None:
    """Check each line of a refusal: printable, not endless, and a sentence."""
    for line in getattr(error, "mistakes", (str(error),)):
        assert line.isprintable(), repr(line)
        assert 10 < len(line) < 1000, line
        assert "object at 0x" not in line, line
        assert "Traceback" not in line, line


def answered(work: Callable[[], object]) -> None:
    try:
        work()
    except FinishAdvisorError as error:
        one_clear_line(error)


def example_job(folder: Path) -> Path:
    from finishadvisor.demo.example import copy_example

    job = folder / "jobs" / "pottery"
    job.parent.mkdir()
    copy_example(job)
    (job / "own-rules.toml").write_text(OWN_RULES, encoding="utf-8")
    return job
