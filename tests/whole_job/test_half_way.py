"""The order of a job that is under way: what is done needs no material any more."""

import datetime
from pathlib import Path

import jsonschema
import pytest

from finishadvisor.papers.order_list import order_list_data
from finishadvisor.whole_job.work_through import work_through
from tests.contracts.schemas import contract

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


def test_the_price_of_the_job_stays_what_it_is(tmp_path):
    fresh = ordered(tmp_path / "fresh")
    half = ordered(tmp_path / "half", done("seal-coat-1"))
    assert half.floors[0].selling_prices == fresh.floors[0].selling_prices
