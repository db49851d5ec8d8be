"""A job with one of everything; and the demo, run twice at the same time on machines as different as they can look."""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.hostile.odd_jobs import OWN_RULES, full_text

ROOT = Path(__file__).parents[2]
LOG_VARIABLE = "WATCHED_PROCESS_LOG"
WATCH = f"""
import os, sys
_log = os.open(os.environ["{LOG_VARIABLE}"], os.O_WRONLY | os.O_APPEND | os.O_CREAT)
_writes = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_APPEND | os.O_TRUNC

def _watch(event, facts):
    if event == "open":
        path, mode, flags = facts
        said = f"write {{path}}" if isinstance(flags, int) and flags & _writes and not isinstance(path, int) else ""
    elif event in {{"os.rename", "os.link", "os.symlink"}}:
        said = f"write {{facts[1]}}"
    elif event in {{"os.mkdir", "os.remove"}}:
        said = f"write {{facts[0]}}" if facts[-1] == -1 else ""  # else within a folder that is being removed
    elif event in {{"socket.connect", "socket.bind", "socket.getaddrinfo", "socket.sendto", "socket.gethostbyname"}}:
        said = f"network {{event}} {{facts[1:]}}"
    else:
        return
    if said:
        os.write(_log, (said.replace("\\n", " ") + "\\n").encode("utf-8", "replace"))

sys.addaudithook(_watch)
"""
"""Python imports a module of this name by itself at its start (module `site`)."""


@dataclass(frozen=True)
class WatchedRun:
    """One run: what it printed, the folders it had, and each write and use of the network that Python saw."""

    base: Path
    job: Path
    exit_code: int
    printed: str
    errors: str
    events: tuple[str, ...]


@dataclass
class _Started:
    base: Path
    process: "subprocess.Popen[str]"


def start_watched(base: Path, *words: str, **settings: str) -> _Started:
    """Start `finishadvisor` in an empty home, with an empty folder for temporary files, every write noted."""
    for name in ("home", "temporary", "here", "hook"):
        (base / name).mkdir(parents=True)
    (base / "hook" / "sitecustomize.py").write_text(WATCH, encoding="utf-8")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("XDG_", "FINISHADVISOR", "MPL"))}
    home, temporary = str(base / "home"), str(base / "temporary")
    environment = {
        **kept, "HOME": home, "USERPROFILE": home, "LOCALAPPDATA": home, "APPDATA": home,
        "TMPDIR": temporary, "TMP": temporary, "TEMP": temporary, "PYTHONUTF8": "1", "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONPATH": os.pathsep.join([str(base / "hook"), str(ROOT)]), LOG_VARIABLE: str(base / "log"), **settings,
    }  # fmt: skip
    process = subprocess.Popen(
        [sys.executable, "-m", "finishadvisor", *words],
        cwd=base / "here", env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8",
    )  # fmt: skip
    return _Started(base, process)


def end_watched(started: _Started) -> WatchedRun:
    printed, errors = started.process.communicate(timeout=240)
    events = (started.base / "log").read_text(encoding="utf-8").splitlines()
    job = started.base / "here" / "demo-job"
    return WatchedRun(started.base, job, started.process.returncode, printed, errors, tuple(events))


@pytest.fixture(scope="session")
def demo_runs(tmp_path_factory: pytest.TempPathFactory) -> tuple[WatchedRun, WatchedRun]:
    """The demo on one core in Kiritimati and on two in Los Angeles, the order of sets and dictionaries shuffled."""
    threads = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
    one = {"PYTHONHASHSEED": "1", "TZ": "Pacific/Kiritimati", "LC_ALL": "C", **dict.fromkeys(threads, "1")}
    two = {"PYTHONHASHSEED": "2", "TZ": "America/Los_Angeles", "COLUMNS": "80", **dict.fromkeys(threads, "2")}
    base = tmp_path_factory.mktemp("demo runs")
    started = [start_watched(base / name, "demo", **settings) for name, settings in (("first", one), ("second", two))]
    first, second = (end_watched(each) for each in started)
    return first, second


@pytest.fixture
def full_job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A job with an entry of every kind and rules of its own."""
    from finishadvisor.demo.example import copy_example

    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))
    folder = tmp_path / "job"
    copy_example(folder)
    (folder / "own-rules.toml").write_text(OWN_RULES, encoding="utf-8")
    (folder / "job.toml").write_text(full_text(), encoding="utf-8")
    return folder
