"""A child that is made ready does the task that it is given, and ends with the page; whoever waits hears of news."""

import json
import os
import subprocess
import sys
import threading
import time

import pytest

from finishadvisor.web import work as web_work
from finishadvisor.web.work import Works


def ended(work, seconds=60):
    until = time.monotonic() + seconds
    while work.state == "running" and time.monotonic() < until:
        time.sleep(0.02)
    return work.state


def test_a_child_made_ready_takes_the_task(tmp_path):
    works = Works()
    works.make_ready()
    waiting = works.ready
    work = works.begin(tmp_path, "measure", {"folder": str(tmp_path), "floor": "A", "on": "2026-09-21"}, "", "")
    assert work.process is waiting
    assert ended(work) == "failed"
    assert any("job.toml" in line for line in work.lines), work.lines


def test_a_child_that_died_waiting_is_replaced(tmp_path):
    works = Works()
    works.make_ready()
    works.ready.kill()
    works.ready.wait()
    work = works.begin(tmp_path, "measure", {"folder": str(tmp_path), "floor": "A", "on": "2026-09-21"}, "", "")
    assert ended(work) == "failed"
    assert any("job.toml" in line for line in work.lines), work.lines


def test_a_waiting_child_ends_with_the_page():
    works = Works()
    works.make_ready()
    waiting = works.ready
    works.make_ready()
    assert works.ready is waiting, "one at a time"
    works.stop_all()
    assert waiting.poll() is not None


LATE = """
import io, json, sys
from finishadvisor.web import child
sys.stdin = io.StringIO(json.dumps({"task": "measure", "given": json.loads(sys.argv[1])}))
task, given = child.wait_for_task()
before = set(sys.modules)
child.TASKS[task](given)
print(json.dumps(sorted(set(sys.modules) - before)))
"""


def test_a_child_that_practiced_loads_nothing_when_it_measures(jobs):
    given = json.dumps({"folder": str(jobs / "pottery"), "floor": "Kiln yard walk", "on": "2026-09-21"})
    done = subprocess.run([sys.executable, "-c", LATE, given], capture_output=True, encoding="utf-8", check=True)
    said = [json.loads(line) for line in done.stdout.splitlines()]
    assert said[-2:] == [{"done": True}, []]
    assert sum("done" in line for line in said[:-1]) == 1, "practice is not told of"


def test_what_the_map_needs_is_loaded_once_all_photos_are_marked(page):
    """In a process of its own: here other tests have loaded everything."""
    script = """
import datetime, json, sys
from pathlib import Path
from types import SimpleNamespace
from finishadvisor.job.folder import open_job
from finishadvisor.web.ahead import load_for_map
from finishadvisor.web.results import measured_here
from finishadvisor.web.site import JobAt, Remembered
import finishadvisor.web.app
folder = Path(sys.argv[1])
job = open_job(folder).job
here = JobAt("pottery", folder, job, "", 2, job.floors[1])
site = SimpleNamespace(on=datetime.date(2026, 9, 21), results=Remembered())
load_for_map(site, here)
before = set(sys.modules)
assert measured_here(site, here)[1].photos[0].causes
print(json.dumps(sorted(set(sys.modules) - before)))
"""
    page.post("/job/pottery/2/measure")
    assert ended(page.site.works.of(page.site.root / "pottery")) == "done"
    command = [sys.executable, "-c", script, str(page.site.root / "pottery")]
    assert json.loads(subprocess.run(command, capture_output=True, check=True).stdout) == []


def test_whoever_waits_for_an_end_hears_of_it_at_once(tmp_path):
    works = Works()
    work = works.begin(tmp_path, "measure", {"folder": str(tmp_path), "floor": "A", "on": "2026-09-21"}, "", "")
    assert not works.ended(work, 0), "it cannot have ended yet"
    assert not works.ended(work, 60), "it failed, and was waited for"
    assert work.state == "failed"
    assert works.news_of(tmp_path, "", 60) is work
    assert works.news_of(tmp_path / "other", "", 60) is None


def test_work_that_is_stopped_is_news(tmp_path, monkeypatch):
    """Of work that neither says anything nor ends by itself, so that its stop is the only news there can be."""
    monkeypatch.setattr(web_work, "child_command", lambda *_: [sys.executable, "-c", "import time; time.sleep(300)"])
    works = Works()
    work = works.begin(tmp_path, "papers", {}, "", "")
    threading.Timer(0.2, works.stop, [tmp_path]).start()
    start = time.monotonic()
    assert works.news_of(tmp_path, work.seen, 60).state == "stopped"
    assert time.monotonic() - start < 30, "waited for the end of the time"
    work.process.wait()
    time.sleep(0.2)  # the thread that follows it sees the end
    assert work.lines == [], "whoever stopped it is not told that it ended by itself"


def test_progress_is_answered_as_soon_as_there_is_more_than_was_seen(page, jobs, monkeypatch):
    """The script waits for news instead of asking on and on."""
    from finishadvisor.web.pages import working

    monkeypatch.setattr(working, "WAITED_SECONDS", 0.3)
    address = "/job/shed/work.json"
    page.post("/job/shed/papers")
    work = page.site.works.of(jobs / "shed")
    assert ended(work) in {"done", "failed"}
    last = page.get(address).json()
    assert last["state"] == work.state
    start = time.monotonic()
    assert page.get(f"{address}?seen=something-older").json()["seen"] == last["seen"]
    assert time.monotonic() - start < 0.3, "news waited"
    start = time.monotonic()
    assert page.get(f"{address}?seen={last['seen']}").json()["seen"] == last["seen"]
    assert time.monotonic() - start >= 0.3, "asked without news, and not waited for"


@pytest.mark.parametrize("path", ["/job/pottery/1/photos", "/job/pottery/1/evenness"])
def test_a_page_that_offers_measuring_makes_a_child_ready(page, path):
    page.get("/job/pottery/1/floor")
    assert page.site.works.ready is None
    assert "Measure the photos" in page.get(path).text
    assert page.site.works.ready.poll() is None
    page.site.works.stop_all()
    assert page.get("/job/shed/1/photos").status_code == 200


def test_a_page_without_photos_to_measure_makes_none_ready(page):
    for step in ("photos", "evenness"):
        page.get(f"/job/shed/1/{step}")
    assert page.site.works.ready is None


def test_measuring_that_takes_too_long_is_ended_in_words(page, monkeypatch):
    from finishadvisor.web.pages import photos

    monkeypatch.setattr(photos, "MEASURE_SECONDS", 0.01)
    monkeypatch.setattr(photos, "MEASURE_SECONDS_A_PHOTO", 0)
    assert page.post("/job/pottery/1/measure").headers["location"] == "/job/pottery/work"
    work = page.site.works.of(page.site.root / "pottery")
    assert ended(work) == "failed"
    assert work.process.wait(20) != 0
    assert "This took more than" in page.get("/job/pottery/work").text


@pytest.mark.skipif(os.name == "nt", reason="Windows knows no limit of this kind; the time limit holds there")
def test_measuring_that_needs_more_memory_than_is_allowed_ends_in_words(jobs):
    given = json.dumps({"folder": str(jobs / "pottery"), "floor": "Kiln yard walk", "on": "2026-09-21"})
    start = (
        "import finishadvisor.web.maps, numpy, scipy.ndimage, skimage.measure\n"  # libraries come before the limit
        "from finishadvisor.web import child\n"
        "child.MOST_MEMORY_TO_MEASURE_BYTES = {}\n"
        "child.main()"
    )
    answers = {}
    for most in (100_000_000, 8_000_000_000):
        done = subprocess.run(
            [sys.executable, "-c", start.format(most), "measure", given],
            capture_output=True, encoding="utf-8", check=False, timeout=60,
        )  # fmt: skip
        answers[most] = done.stdout.splitlines()[-1]
    assert "more memory than is allowed" in answers[100_000_000], answers
    assert json.loads(answers[8_000_000_000]) == {"done": True}
