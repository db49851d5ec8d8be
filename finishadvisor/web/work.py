"""Long work in a process of its own: it shows progress, can be stopped, and outlives a reload of the page."""

import json
import os
import subprocess
import sys
import threading
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, Literal

from finishadvisor.errors import FinishAdvisorError

DECODE_SECONDS: Final = 40
PROPOSE_SECONDS: Final = 15
LINES_KEPT: Final = 40

State = Literal["running", "done", "failed", "stopped"]


def child_command(task: str, given: dict[str, Any]) -> list[str]:
    """Return the command of a child process."""
    return [sys.executable, "-m", "finishadvisor.web.child", task, json.dumps(given)]


def child_settings() -> dict[str, str]:
    """Return the environment of a child: one thread for arithmetic, so that the page stays quick on a small machine."""
    return {**os.environ, "PYTHONUTF8": "1", "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


def started(command: list[str], given_by: int) -> "subprocess.Popen[str]":
    """Return a child that was just started; its standard input is a pipe or nothing."""
    return subprocess.Popen(
        command,
        stdin=given_by, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, encoding="utf-8", env=child_settings(),
    )  # fmt: skip


def run_child(task: str, given: dict[str, Any], seconds: float = DECODE_SECONDS) -> dict[str, Any]:
    """Run short work in a child with a time limit, and return what it answers.

    Raises:
        FinishAdvisorError: it refused, took too long, or needed too much memory.
    """
    try:
        done = subprocess.run(
            child_command(task, given),
            capture_output=True, encoding="utf-8", env=child_settings(), timeout=seconds, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        raise FinishAdvisorError(
            f"The picture took more than {seconds:.0f} s to open, so it was left. Use the camera's own JPEG or HEIC."
        ) from None
    answer = _last_answer(done.stdout)
    if answer is None or "error" in answer:
        words = (
            answer["error"] if answer else "The picture could not be opened: it is damaged or needs too much memory."
        )
        raise FinishAdvisorError(words)
    return answer


def _last_answer(text: str) -> dict[str, Any] | None:
    lines = text.strip().splitlines()
    try:
        answer = json.loads(lines[-1]) if lines else None
    except ValueError:
        return None
    return answer if isinstance(answer, dict) else None


@dataclass
class Work:
    """One running or finished piece of work."""

    title: str
    then: str
    """Address to go on to when it is done."""
    back: str
    """Address of the page that it was started on."""
    process: "subprocess.Popen[str]"
    lines: list[str] = field(default_factory=list)
    state: State = "running"

    def as_json(self) -> dict[str, Any]:
        """Return what the page's script shows."""
        return {
            "title": self.title, "state": self.state, "lines": self.lines[-LINES_KEPT:], "then": self.then,
            "seen": self.seen,
        }  # fmt: skip

    @property
    def seen(self) -> str:
        """What tells this state of the work from an earlier one."""
        return f"{id(self)}-{self.state}-{len(self.lines)}"


class Works:
    """The work of every job, at most one at a time each."""

    def __init__(self) -> None:
        self._changing = threading.Condition()
        """Held while anything of the works changes; told whenever one has news."""
        self._by_folder: dict[Path, Work] = {}
        self.ready: subprocess.Popen[str] | None = None
        """The child that waits for a task."""

    def make_ready(self) -> None:
        """Start a child that practices measuring: soon there will be photos to measure."""
        with self._changing:
            if self.ready is not None and self.ready.poll() is not None:
                self.ready.communicate()  # it ended while it waited
                self.ready = None
            if self.ready is None:
                self.ready = started([sys.executable, "-m", "finishadvisor.web.child"], subprocess.PIPE)

    def _ready_with(self, task: str, given: dict[str, Any]) -> "subprocess.Popen[str] | None":
        """Return the child that waits, with its task; None where there is none."""
        process, self.ready = self.ready, None
        if process is None:
            return None
        assert process.stdin is not None
        assert process.stdout is not None
        try:
            process.stdin.write(json.dumps({"task": task, "given": given}) + "\n")
            process.stdin.close()
        except OSError:  # it ended while it waited
            process.stdout.close()
            process.wait()
            return None
        return process

    def of(self, folder: Path) -> Work | None:
        """Return the latest work of a job."""
        with self._changing:
            return self._by_folder.get(folder)

    def news_of(self, folder: Path, seen: str, seconds: float) -> Work | None:
        """Return the latest work of a job as soon as there is more of it than was seen, or when the time is over."""
        with self._changing:
            self._changing.wait_for(lambda: self._is_news(folder, seen), seconds)
            return self._by_folder.get(folder)

    def _is_news(self, folder: Path, seen: str) -> bool:
        work = self._by_folder.get(folder)
        return work is None or work.seen != seen

    def ended(self, work: Work, seconds: float) -> bool:
        """Return whether work is done as it should be, waiting so long for its end."""
        with self._changing:
            self._changing.wait_for(lambda: work.state != "running", seconds)
            return work.state == "done"

    def begin(
        self, folder: Path, task: str, given: dict[str, Any], title: str, then: str,
        *, back: str = "/", seconds: float | None = None,
    ) -> Work:  # fmt: skip
        """Start work on a job; work that runs already goes on and is returned instead.

        Args:
            folder: the job folder.
            task: what the child does.
            given: what it is told.
            title: what the work is called.
            then: address to go on to when it is done.
            back: address of the page that it is started on.
            seconds: how long it may take; without a limit when None.
        """
        with self._changing:
            running = self._by_folder.get(folder)
            if running and running.state == "running":
                return running
            process = self._ready_with(task, given) or started(child_command(task, given), subprocess.DEVNULL)
            work = Work(title, then, back, process)
            self._by_folder[folder] = work
        threading.Thread(target=self._follow, args=(work, seconds), daemon=True).start()
        return work

    def stop(self, folder: Path) -> None:
        """Stop the work of a job; files are written whole, so that what was finished stays."""
        with self._changing:
            work = self._by_folder.get(folder)
            if work and work.state == "running":
                work.state = "stopped"
                work.process.kill()
                self._changing.notify_all()

    def stop_all(self) -> None:
        """Stop everything: the program ends."""
        for folder in list(self._by_folder):
            self.stop(folder)
        with self._changing:
            if self.ready is not None:
                self.ready.kill()
                self.ready.communicate()
                self.ready = None

    def _follow(self, work: Work, seconds: float | None) -> None:
        """Take down what the child says until it ends, or its time is over."""
        assert work.process.stdout is not None
        failed = True
        limit = threading.Timer(seconds or 0.0, self._end_overdue, (work, seconds))
        limit.daemon = True
        if seconds is not None:
            limit.start()
        with work.process:
            for line in work.process.stdout:
                answer = _last_answer(line)
                if answer is None:
                    continue
                failed = "done" not in answer
                words = answer.get("error") or answer.get("line")
                if words:
                    self._tell(work, str(words))
                if not failed:  # everything is written; nobody need wait for the child to put its libraries away
                    self._end(work, "done")
        limit.cancel()
        if failed and not work.lines and work.state == "running":
            self._tell(work, "The work ended without an answer, perhaps for want of memory. Start it again.")
        self._end(work, "failed")

    def _end_overdue(self, work: Work, seconds: float) -> None:
        with self._changing:
            if work.state == "running":
                work.lines.append(
                    f"This took more than {seconds / 60:.0f} min, so it was ended; nothing of yours was changed. "
                    "Measure fewer photos at a time, or smaller ones: 12 megapixels are enough."
                )
                work.state = "failed"
                work.process.kill()
                self._changing.notify_all()

    def _tell(self, work: Work, words: str) -> None:
        with self._changing:
            work.lines.append(words)
            self._changing.notify_all()

    def _end(self, work: Work, state: State) -> None:
        with self._changing:
            if work.state == "running":
                work.state = state
                self._changing.notify_all()
