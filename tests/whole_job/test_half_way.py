"""The order of a job that is under way: what is done needs no material any more."""

import datetime
import json
from pathlib import Path

import jsonschema
import pytest

from finishadvisor.order.amounts import amount_of
from finishadvisor.papers.order_list import order_list_data
from finishadvisor.papers.recorded import begun_texts, used_for
from finishadvisor.papers.work_steps import work_steps
from finishadvisor.whole_job.batches import batches_of
from finishadvisor.whole_job.work_through import work_through
from tests.contracts.schemas import contract
from tests.works.shipped import shipped

ON = datetime.date(2026, 9, 21)
NEXT = ON + datetime.timedelta(days=1)
JOB = """
name = "Studio"
time_zone = "America/Chicago"

[[floor]]
name = "Studio"
pour = {{ date = 2025-06-01 }}
outline = {{ rectangle = [{{ x = 30, y = 20 }}] }}
room = {{ air = 72, rh_pct = 45, slab = 70 }}
decision = {{ finish = "{finish}" }}

[floor.answers]
place = "indoors"
use = "workshop"
sun = "none"
layers_down = "none"

[[floor.reading]]
kind = "slab-rh"
value = 70
date = 2026-09-10
"""
USED = """
[[floor.used]]
material = "acrylic-water"
layer = "seal"
coats = 1
area_ft2 = 600
used = {gal}
date = 2026-09-21
"""


def done(*tasks):
    return "".join(f'\n[[floor.done]]\ntask = "{task}"\ndate = 2026-09-21\n' for task in tasks)


def ordered(folder: Path, more: str = "", finish: str = "acrylic-water", on: datetime.date = NEXT):
    folder.mkdir()
    (folder / "job.toml").write_text(JOB.format(finish=finish) + more, encoding="utf-8")
    return work_through(folder, on, with_plan=False)


def needs(whole):
    return {(line.material, line.layer): line.need for line in whole.order.floors[0].lines}


def test_a_coat_that_is_done_leaves_the_later_coats(tmp_path):
    fresh = ordered(tmp_path / "fresh")
    half = ordered(tmp_path / "half", done("seal-coat-1"))
    seal = next(line for line in half.order.floors[0].lines if line.layer == "seal")
    # 600 ft² of one coat that meets no bare concrete, and no mock-up any more.
    assert seal.coats == 1
    assert seal.working.startswith("600 ft²")
    assert "first coat" not in seal.working
    assert needs(half)["acrylic-water", "seal"].expected < 0.5 * needs(fresh)["acrylic-water", "seal"].expected
    assert ("neutral-detergent", None) in needs(fresh)
    assert ("neutral-detergent", None) not in needs(half)
    jsonschema.validate(half.order.as_json(), contract("order"))
    told = [order_list_data(whole, whole.order)["risk"] for whole in (fresh, half)]
    assert ["mock-up is counted in" in words for words in told] == [True, False]


def test_one_line_says_what_is_left_out_and_what_corrects_it(tmp_path):
    fresh = ordered(tmp_path / "fresh")
    half = ordered(tmp_path / "half", done("seal-coat-1"))
    assert not any("left out" in said for said in fresh.order_warnings)
    (said,) = (said for said in half.order_warnings if "left out" in said)
    assert "seal, coat 1 of 2" in said
    assert "coat 2 of 2" not in said
    assert "recorded as used, corrects" in said


def test_nothing_done_and_nothing_done_yet_order_the_same(tmp_path):
    fresh = ordered(tmp_path / "fresh", on=ON - datetime.timedelta(days=1))
    later = ordered(tmp_path / "later", done("seal-coat-1"), on=ON - datetime.timedelta(days=1))
    assert later.order.as_json() == fresh.order.as_json()


def test_a_task_alone_takes_its_own_material_with_it(tmp_path):
    washed = ordered(tmp_path / "washed", done("wash"))
    fresh = ordered(tmp_path / "fresh")
    gone = set(needs(fresh)) - set(needs(washed))
    assert ("neutral-detergent", None) in gone
    seal = ("acrylic-water", "seal")
    assert needs(washed)[seal].expected == pytest.approx(needs(fresh)[seal].expected)


@pytest.mark.parametrize(("gal", "more"), [(9.0, True), (1.5, False)])
def test_what_the_coat_that_is_down_used_corrects_the_rest(tmp_path, gal, more):
    by_record = needs(ordered(tmp_path / "done", done("seal-coat-1")))["acrylic-water", "seal"]
    by_use = needs(ordered(tmp_path / "used", USED.format(gal=gal)))["acrylic-water", "seal"]
    assert (by_use.expected > by_record.expected) == more


def test_with_every_coat_down_no_film_is_bought(tmp_path):
    whole = ordered(tmp_path / "all", done("build-coat-1", "top-coat-1"), finish="epoxy-urethane-solid")
    assert not any(layer for _, layer in needs(whole))
    assert all("epoxy" not in packs.material and "urethane" not in packs.material for packs in whole.order.packs)


def test_with_everything_done_nothing_is_bought(tmp_path):
    fresh = ordered(tmp_path / "fresh")
    tasks = [task.id for task in fresh.floors[0].works.tasks if task.certain]
    whole = ordered(tmp_path / "all", done(*tasks))
    assert whole.order.packs == ()
    assert whole.order.floors[0].lines == ()
    assert order_list_data(whole, whole.order)["answer"] == "Nothing is left to buy."
    jsonschema.validate(whole.order.as_json(), contract("order"))


@pytest.mark.parametrize("record", [done("seal-coat-1"), USED.format(gal=4)])
def test_the_price_of_the_job_stays_what_it_is(tmp_path, record):
    fresh = ordered(tmp_path / "fresh")
    half = ordered(tmp_path / "half", record)
    price = "acrylic-water"
    assert half.floors[0].selling_prices[price] == fresh.floors[0].selling_prices[price]
    assert half.floors[0].works == fresh.floors[0].works


def test_what_a_first_coat_used_is_set_against_a_first_coat(tmp_path):
    # On bare concrete a coat drinks more, and the catalog knows: what it foresees corrects nothing.
    (outcome,) = ordered(tmp_path / "fresh").floors
    first = next(use for task in outcome.works.tasks for use in task.materials if use.layer)
    foreseen = 600 * amount_of(first, outcome.works, shipped()).median
    half = ordered(tmp_path / "half", USED.format(gal=round(foreseen, 6)))
    seal = next(line for line in half.order.floors[0].lines if line.layer == "seal")
    assert "as past use showed" not in seal.working


# --- tasks done in part ----------------------------------------------------------------------------------------------


def part(task, **how):
    told = "".join(f"{key} = {value}\n" for key, value in how.items())
    return f'\n[[floor.done]]\ntask = "{task}"\ndate = 2026-09-21\n{told}'


def test_of_a_coat_that_is_begun_the_rest_is_bought_and_mixed(tmp_path):
    fresh = ordered(tmp_path / "fresh")
    prepared = done("vacuum", "mask")
    half = ordered(tmp_path / "half", prepared + part("wash", area_ft2=500) + part("seal-coat-1", area_ft2=450))
    seal = next(line for line in half.order.floors[0].lines if line.layer == "seal")
    assert seal.coats == 2
    assert seal.working.startswith("150 ft²")
    assert "600 ft²" in seal.working
    assert needs(half)["neutral-detergent", None].expected < 0.5 * needs(fresh)["neutral-detergent", None].expected
    assert any("450 ft² of 600 ft² done" in said for said in half.order_warnings)
    by_task = {}
    for batch in batches_of(half):
        by_task[batch.task] = by_task.get(batch.task, 0) + batch.area_ft2
    assert by_task == pytest.approx({"seal-coat-1": 150, "seal-coat-2": 600})
    dry = done("wash", "vacuum", "mask").replace("2026-09-21", "2026-09-18")
    washed = ordered(tmp_path / "washed", dry + part("seal-coat-1", area_ft2=450))
    assert washed.floors[0].selling_prices == fresh.floors[0].selling_prices
    jsonschema.validate(half.order.as_json(), contract("order"))
    jsonschema.validate(half.plan.as_json(), contract("plan"))


def test_a_record_of_use_on_half_the_floor_is_half_a_coat(tmp_path):
    used = USED.format(gal=1.2).replace("area_ft2 = 600", "area_ft2 = 300")
    seal = next(line for line in ordered(tmp_path / "used", used).order.floors[0].lines if line.layer == "seal")
    assert seal.working.lstrip("(").startswith("300 ft²")


def test_two_halves_make_one_coat_and_its_record_names_both(tmp_path):
    half = USED.format(gal=1.2).replace("area_ft2 = 600", "area_ft2 = 300")
    whole = ordered(tmp_path / "used", half + half.replace("2026-09-21", "2026-09-22"))
    (outcome,) = whole.floors
    first, second = (task for task in outcome.works.tasks if task.coat)
    assert [used.date for used in used_for(first, outcome, whole)] == [ON, NEXT]
    assert used_for(second, outcome, whole) == ()
    assert first.id in whole.plan.done["Studio"]
    assert second.id not in whole.plan.done["Studio"]


def test_the_papers_say_what_is_done_and_what_is_left(tmp_path):
    half = ordered(tmp_path / "half", part("wash", area_ft2=450))
    (outcome,) = half.floors
    wash = next(task for task in outcome.works.tasks if task.id == "wash")
    assert begun_texts(wash, half, outcome) == ("in part, Mon Sep 21, 2026", "450 ft² of 600 ft² done")
    sheet = json.dumps(list(work_steps(half, outcome, outcome.works, ())), default=str, ensure_ascii=False)
    assert "150 ft²" in sheet
    assert "450 ft² of 600 ft² done; this is the rest of it." in sheet


# --- work that is done stays in the price ----------------------------------------------------------------------------


@pytest.mark.parametrize("task", ["test-slab-rh", "strip-acrylic", "screen-between-coats-before-top-coat-1"])
def test_work_that_is_done_and_not_asked_for_any_more_stays_in_the_price(tmp_path, task):
    finish = "epoxy-urethane-solid"
    fresh = ordered(tmp_path / "fresh", finish=finish)
    held = {each.id for each in fresh.floors[0].works.tasks if each.certain}
    assert task not in held
    recorded = ordered(tmp_path / "done", done(task), finish=finish)
    (before,), (after,) = fresh.floors, recorded.floors
    item = recorded.catalog.work_items[task.partition("-before-")[0]]
    dearer = after.selling_prices[finish].expected - before.selling_prices[finish].expected
    task_done = next(each for each in after.works.tasks if each.id == task)
    assert dearer > task_done.crew_hours.expected * 50 > 0
    assert task_done.work_item == item.id
    assert after.advice == before.advice
    assert {each.material for each in recorded.order.packs} <= {each.material for each in fresh.order.packs}
    assert not any("the plan adds" in said and item.title in said for said in recorded.order_warnings)
