"""What the plan has to add is in the works, and its material on the order."""

import datetime
from pathlib import Path

import pytest

from finishadvisor.order.price import first_cost, selling_price
from finishadvisor.papers.client_sheet import client_sheet_data
from finishadvisor.papers.wording import money_range_text
from finishadvisor.whole_job.work_through import work_through

ON = datetime.date(2026, 9, 21)
JOB = """
name = "Shop"
time_zone = "America/Chicago"
{more}

[[floor]]
name = "Shop"
pour = {{ date = 2025-06-01 }}
outline = {{ rectangle = [{{ x = 60, y = 25 }}] }}
room = {{ air = 72, rh_pct = 45, slab = 70 }}
decision = {{ finish = "epoxy-urethane-solid" }}

[floor.answers]
place = "indoors"
use = "workshop"
sun = "none"
"""
READ = '\n[[floor.reading]]\nkind = "slab-rh"\nvalue = 70\ndate = 2026-09-10\n'


def worked(folder: Path, more: str = "", behind: str = "", **options):
    folder.mkdir()
    (folder / "job.toml").write_text(JOB.format(more=more) + behind, encoding="utf-8")
    return work_through(folder, ON, **options)


def ordered(whole, material):
    return sum(packs.ordered for packs in whole.order.packs if packs.material == material)


def test_a_missing_test_of_slab_rh_brings_its_probes(tmp_path):
    unknown = worked(tmp_path / "unknown", with_plan=False)
    known = worked(tmp_path / "known", behind=READ)
    # 1500 ft²: three holes for the first 1000, one for the rest (ASTM F2170, 10.1).
    assert ordered(unknown, "rh-probe") >= 4
    assert ordered(known, "rh-probe") == 0
    sure = [task for task in unknown.floors[0].works.tasks if task.certain]
    assert sure[0].work_item == "test-slab-rh"
    assert any("Test relative humidity" in said for said in unknown.order_warnings)
    (added,) = unknown.plan.added["Shop"]
    assert any(f"{added.task.quantity:.0f} holes" in note for note in unknown.plan.steps[0].notes)


def test_a_screening_brings_its_screens_and_stands_before_its_coat(tmp_path):
    weekly = worked(tmp_path / "weekly", 'workday = { days = ["mon"] }', READ)
    daily = worked(tmp_path / "daily", behind=READ)
    assert ordered(weekly, "sanding-screen") > ordered(daily, "sanding-screen")
    tasks = [task.id for task in weekly.floors[0].works.tasks]
    screening = tasks.index("screen-between-coats-before-top-coat-1")
    assert tasks[screening + 1] == "top-coat-1"
    step = next(step for step in weekly.plan.steps if step.task_id == tasks[screening])
    assert "the order holds its material" in " ".join(step.notes)
    assert "It costs about" in " ".join(step.notes)


def plain_and_planned(folder: Path, more: str = "", behind: str = ""):
    """The same job without and with its plan."""
    folder.mkdir()
    plain = worked(folder / "plain", more, behind, with_plan=False, with_order=False)
    return plain, work_through(plain.folder, ON)


@pytest.mark.parametrize(
    ("more", "behind", "title"),
    [("", "", "Test relative humidity"), ('workday = { days = ["mon"] }', READ, "Screen between coats")],
)
def test_the_price_of_what_is_planned_holds_what_the_plan_adds_once(tmp_path, more, behind, title):
    plain, planned = plain_and_planned(tmp_path / "job", more, behind)
    (before,), (after,) = plain.floors, planned.floors
    all_of_it = selling_price(first_cost(after.works, planned.job, planned.catalog), planned.job, planned.catalog)
    price = after.selling_prices[after.finish]
    assert price.expected == pytest.approx(all_of_it.expected)
    assert (price.low, price.high) == pytest.approx((all_of_it.low, all_of_it.high))
    dearer_by = price.expected - before.selling_prices[before.finish].expected
    assert dearer_by > 50
    life = after.life_prices[after.finish].expected - before.life_prices[before.finish].expected
    assert life == pytest.approx(dearer_by)
    others = [{**prices, after.finish: None} for prices in (before.selling_prices, after.selling_prices)]
    assert others[0] == others[1]
    assert after.advice == before.advice
    sheet = client_sheet_data(planned, after)
    assert title in sheet["money_words"]
    option = next(each for each in sheet["options"] if each["name"] == planned.catalog.finishes[after.finish].name)
    assert option["price"] == money_range_text(price, planned.job.currency)


def test_where_the_plan_adds_nothing_the_price_is_the_plain_one(tmp_path):
    plain, planned = plain_and_planned(tmp_path / "job", behind=READ)
    assert planned.floors[0].selling_prices == plain.floors[0].selling_prices
    assert planned.floors[0].life_prices == plain.floors[0].life_prices
    assert "its days ask for" not in client_sheet_data(planned, planned.floors[0])["money_words"]
