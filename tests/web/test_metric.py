"""A metric job is metric on every page: what is shown, what is typed, and what is written for it."""

import datetime
import html
import re

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.demo.example import EXAMPLE_DAY
from finishadvisor.job.document import Used
from finishadvisor.job.edits import add_used
from finishadvisor.job.folder import open_job
from finishadvisor.whole_job.work_through import work_through
from tests.papers.jobs import turn_metric
from tests.papers.test_quantities import US_TIME, US_UNIT

JOB = "/job/pottery"
STEPS = ("floor", "outline", "finishes", "photos", "evenness", "photos/glaze-room-west.jpg/mark")
PAGES = [JOB, f"{JOB}/order", f"{JOB}/days", f"{JOB}/papers", *(f"{JOB}/1/{step}" for step in STEPS)]
PAGES += [f"{JOB}/2/{step}" for step in STEPS[:5]]
LONE_UNIT = re.compile(r"\b(?:ft²?|psi|gal|lb|mils)(?![\w²])|°F|how many in\b|> in <")
"""US units that stand apart from their number: beside an entry, at the axis of a map."""


@pytest.fixture
def metric(make_page, jobs):
    """The page over the example job in metric units."""
    turn_metric(jobs / "pottery")
    return make_page()


def spoken(page_text: str) -> str:
    """Return what a page says: its text and the words of its entries, without what the forms hold for the server."""
    words = re.sub(r'<[^>]*?(?:placeholder|aria-label|alt|title)="([^"]*)"[^>]*>', r" \1 ", page_text)
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", words)))


def us_words(text: str, products: list[str]) -> list[str]:
    for name in products:  # a product is sold under the size in its name
        text = text.replace(name, "")
    return [
        text[max(0, found.start() - 40) : found.end() + 20]
        for pattern in (US_UNIT, US_TIME, LONE_UNIT)
        for found in pattern.finditer(text)
    ]


def products() -> list[str]:
    return [material.name for material in load_catalog().materials.values()]


def test_no_page_of_a_metric_job_speaks_in_us_units(metric, jobs):
    folder = jobs / "pottery"
    add_used(
        folder, "Glaze room",
        Used(material="epoxy-water-primer", layer="primer", area_ft2=400, used=2, date=datetime.date(2026, 9, 20)),
    )  # fmt: skip
    work_through(folder, EXAMPLE_DAY, measure_photos=True, with_order=False, with_plan=False)
    pages = {path: metric.get(path) for path in PAGES}
    assert {answer.status_code for answer in pages.values()} == {200}
    links = {
        link for answer in pages.values() for link in re.findall(r'href="([^"]+/finishes/[a-z0-9-]+)"', answer.text)
    }
    pages |= {link: metric.get(link) for link in links}
    assert len(links) > 30
    assert "Patch 1" in pages[f"{JOB}/1/evenness"].text
    found = {path: us_words(spoken(answer.text), products()) for path, answer in pages.items()}
    assert {path: words for path, words in found.items() if words} == {}


def test_the_same_look_finds_us_units_in_a_us_job(page):
    text = spoken(page.get(f"{JOB}/1/floor").text)
    assert US_TIME.search(text)
    assert US_UNIT.search(text)


def test_a_metric_answer_is_kept_in_the_unit_of_its_fact(metric, jobs):
    def answers():
        return open_job(jobs / "pottery").job.floors[0].answers

    floor = metric.get(f"{JOB}/1/floor").text
    assert re.search(r'name="thickness_in" value="127"[^>]*>\s*<span>mm</span>', floor)
    version = metric.version("pottery")
    typed = {"version": version, "thickness_in": "127", "strength_psi": "30"}
    assert metric.post(f"{JOB}/1/floor/answers", typed).status_code == 303
    assert answers()["thickness_in"] == 5
    assert answers()["strength_psi"] == pytest.approx(
        30e6 / 6894.757, abs=0.01
    )  # 1 psi = 6894.757 Pa: NIST SP 811, B.8
    kept = answers()["strength_psi"]
    shown = re.search(r'name="strength_psi" value="([^"]+)"', metric.get(f"{JOB}/1/floor").text)
    assert shown and shown[1] == "30"
    again = {"version": metric.version("pottery"), "strength_psi": "30", "thickness_in": "150"}
    assert metric.post(f"{JOB}/1/floor/answers", again).status_code == 303
    assert answers()["strength_psi"] == kept, "an answer that was left alone is not rounded"
    assert answers()["thickness_in"] == pytest.approx(150 / 25.4)


def test_a_wrong_metric_answer_is_refused_in_its_unit(metric):
    typed = {"version": metric.version("pottery"), "thickness_in": "99999"}
    answer = metric.post(f"{JOB}/1/floor/answers", typed)
    assert answer.status_code == 400
    problem = spoken(re.search(r'<div class="problem".*?</div>', answer.text, re.DOTALL)[0])
    assert re.search(r"99999 is out of range; it must be at most \d+ mm\.", problem)


def test_what_was_used_is_typed_in_liters_and_square_meters(metric, jobs):
    order = metric.get(f"{JOB}/order").text
    line = re.search(r'<option value="(Glaze room\n[^"]+)">[^<]*, in L</option>', order)
    assert line
    typed = {"line": line[1], "used": "7.570823568", "area": "40", "date": "2026-09-20"}
    assert metric.post(f"{JOB}/order/used", typed).status_code == 303
    (row,) = open_job(jobs / "pottery").job.floors[0].used
    assert row.used == pytest.approx(2)  # 1 US gallon = 3.785411784 L: NIST Handbook 44, Appendix C
    assert row.area_ft2 == pytest.approx(40 / 0.09290304)  # 1 ft² = 0.09290304 m², the same


def test_a_reading_is_typed_and_shown_in_metric(metric, jobs):
    typed = {"kind": "pull-off", "value": "1.5", "date": "2026-09-20"}
    assert metric.post(f"{JOB}/1/floor/readings", typed).status_code == 303
    kept = open_job(jobs / "pottery").job.floors[0].readings[-1]
    assert kept.value == pytest.approx(1.5e6 / 6894.757, rel=1e-6)
    assert "1.5 MPa" in metric.get(f"{JOB}/1/floor").text
