"""The picture of the days: made for every kind of plan, the same each time, with words that can be read."""

import datetime
import re

import pytest
from PIL import Image

from finishadvisor.papers.days_figure import days_picture, draw_days
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


@pytest.mark.parametrize("ending", [".svg", ".pdf", ".png"])
def test_the_file_is_what_its_ending_says(tmp_path, ending):
    plan = plan_for()
    path = tmp_path / f"days{ending}"
    draw_days(plan, plan.air, path)
    begin = {".svg": b"<?xml", ".pdf": b"%PDF", ".png": b"\x89PNG"}[ending]
    assert path.read_bytes().startswith(begin)
    if ending == ".png":
        with Image.open(path) as image:
            assert image.width > 900


def test_another_ending_or_nothing_to_draw_is_refused(tmp_path):
    plan = plan_for()
    with pytest.raises(ValueError, match=r"\.svg"):
        draw_days(plan, plan.air, tmp_path / "days.gif")
    with pytest.raises(ValueError, match="nothing to draw"):
        draw_days(plan, {}, tmp_path / "days.png")


def test_the_same_plan_gives_the_same_picture():
    plan = plan_for(on=datetime.date(2026, 10, 30))
    assert days_picture(plan, plan.air) == days_picture(plan, plan.air)
