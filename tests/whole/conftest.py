"""The command line as a person drives it: a real process, its exit code, its lines."""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from finishadvisor.whole_job.changes import begin_job
from tests.web.running import browser

Run = Callable[..., subprocess.CompletedProcess[str]]


def run_command(*words: object, typed: str = "", cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run `finishadvisor` with these words."""
    settings = {**os.environ, "PYTHONUTF8": "1", "COLUMNS": "140"}
    settings.pop("FINISHADVISOR_TRACEBACK", None)
    command = [sys.executable, "-m", "finishadvisor", *map(str, words)]
    return subprocess.run(
        command, input=typed, capture_output=True, encoding="utf-8", cwd=cwd, env=settings, timeout=170, check=False
    )


def assert_refused(done: subprocess.CompletedProcess[str], exit_code: int, *words: str) -> None:
    """Check for one plain line on standard error that holds these words, and the exit code."""
    assert done.returncode == exit_code, done.stderr
    lines = done.stderr.strip().splitlines()
    assert len(lines) == 1, done.stderr
    assert "Traceback" not in done.stderr
    for word in words:
        assert word in lines[0], lines[0]


@pytest.fixture(scope="session")
def demo_run(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, subprocess.CompletedProcess[str]]:
    """The demo, run once: its folder and what it printed."""
    folder = tmp_path_factory.mktemp("demo") / "demo-job"
    done = run_command("demo", folder)
    assert done.returncode == 0, done.stderr
    return folder, done


@pytest.fixture
def demo_job(demo_run: tuple[Path, object], tmp_path: Path) -> Path:
    """A copy of the demo's job folder that a test may change."""
    import shutil

    copy = tmp_path / "job"
    shutil.copytree(demo_run[0], copy)
    return copy


@pytest.fixture(scope="module")
def chromium() -> Iterator[object]:
    """A browser, started once for the tests of one file."""
    with browser() as started:
        yield started


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """A folder of jobs with one begun job, "shed"."""
    begin_job(tmp_path / "shed", "Bike shed", {"place": "covered"})
    return tmp_path
