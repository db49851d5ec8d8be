"""A child that is made ready does the task that it is given, and ends with the page."""

import time

from finishadvisor.web.work import Works


def ended(work, seconds=60):
    until = time.monotonic() + seconds
    while work.state == "running" and time.monotonic() < until:
        time.sleep(0.02)
    return work.state


def test_a_child_made_ready_takes_the_task(tmp_path):
    works = Works()
    works.make_ready()
    waiting = works._ready
    work = works.begin(tmp_path, "measure", {"folder": str(tmp_path), "floor": "A", "on": "2026-09-21"}, "", "")
    assert work.process is waiting
    assert ended(work) == "failed"
    assert any("job.toml" in line for line in work.lines), work.lines


def test_a_child_that_died_waiting_is_replaced(tmp_path):
    works = Works()
    works.make_ready()
    works._ready.kill()
    works._ready.wait()
    work = works.begin(tmp_path, "measure", {"folder": str(tmp_path), "floor": "A", "on": "2026-09-21"}, "", "")
    assert ended(work) == "failed"
    assert any("job.toml" in line for line in work.lines), work.lines


def test_a_waiting_child_ends_with_the_page():
    works = Works()
    works.make_ready()
    waiting = works._ready
    works.make_ready()
    assert works._ready is waiting, "one at a time"
    works.stop_all()
    assert waiting.poll() is not None


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
