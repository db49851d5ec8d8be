"""Measuring on the page: its progress, the map that it ends at, and what is told of each patch."""

import re
import time
from html import unescape

from finishadvisor.job.folder import open_job


def finished(page, job: str, seconds: float = 120) -> dict:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        state = page.get(f"/job/{job}/work.json").json()
        if state["state"] != "running":
            return state
        time.sleep(0.2)
    raise AssertionError("the work did not end")


def test_measuring_that_is_soon_done_leads_straight_to_the_map(page, monkeypatch):
    monkeypatch.setattr("finishadvisor.web.pages.photos.SOON_SECONDS", 120)
    assert page.post("/job/pottery/2/measure").headers["location"] == "/job/pottery/2/evenness"
    assert 'href="#patch-1-1"' in page.get("/job/pottery/2/evenness").text


def test_measuring_shows_progress_and_ends_at_the_map_of_these_marks(page, monkeypatch):
    monkeypatch.setattr("finishadvisor.web.pages.photos.SOON_SECONDS", 0)
    assert page.post("/job/pottery/2/measure").headers["location"] == "/job/pottery/work"
    assert "Measuring the photos of Kiln yard walk" in page.get("/job/pottery/work").text
    state = finished(page, "pottery")
    assert state["state"] == "done", state
    assert any("photo 1 of 1" in line for line in state["lines"])
    assert page.get("/job/pottery/work").headers["location"] == "/job/pottery/2/evenness"
    html = page.get("/job/pottery/2/evenness").text
    assert 'href="#patch-1-1"' in html
    assert 'id="patch-1-1"' in html
    for what in ("shade.png", "squared.jpg", "bare.png", "sealed-acrylic-solvent.png"):
        picture = page.get(f"/job/pottery/2/evenness/1-{what}")
        begins, kind = (b"\xff\xd8", "image/jpeg") if what == "squared.jpg" else (b"\x89PNG", "image/png")
        assert picture.content.startswith(begins), what
        assert picture.headers["content-type"] == kind
    assert page.get("/job/pottery/2/evenness/1-shade.jpg").status_code == 404
    assert 'href="/job/pottery/2/evenness/1-squared.jpg"' in page.get("/job/pottery/2/evenness?show=squared").text
    assert "Bare and sealed" in html
    check_scale(html)
    marks = '{"corners": [[180, 975], [1420, 981], [1130, 279], [470, 279]], "cards": [], "leave_out": [], "wet": []}'
    fields = {"marks": marks, "first_side": "12ft", "second_side": "14ft"}
    page.post("/job/pottery/2/photos/kiln-yard.jpg/mark", {"version": page.version("pottery"), **fields})
    assert page.get("/job/pottery/2/evenness/1-shade.png").status_code == 404, "a map of older marks is shown"
    assert "their marks have changed" in page.get("/job/pottery/2/evenness").text


def check_scale(html: str) -> None:
    """Check that the scale beside the map bears the map's own colors."""
    import numpy as np

    from finishadvisor.papers.shade_scale import END_OF_BAR, colors

    stops = re.findall(r'<stop offset="([\d.]+)" stop-color="(#[0-9a-f]{6})"', html)
    assert len(stops) == 9
    for share, color in stops:
        exact = colors(np.array([(2 * float(share) - 1) * END_OF_BAR]))[0]
        near = [abs(int(color[1 + 2 * k : 3 + 2 * k], 16) - int(exact[k])) for k in range(3)]
        assert max(near) <= 1, (share, color)


def test_work_can_be_stopped(page):
    page.post("/job/pottery/papers")
    page.post("/job/pottery/work/stop")
    assert page.get("/job/pottery/work.json").json()["state"] == "stopped"
    assert "Stopped" in page.get("/job/pottery/work").text


def test_every_patch_tells_its_size_its_likely_cause_and_what_to_do(page):
    from finishadvisor.web.results import whole_job
    from finishadvisor.web.site import JobAt

    page.post("/job/pottery/1/measure")
    assert finished(page, "pottery")["state"] == "done"
    folder = page.site.root / "pottery"
    whole = whole_job(page.site, JobAt("pottery", folder, open_job(folder).job, "", None, None))
    html = unescape(page.get("/job/pottery/1/evenness").text)
    told = 0
    for number, photo in enumerate(whole.floors[0].evenness.photos, start=1):
        for patch, causes in enumerate(photo.patch_causes, start=1):
            card = html.split(f'id="patch-{number}-{patch}"')[1].split("</article>")[0]
            assert "ft²" in card
            assert f'href="#photo-{number}"' in card
            for cause in causes[:1]:
                told += 1
                assert whole.catalog.causes[cause.cause].name in card
                assert cause.check in card
                assert cause.do in card
                assert f"Source: {whole.catalog.sources[whole.catalog.causes[cause.cause].source.id].title}" in card
                assert all(line in card for line in cause.because)
            if not causes:
                assert "cannot be told" in card
    assert told > 0


def test_work_that_cannot_be_done_says_why(page, jobs):
    (jobs / "pottery" / "photos" / "kiln-yard.jpg").write_bytes(b"no picture any more")
    page.post("/job/pottery/2/measure")
    state = finished(page, "pottery")
    page_after = page.get("/job/pottery/2/evenness" if state["state"] == "done" else "/job/pottery/work").text
    assert "cannot" in page_after or "could not" in page_after or "not a picture" in page_after
    assert "Traceback" not in page_after


def test_the_client_sees_the_shade_map_only_where_it_is_ticked(page):
    from pypdf import PdfReader

    sheet = page.site.root / "pottery" / "papers" / "kiln-yard-walk-client-sheet.pdf"
    for ticked in ({}, {"map": "on"}):
        page.post("/job/pottery/papers", ticked)
        assert finished(page, "pottery")["state"] == "done"
        words = "".join(each.extract_text() for each in PdfReader(sheet).pages)
        assert ("Outlined:" in words) == bool(ticked)
