"""One requirement followed from its rule to the order line, the plan step and the sheet."""

import datetime
import io

import pytest
from pypdf import PdfReader

from finishadvisor.papers.order_list import order_list_data
from finishadvisor.papers.typeset import typeset
from finishadvisor.whole_job.work_through import work_through

RULE = "hard-wheels-at-joints"
FLOOR = "Glaze room"


@pytest.fixture(scope="module")
def whole(demo_run):
    return work_through(demo_run[0], datetime.date(2026, 9, 21), floor_name=FLOOR, finish_id="polyaspartic-flake")


def test_the_rule_asks_for_a_work_item(whole):
    rule = whole.catalog.rules[RULE]
    assert rule.effect == "require"
    advice = next(finish for finish in whole.advice.floors[0].finishes if finish.id == "polyaspartic-flake")
    assert any(reason.rule == RULE and reason.met == "yes" for reason in advice.reasons)
    added = next(added for added in advice.adds if added.work_item == rule.work_item)
    assert added.extent > 0
    assert added.unit == "ft"


def test_the_work_item_becomes_a_task_an_order_line_and_a_step(whole):
    work_item = whole.catalog.rules[RULE].work_item
    task = next(task for task in whole.floors[0].works.tasks if task.work_item == work_item)
    assert task.rule == RULE
    materials = {use.material for use in task.materials}
    assert materials
    assert materials <= {line.material for line in whole.order.floors[0].lines}
    assert materials <= {packs.material for packs in whole.order.packs}
    assert task.title in {step.task for step in whole.plan.steps}


def test_the_material_stands_on_the_order_list(whole):
    work_item = whole.catalog.work_items[whole.catalog.rules[RULE].work_item]
    pdf = typeset("order_list", order_list_data(whole, whole.order), units="us")
    text = " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).split())
    for use in work_item.materials:
        assert whole.catalog.materials[use.material].name in text


def test_without_the_rule_nothing_of_it_is_there(demo_job):
    job = demo_job / "job.toml"
    text = job.read_text(encoding="utf-8")
    job.write_text(text.replace('traffic = "hard-wheels"', 'traffic = "feet"'), encoding="utf-8")
    plain = work_through(job, datetime.date(2026, 9, 21), floor_name=FLOOR, finish_id="polyaspartic-flake")
    work_item = plain.catalog.rules[RULE].work_item
    assert all(task.work_item != work_item for task in plain.floors[0].works.tasks)
