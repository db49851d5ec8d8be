"""A job of many floors stays short, and every floor can still be got at; days are told in words everywhere."""

import re
from html import unescape

import pytest

from finishadvisor.job.folder import open_job

FLOORS = [f"Room {number}" for number in range(1, 8)]


@pytest.fixture
def many(jobs):
    """A job of seven rooms of one kind."""
    rows = [
        f"""
[[floor]]
name = "{name}"
[floor.pour]
date = 2026-08-10
[[floor.outline.rectangle]]
x = "12ft"
y = "10ft"
[floor.answers]
place = "indoors"
use = "utility"
"""
        for name in FLOORS
    ]
    (jobs / "hall").mkdir()
    (jobs / "hall" / "job.toml").write_text('name = "Hall"\n' + "".join(rows), encoding="utf-8")
    return "/job/hall"


def way(html):
    return re.search(r"<nav.*?</nav>", html, re.DOTALL)[0]


def without_details(html):
    while "<details" in html:
        html, before = re.sub(r"<details((?!<details).)*?</details>", "", html, flags=re.DOTALL), html
        assert html != before
    return html


@pytest.mark.parametrize("step", ["floor", "finishes", "photos", "evenness"])
def test_the_way_to_other_floors_is_folded_and_complete(page, many, step):
    nav = way(page.get(f"{many}/3/{step}").text)
    assert "Another floor" in nav
    assert not any(name in without_details(nav) for name in FLOORS)
    for number, name in enumerate(FLOORS, start=1):
        assert (f'href="{many}/{number}/{step}">{name}</a>' in nav) == (number != 3)
    assert "<details" not in way(page.get(f"/job/pottery/1/{step}").text), "two floors need no folding"


def test_a_job_of_many_floors_tells_what_each_waits_for_and_leads_there(page, many):
    html = page.get(many).text
    assert f"{len(FLOORS)} floors" in way(html)
    plain = without_details(html)
    for number, name in enumerate(FLOORS, start=1):
        row = plain.split(f"<h2>{name}</h2>")[1].split("</section>")[0]
        assert f'href="{many}/{number}/photos"><strong>photos of the slab</strong>' in row
        assert f"Where {name} stands" in html
    assert all(name not in page.get("/").text for name in FLOORS[1:])


def test_today_of_many_floors_is_the_tasks_alone(page, many):
    """What comes next stands once for each floor, folded; what holds of every floor is told once."""
    html = unescape(page.get(f"{many}/days").text)
    today = re.search(r"<h2>Today</h2>.*?</section>", html, re.DOTALL)[0]
    plain = without_details(today)
    assert re.findall("<h3>(.*?)</h3>", plain) == FLOORS, "on this day there is work in every room"
    assert "Next, " not in plain
    after = re.search(r"What comes next on each floor</summary>(.*?)</details>", today, re.DOTALL)[1]
    assert re.findall("<h3>(.*?)</h3>", after) == FLOORS
    assert after.count("Next, ") == len(FLOORS)
    mind = re.search(r"(\d+) things to mind today</summary>(.*?)</details>", today, re.DOTALL)
    lines = re.findall("<li>(.*?)</li>", mind[2])
    assert len(lines) == len(set(lines)) == int(mind[1])


def test_papers_of_many_floors_lie_under_their_floors(page, many):
    html = unescape(page.get(f"{many}/papers").text)
    client = html.split("<h2>For the client</h2>")[1].split("</section>")[0]
    assert re.findall(r"<summary>(.*?), \d+ files?</summary>", client) == FLOORS
    assert len(re.findall("client sheet", client)) == len(FLOORS)
    assert "Room 1: client sheet" not in client
    assert "Selling prices" in without_details(client)
    assert "Glaze room: client sheet" in page.get("/job/pottery/papers").text


def test_what_was_saved_on_a_floor_leads_on(page, jobs):
    fields = {"version": page.version("shed"), "first_side": "9ft", "second_side": "8ft"}
    saved = page.post("/job/shed/1/floor/about", fields).headers["location"]
    assert 'href="/job/shed/1/finishes">Compare the finishes</a>' in page.get(saved).text
    assert "Next:" not in page.get("/job/shed/1/floor").text


def test_days_are_told_in_words(page, jobs):
    """No page tells a day as the job file writes it, neither in text nor in what is unfolded."""
    fields = {"version": page.version("pottery"), "by": "the client", "date": "2026-09-20"}
    assert page.post("/job/pottery/1/finishes/densified", fields).status_code == 303
    assert open_job(jobs / "pottery").job.floors[0].decision is not None
    for path in ("/", "/new", "/job/pottery", *(f"/job/pottery/{step}" for step in ("order", "days", "papers"))):
        check_days(page, path)
    for step in ("floor", "finishes", "finishes/densified", "photos", "evenness"):
        check_days(page, f"/job/pottery/1/{step}")
    assert "decided by the client on Sun Sep 20, 2026" in page.get("/job/pottery/order").text


def check_days(page, path):
    text = re.sub(r"<[^>]*>", " ", page.get(path).text)
    assert "Mon Sep 21, 2026" in text, "the day of the page itself"
    assert not re.findall(r"\d{4}-\d\d-\d\d", text), path
