"""Two writers, read-only files, a full disk, a power cut: the job is what it was, or what it was to become."""

import os
import stat
import subprocess
import sys
import textwrap
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
import tomlkit

from finishadvisor.errors import JobError
from finishadvisor.job import writing
from finishadvisor.job.folder import edit_job, open_job

TEXT = 'name = "n"\ncrew = 1\n\n[[floor]]\nname = "f"\n'


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))
    (tmp_path / "job.toml").write_text(TEXT, encoding="utf-8")
    return tmp_path


def set_crew(number: int):  # type: ignore[no-untyped-def]
    def change(document: tomlkit.TOMLDocument) -> None:
        document["crew"] = number

    return change


def leftovers(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir() if path.name.endswith(".unfinished")]


def run_python(code: str, folder: Path) -> "subprocess.Popen[str]":
    return subprocess.Popen(
        [sys.executable, "-c", textwrap.dedent(code), str(folder)],
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ.copy(),
    )


def test_a_second_writer_is_told_and_changes_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(writing, "WAIT_SECONDS", 0.2)
    holder = run_python(
        """
        import pathlib, sys, time
        from finishadvisor.job.writing import locked
        with locked(pathlib.Path(sys.argv[1])):
            print("held", flush=True)
            time.sleep(30)
        """,
        folder,
    )
    try:
        assert holder.stdout is not None
        assert holder.stdout.readline().strip() == "held"
        with pytest.raises(JobError, match=r"Another window or command is writing.+try again"):
            edit_job(folder, set_crew(5))
        assert (folder / "job.toml").read_text(encoding="utf-8") == TEXT
    finally:
        holder.kill()
        holder.communicate()
    # the lock of a killed process holds nobody up
    assert edit_job(folder, set_crew(5)).job.crew == 5


def test_writers_at_the_same_time_lose_no_change(folder: Path) -> None:
    def add_one(_: int) -> None:
        edit_job(folder, lambda document: document.update({"crew": int(document["crew"]) + 1}))  # type: ignore[call-overload]

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(add_one, range(12)))
    assert open_job(folder).job.crew == 13
    assert leftovers(folder) == []


def test_a_kill_between_writing_and_replacing_leaves_the_old_job(folder: Path) -> None:
    killed = run_python(
        """
        import os, pathlib, sys
        from finishadvisor.job.folder import edit_job

        replace = pathlib.Path.replace
        def dies(self, target):
            if pathlib.Path(target).name == "job.toml":
                os._exit(9)
            return replace(self, target)
        pathlib.Path.replace = dies
        edit_job(pathlib.Path(sys.argv[1]), lambda document: document.update({"crew": 7}))
        """,
        folder,
    )
    killed.communicate()
    assert killed.returncode == 9
    assert (folder / "job.toml").read_text(encoding="utf-8") == TEXT
    assert leftovers(folder)
    assert edit_job(folder, set_crew(8)).job.crew == 8
    assert leftovers(folder) == []


def test_a_full_disk_leaves_the_old_job(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writing.os, "fsync", full)
    with pytest.raises(JobError, match=r"cannot be written: No space left on device\. Nothing was changed\. Make room"):
        edit_job(folder, set_crew(9))
    assert (folder / "job.toml").read_text(encoding="utf-8") == TEXT
    assert leftovers(folder) == []


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"Make the folder .*nowhere first"):
        writing.write_whole(tmp_path / "nowhere" / "advice.json", b"{}")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_device_is_written_to_and_never_replaced(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reading = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    writing.write_whole(pipe, b"all of it")
    assert os.read(reading, 100) == b"all of it"
    os.close(reading)
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_a_file_held_open_elsewhere_is_named(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def held(self: Path, target: Path) -> None:
        raise PermissionError(13, "The process cannot access the file because it is being used by another process")

    monkeypatch.setattr(Path, "replace", held)
    with pytest.raises(JobError, match="Close it in other programs"):
        edit_job(folder, set_crew(9))
    assert (folder / "job.toml").read_text(encoding="utf-8") == TEXT
    assert leftovers(folder) == []


def test_a_read_only_job_is_opened_but_not_changed(folder: Path) -> None:
    path = folder / "job.toml"
    path.chmod(stat.S_IREAD)
    try:
        assert open_job(folder).job.crew == 1
        with pytest.raises(JobError, match="marked read-only"):
            edit_job(folder, set_crew(3))
        assert path.read_text(encoding="utf-8") == TEXT
        assert not (folder / "job.previous.toml").exists()
    finally:
        path.chmod(stat.S_IREAD | stat.S_IWRITE)


def test_a_lock_that_cannot_be_made_is_answered(folder: Path) -> None:
    (folder / ".job.lock").mkdir()
    with pytest.raises(JobError, match=r"cannot be written|Another window"):
        edit_job(folder, set_crew(3))
    assert (folder / "job.toml").read_text(encoding="utf-8") == TEXT


def test_a_change_that_fails_in_the_middle_changes_nothing(folder: Path) -> None:
    def half(document: tomlkit.TOMLDocument) -> None:
        document["crew"] = 4
        raise KeyError("gone")

    with pytest.raises(KeyError):
        edit_job(folder, half)
    assert (folder / "job.toml").read_text(encoding="utf-8") == TEXT
    assert edit_job(folder, set_crew(4)).job.crew == 4


@pytest.mark.skipif(os.name == "nt", reason="file modes are of POSIX")
def test_the_mode_of_the_file_is_kept(folder: Path) -> None:
    (folder / "job.toml").chmod(0o664)
    edit_job(folder, set_crew(2))
    assert stat.S_IMODE((folder / "job.toml").stat().st_mode) == 0o664
    assert stat.S_IMODE((folder / "job.previous.toml").stat().st_mode) & 0o044


@pytest.mark.skipif(os.name == "nt", reason="links need a right on Windows")
def test_a_job_file_that_is_a_link_stays_one(folder: Path, tmp_path: Path) -> None:
    real = tmp_path / "elsewhere" / "real.toml"
    real.parent.mkdir()
    (folder / "job.toml").replace(real)
    (folder / "job.toml").symlink_to(real)
    edit_job(folder, set_crew(6))
    assert (folder / "job.toml").is_symlink()
    assert "crew = 6" in real.read_text(encoding="utf-8")
