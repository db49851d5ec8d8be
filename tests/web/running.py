"""The page as a person has it: a real server process, a real browser."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

DAY = "2026-09-21"
PHONE = {"width": 360, "height": 740}
LAPTOP = {"width": 1280, "height": 800}


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def serving(jobs: Path, port: int, *words: str) -> Iterator[tuple[str, "subprocess.Popen[str]"]]:
    """Run `finishadvisor serve` over a folder of jobs; give its address and process."""
    command = [sys.executable, "-m", "finishadvisor", "serve", "--jobs", str(jobs), "--port", str(port), "--on", DAY]
    settings = {**os.environ, "PYTHONUTF8": "1", "OPENBLAS_NUM_THREADS": "1"}
    process = subprocess.Popen([*command, *words], env=settings, stdout=subprocess.PIPE, encoding="utf-8")
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for(address, process)
        yield address, process
    finally:
        process.terminate()
        process.communicate(timeout=20)


@contextmanager
def served(jobs: Path, *words: str) -> Iterator[str]:
    """Run `finishadvisor serve` over a folder of jobs; give its address."""
    with serving(jobs, free_port(), *words) as (address, _):
        yield address


def wait_for(address: str, process: "subprocess.Popen[str]", seconds: float = 30) -> None:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        assert process.poll() is None, f"the server ended: {process.communicate()}"
        try:
            urllib.request.urlopen(address + "/look.css", timeout=2).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise AssertionError(f"no page at {address} within {seconds} s")


def browser_path() -> str | None:
    """Return the browser that the tests use, None where there is none."""
    named = os.environ.get("FINISHADVISOR_TEST_BROWSER")
    places = (
        [named] if named else ["/usr/bin/chromium", *filter(None, map(shutil.which, ("chromium", "google-chrome")))]
    )
    return next((place for place in places if place and Path(place).exists()), None)


@contextmanager
def browser() -> Iterator[object]:
    """Run the browser without a window."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        started = playwright.chromium.launch(
            executable_path=browser_path(),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield started
        started.close()
