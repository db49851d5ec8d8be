"""On a stranger's machine: nothing is written outside the job folder and the user's own; the network is not used."""

import shutil
from pathlib import Path

import pytest

from tests.hostile.command import run_line
from tests.hostile.conftest import WatchedRun, end_watched, start_watched

ON = ("--on", "2026-09-21")


def left_in(folder: Path) -> set[str]:
    """Return the files below a folder, by their first three parts."""
    return {"/".join(path.relative_to(folder).parts[:3]) for path in folder.rglob("*") if path.is_file()}


def written_outside(run: WatchedRun) -> list[str]:
    """Return each write that is neither in the job folder, nor in folders of our name in the home, nor temporary."""
    names = ("demo-job", ".demo-job.unfinished")
    inside = (*names, *(str(run.base / "here" / name) for name in names), str(run.base / "temporary"))
    writes = [event.removeprefix("write ") for event in run.events if event.startswith("write ")]
    home = str(run.base / "home")
    own = [path for path in writes if path.startswith(home) and "finishadvisor" in path.removeprefix(home)]
    passed = {*own, "/dev/null", "nul", "NUL", str(run.base / "home" / ".cache")}
    return sorted({path for path in writes if path not in passed and not path.startswith(inside)})


@pytest.mark.parametrize("which", [0, 1])
def test_the_demo_writes_into_its_folder_and_the_users_own_only(
    which: int, demo_runs: tuple[WatchedRun, WatchedRun]
) -> None:
    run = demo_runs[which]
    assert run.exit_code == 0, run.errors
    assert any(event.startswith("write ") and "advice.json" in event for event in run.events), "the watch sees nothing"
    assert written_outside(run) == []
    assert left_in(run.base / "temporary") == set()
    assert {path.name for path in (run.base / "here").iterdir()} == {"demo-job"}
    assert all("finishadvisor" in name for name in left_in(run.base / "home"))


def test_the_demo_uses_no_network(demo_runs: tuple[WatchedRun, WatchedRun]) -> None:
    for run in demo_runs:
        assert [event for event in run.events if event.startswith("network")] == []


def test_the_watch_can_fail(tmp_path: Path) -> None:
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / "job.toml").write_text('name = "n"\n[[floor]]\nname = "f"\n', encoding="utf-8")
    out = tmp_path / "elsewhere.json"
    started = start_watched(tmp_path / "run", "advise", str(tmp_path / "job"), *ON, "--json", str(out))
    run = end_watched(started)
    assert run.exit_code == 0, run.errors
    assert any("elsewhere.json" in path for path in written_outside(run))


@pytest.mark.parametrize(
    "words",
    [
        ["check"],
        ["advise", *ON],
        ["why", "--floor", "Glaze room", "--finish", "bare"],
        ["order", *ON],
        ["plan", *ON],
        ["today", *ON],
        ["used", "--floor", "Glaze room", "--material", "flake", "--layer", "flake", "--area", "10", "--amount", "1"],
    ],
    ids=lambda words: words[0],
)
def test_commands_work_where_no_socket_can_be_had(
    words: list[str],
    socket_disabled: None,
    demo_runs: tuple[WatchedRun, WatchedRun],
    tmp_path: Path,
    capfd: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))
    shutil.copytree(demo_runs[0].job, tmp_path / "job")
    code, said = run_line(capfd, words[0], tmp_path / "job", *words[1:])
    assert code == 0, said
    assert not (tmp_path / "user folder").exists()
    assert {path.name for path in tmp_path.iterdir()} == {"job"}


def test_a_socket_would_be_refused_here(socket_disabled: None) -> None:
    import socket

    from pytest_socket import SocketBlockedError

    with pytest.warns(UserWarning, match="socket"), pytest.raises(SocketBlockedError):
        socket.create_connection(("127.0.0.1", 9))
