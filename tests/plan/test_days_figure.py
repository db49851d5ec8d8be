"""The picture of the days: made for every kind of plan, the same each time, with words that can be read."""

import datetime
import re
from xml.etree import ElementTree

import pytest
from PIL import ImageFont

from finishadvisor.papers.days_figure import LEFT_PT, RIGHT_PT, days_picture
from finishadvisor.papers.figures import WORK
from finishadvisor.papers.svg_font import FACES
from finishadvisor.papers.typeset import font_folder
from finishadvisor.papers.wording import hour_text
from tests.plan.whole import a_job, plan_for, two_weeks

COLD = {"room": {"air": 48, "rh_pct": 60, "slab": 46}}


def words(picture):
    return re.sub(r"<[^>]+>", " ", picture.decode("utf-8"))


def test_the_lines_the_coats_and_the_end_of_the_window_are_named():
    plan = plan_for()
    said = words(days_picture(plan, plan.air))
    top = [step for step in plan.steps if step.coat is not None][-1]
    for name in (
        "air",
        "slab",
        "dew point",
        "build",
        f"top, by {top.latest:%a} {hour_text(top.latest)}",
        "Shop: first coat",
    ):
        assert name in said


def test_a_plan_that_does_not_fit_says_so():
    plan = plan_for(job=a_job(COLD))
    said = words(days_picture(plan, plan.air))
    assert "no days fit as it stands" in said
    assert "in none of these hours" in said


def test_every_floor_has_its_panel_and_metric_jobs_read_celsius():
    plan = plan_for(job=a_job({"name": "Shop"}, {"name": "Store"}))
    said = words(days_picture(plan, plan.air, units="metric"))
    assert "Shop: first coat" in said
    assert "Store: first coat" in said
    assert "°C" in said
    assert "°F" not in said


def test_the_end_of_the_forecast_and_rain_are_marked():
    weather = two_weeks(rain_chance_pct=0.0)
    rows = list(weather.rows[:90])
    rows[88] = rows[88].__class__(**{**vars(rows[88]), "rain_in": 0.2})
    soon_over = weather.__class__(tuple(rows), ())
    plan = plan_for("repellent", weather=soon_over, job=a_job({"room": None}), place="outdoors", sun="none")
    said = words(days_picture(plan, plan.air))
    assert "forecast ends" in said
    assert "rain" in said


def test_nothing_to_draw_is_no_picture():
    assert days_picture(plan_for(), {}) is None


def test_the_same_plan_gives_the_same_picture():
    plan = plan_for(on=datetime.date(2026, 10, 30))
    assert days_picture(plan, plan.air) == days_picture(plan, plan.air)


def test_no_words_run_off_the_picture():
    font = ImageFont.truetype(str(font_folder() / FACES[400]), 1000, layout_engine=ImageFont.Layout.BASIC)
    for units in ("us", "metric"):
        plan = plan_for(job=a_job({"name": "W" * 40}, {"name": "Store"}))
        page = ElementTree.fromstring(days_picture(plan, plan.air, units))
        wide, high = (float(side) for side in page.get("viewBox").split()[2:])
        for text in page.iter("{http://www.w3.org/2000/svg}text"):
            size, x, y = (float(text.get(name)) for name in ("font-size", "x", "y"))
            long = font.getlength(text.text) * size / 1000
            left = x - {"start": 0, "middle": 0.5, "end": 1}[text.get("text-anchor")] * long
            assert left >= 0 and left + long <= wide, text.text
            assert y - size >= 0 and y <= high, text.text


def test_coats_lie_in_their_hours():
    plan = plan_for()
    (hours,) = plan.air.values()
    page = ElementTree.fromstring(days_picture(plan, plan.air))
    begin, end = hours[0].start, hours[-1].start + datetime.timedelta(hours=1)
    solid = [
        (float(box.get("x")), float(box.get("width")))
        for box in page.iter("{http://www.w3.org/2000/svg}rect")
        if box.get("fill") == WORK and float(box.get("height")) > 10 and box.get("fill-opacity") == "1"
    ]
    wanted = [
        (LEFT_PT + (step.start - begin) / (end - begin) * (RIGHT_PT - LEFT_PT),
         (step.end - step.start) / (end - begin) * (RIGHT_PT - LEFT_PT))
        for step in plan.steps
        if step.coat is not None
    ]  # fmt: skip
    assert len(solid) == len(wanted) > 1
    for (x, width), (left, long) in zip(solid, wanted, strict=True):
        assert x == pytest.approx(left, abs=0.02)
        assert width == pytest.approx(long, abs=0.02)
