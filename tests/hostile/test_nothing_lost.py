"""Killed writers, a full disk, a folder that may not be written to, two processes: the old or the new, and a line."""

import os
import random
import shutil
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path

import pytest

from finishadvisor.demo.example import copy_example
from finishadvisor.errors import JobError
from finishadvisor.job.folder import JOB_FILE, open_job
from finishadvisor.job.writing import FORGOTTEN_SECONDS, write_whole
from tests.hostile.command import run_line
from tests.hostile.killed_writers import TEXT, UNFINISHED, WRITERS, change_job, kill_one, record_use, write_result

ROOT = Path(__file__).parents[2]
DISK_KILOBYTES = 512


@pytest.fixture(autouse=True)
def _no_user_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    folder.mkdir()
    (folder / JOB_FILE).write_text(TEXT, encoding="utf-8")
    return folder


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of half a megabyte; it needs the right to mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    words = ["mount", "-t", "tmpfs", "-o", f"size={DISK_KILOBYTES}k", "tmpfs", str(place)]
    if shutil.which("mount") is None or subprocess.run(words, capture_output=True, check=False).returncode:
        pytest.skip("no small disk can be mounted here, so a full one was not tried")
    try:
        yield place
    finally:
        subprocess.run(["umount", "-l", str(place)], check=True)


def fill(disk: Path, leave_bytes: int) -> None:
    """Fill a disk up to about so many bytes."""
    free = shutil.disk_usage(disk).free
    (disk / "filler").write_bytes(b"f" * max(0, free - leave_bytes))


# --- killed ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", WRITERS)
def test_killed_writers_leave_the_old_or_the_new(name: str, tmp_path: Path) -> None:
    chance = random.Random(name)
    for _ in range(4):
        kill_one(name, tmp_path / "work", chance)


def test_only_what_is_old_is_taken_for_forgotten(tmp_path: Path) -> None:
    young, old, other = (tmp_path / f".{name}.unfinished" for name in ("map.png.a", "map.png.b", "plan.json.c"))
    for path, age_s in ((young, 60), (old, FORGOTTEN_SECONDS + 60), (other, FORGOTTEN_SECONDS + 60)):
        path.touch()
        then = path.stat().st_mtime - age_s
        os.utime(path, (then, then))
    write_whole(tmp_path / "map.png", b"new")
    assert young.exists()
    assert not old.exists()
    assert other.exists()


def test_the_example_is_copied_as_a_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise JobError("No space left on device")

    with monkeypatch.context() as patch, pytest.raises(JobError):
        patch.setattr("finishadvisor.demo.example.write_schema", full)
        copy_example(tmp_path / "demo")
    assert not (tmp_path / "demo").exists()
    copy_example(tmp_path / "demo")
    assert [path.name for path in tmp_path.iterdir() if "demo" in path.name] == ["demo"]


# --- a full disk -----------------------------------------------------------------------------------------------------
def test_a_full_disk_leaves_job_and_results_as_they_were(small_disk: Path) -> None:
    folder = small_disk / "job"
    folder.mkdir()
    (folder / JOB_FILE).write_text(TEXT, encoding="utf-8")
    change_job(folder, 1)
    write_result(folder, 1)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    fill(small_disk, 4096)
    for write in (change_job, record_use, write_result):
        with pytest.raises(JobError, match=r"cannot be written: No space left on device\. Nothing was changed"):
            write(folder, 2)
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before
    assert not list(folder.rglob(UNFINISHED))
    (small_disk / "filler").unlink()
    change_job(folder, 3)
    assert open_job(folder).job.client == "3"


def test_commands_say_in_one_line_that_the_disk_is_full(small_disk: Path, capfd: pytest.CaptureFixture[str]) -> None:
    fill(small_disk, 8192)
    code, said = run_line(capfd, "demo", small_disk / "demo")
    assert code == 1
    assert "No space left" in said
    assert not (small_disk / "demo").exists()


@pytest.mark.parametrize(
    "words",
    [["papers"], ["plan", "--ics", "{job}/plan.ics"], ["order", "--csv", "{job}/order.csv"]],
    ids=lambda words: words[0],
)
def test_what_no_longer_fits_on_the_disk_is_told_and_nothing_is_half_written(
    words: list[str], small_disk: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    folder = small_disk / "job"
    folder.mkdir()
    decided = '[floor.decision]\nfinish = "densified"\n[[floor.outline.rectangle]]\nx = 20\ny = 10\n'
    (folder / JOB_FILE).write_text(f'name = "n"\n[[floor]]\nname = "f"\n{decided}', encoding="utf-8")
    fill(small_disk, 0)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    more = [word.format(job=folder) for word in words[1:]]
    code, said = run_line(capfd, words[0], folder, *more, "--on", "2026-09-21")
    assert code == 1
    assert "No space left" in said
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


# --- a folder that may not be written to -----------------------------------------------------------------------------
def run_unprivileged(folder: Path, *words: object) -> "subprocess.CompletedProcess[str]":
    """Run the command as a process that is bound by the modes of files, as every user but root is."""
    command: list[object] = [sys.executable, "-m", "finishadvisor", *words]
    if os.name == "nt":
        pytest.skip("Windows has no folder modes")
    if os.geteuid() == 0:
        if shutil.which("setpriv") is None:
            pytest.skip("root writes everywhere, and there is no setpriv here to give that up")
        command = ["setpriv", "--bounding-set=-dac_override,-dac_read_search,-fowner", *command]
    done = subprocess.run(list(map(str, command)), capture_output=True, encoding="utf-8", check=False, cwd=ROOT)
    assert not (folder / ".job.lock").exists(), "the folder could be written to after all"
    return done


@pytest.fixture
def read_only_job(tmp_path: Path) -> Iterator[Path]:
    folder = tmp_path / "job"
    copy_example(folder)
    for path in [*folder.rglob("*"), folder]:
        path.chmod(0o555 if path.is_dir() else 0o444)
    yield folder
    for path in [folder, *folder.rglob("*")]:
        path.chmod(0o755)


def test_a_read_only_job_is_read_and_advised(read_only_job: Path) -> None:
    done = run_unprivileged(read_only_job, "advise", read_only_job, "--on", "2026-09-21")
    assert done.returncode == 0, done.stderr
    assert "Glaze room" in done.stdout


def test_a_measurement_that_cannot_be_kept_is_shown_all_the_same(read_only_job: Path) -> None:
    done = run_unprivileged(read_only_job, "evenness", read_only_job, "--floor", "Kiln yard walk")
    assert done.returncode == 0, done.stderr
    assert "kiln-yard" in done.stdout
    assert "not kept for next time" in done.stdout
    assert "ermission denied" in done.stdout


@pytest.mark.parametrize(
    "words",
    [
        ["used", "--floor", "Glaze room", "--material", "flake", "--layer", "flake", "--area", "10", "--amount", "1"],
        ["order", "--on", "2026-09-21", "--json", "{job}/order.json"],
    ],
    ids=["used", "order"],
)
def test_what_would_be_written_to_a_read_only_folder_is_told(words: list[str], read_only_job: Path) -> None:
    before = {path: path.read_bytes() for path in read_only_job.rglob("*") if path.is_file()}
    more = [word.format(job=read_only_job) for word in words[1:]]
    done = run_unprivileged(read_only_job, words[0], read_only_job, *more)
    assert done.returncode == 1, done.stderr
    lines = done.stderr.splitlines()
    assert len(lines) == 1, done.stderr
    assert "ermission denied" in lines[0]
    assert {path: path.read_bytes() for path in read_only_job.rglob("*") if path.is_file()} == before


# --- two processes ---------------------------------------------------------------------------------------------------
def test_two_processes_on_one_job_lose_nothing(job: Path) -> None:
    code = """
        import pathlib, sys, time
        from finishadvisor.errors import JobError
        from tests.hostile.killed_writers import DAY, Used, add_used
        begin, folder = int(sys.argv[1]), pathlib.Path(sys.argv[2])
        for number in range(begin, begin + 8):
            add_used(folder, "f", Used(material="flake", layer="flake", area_ft2=10, used=number + 1, date=DAY))
    """
    command = [sys.executable, "-c", textwrap.dedent(code)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    started = [
        subprocess.Popen([*command, str(begin), str(job)], env=environment, stderr=subprocess.PIPE, text=True)
        for begin in (0, 100)
    ]
    for process in started:
        _, said = process.communicate(timeout=60)
        assert process.returncode == 0, said
    uses = [used.used for used in open_job(job).job.floors[0].used]
    assert sorted(uses) == [*range(1, 9), *range(101, 109)]
    assert [use for use in uses if use < 100] == list(range(1, 9))
