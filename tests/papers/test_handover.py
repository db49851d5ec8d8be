"""What is handed over: care sheet, warranty page, record; and the card and the scope that go before."""

import datetime
from dataclasses import replace

import pytest

from finishadvisor.job.document import Reading
from finishadvisor.papers.care_sheet import FAMILY_TOUCH_UP, care_sheet
from finishadvisor.papers.field_card import AFTER, SHOOT
from finishadvisor.papers.readings import reading_text
from finishadvisor.papers.record import record_of_work
from finishadvisor.papers.subcontract import cutting_tasks, subcontract_scope
from finishadvisor.papers.warranty import EXCLUDED, warranty_page
from finishadvisor.papers.wording import day_text, moment_text
from tests.papers.conftest import squeezed


def text_of(printed, title):
    return next(paper.text for paper in printed.values() if paper.paper.title == title)


def test_care_sheet_has_inspect_dates_and_touch_up(example, example_printed):
    for outcome in example.floors:
        text = text_of(example_printed, f"{outcome.floor.name}: care sheet")
        finish = example.catalog.finishes[outcome.finish]
        days = example.plan.inspect[outcome.floor.name]
        assert days
        for day in days:
            assert day_text(day) in text
        for words in (*finish.upkeep.care, finish.upkeep.touch_up, FAMILY_TOUCH_UP[finish.family]):
            assert squeezed(words) in squeezed(text)
        back = example.plan.back_in_service[outcome.floor.name]
        for at in (back.foot, back.water, back.furniture, back.cover):
            assert moment_text(at) in text


def test_every_family_of_the_catalog_has_a_touch_up(example):
    assert {finish.family for finish in example.catalog.finishes.values()} == set(FAMILY_TOUCH_UP)


def test_warranty_names_what_it_excludes_and_rests_on(example, example_printed):
    text = squeezed(text_of(example_printed, "Glaze room: warranty"))
    for words in EXCLUDED:
        assert squeezed(words) in text
    for word in ("cracks", "curling", "white salts", "vapor", "shade"):
        assert any(word in words for words in EXCLUDED)
    for reading in example.floors[0].floor.readings:
        assert squeezed(reading_text(reading, "us")) in text
    assert squeezed("Air and slab at each coat") in text


def test_record_has_loads_readings_and_every_step(example, example_printed):
    text = squeezed(text_of(example_printed, "Glaze room: record"))
    outcome = example.floors[0]
    for load in outcome.floor.loads:
        assert squeezed(load.name) in text
    for task in outcome.works.tasks:
        assert squeezed(task.title) in text


def test_lots_that_were_used_stand_in_the_record(example):
    from finishadvisor.job.document import Used

    outcome = example.floors[0]
    used = Used(material="flake", layer="flake", area_ft2=452, used=70, date=example.on, lot="L-4711")
    floor = outcome.floor.model_copy(update={"used": (used,)})
    for make in (record_of_work, warranty_page):
        assert "L-4711" in str(make(example, replace(outcome, floor=floor)).blocks)


def rows_of(sheet, first):
    """Return the rows of the tables whose first column is named so."""
    tables = [block for block in sheet.blocks if block and block.get("head", [""])[0] == first]
    return [row for table in tables for row in table["rows"]]


def steps_of(sheet):
    return {row[1]: row[2:] for row in rows_of(sheet, "No.") if len(row) == 5}


def test_the_record_fills_in_what_was_done(under_way):
    outcome = under_way.floors[0]
    steps = steps_of(record_of_work(under_way, outcome))
    titles = {task.id: task.title for task in outcome.works.tasks}
    assert steps[titles["grind-csp-2-3"]] == ["Mon Sep 21, 2026, 12:05 PM", "", ""]
    assert steps[titles["base-coat-1"]] == ["Tue Sep 22, 2026", "", "4.1 gal on 452 ft², lot A-17"]
    assert steps[titles["top-coat-1"]] == ["", "", ""]
    assert steps[under_way.catalog.work_items["wash"].title][0] == "Sun Sep 20, 2026"  # no part of this finish
    assert {title for title in steps if title.partition(" (only")[0] not in titles.values()} == set()


def test_lots_that_are_recorded_leave_lines_for_the_others(under_way):
    for make in (record_of_work, warranty_page):
        lots = rows_of(make(under_way, under_way.floors[0]), "Material")
        assert [(row[1], row[2]) for row in lots] == [("base", "A-17"), ("flake", ""), ("top", "")]


def test_air_at_a_coat_is_what_was_read_that_day(under_way):
    outcome = under_way.floors[0]
    record, warranty = (
        {row[0].rpartition(": ")[2]: row[1:] for row in rows_of(make(under_way, outcome), "Coat")}
        for make in (record_of_work, warranty_page)
    )
    read = "air 67 °F, RH 48 %, slab 65 °F"
    assert record["base"] == ["Tue Sep 22, 2026", "", read]
    assert warranty["base"] == ["Tue Sep 22, 2026", read]
    assert "°F" in record["top"][1]
    assert record["top"][2] == warranty["top"][1] == ""


def test_batches_bear_the_lot_that_is_recorded(under_way):
    from finishadvisor.whole_job.batches import batches_of

    batches = batches_of(under_way)
    rows = rows_of(record_of_work(under_way, under_way.floors[0], batches), "Batch")
    assert len(rows) == sum(batch.floor == "Glaze room" for batch in batches) > 4
    assert {row[5] for row in rows} == {"A-17", ""}


def test_what_is_recorded_for_a_later_day_is_not_done_yet(under_way):
    steps = steps_of(record_of_work(replace(under_way, on=datetime.date(2026, 9, 21)), under_way.floors[0]))
    assert any(row[0].startswith("Mon Sep 21") for row in steps.values())
    assert not [row for row in steps.values() if "A-17" in row[2]]


@pytest.mark.parametrize(
    ("kind", "value", "us", "metric"),
    [
        ("slab-rh", 77.0, "77 %", "77 %"),
        ("ph", 9.5, "pH 9.5", "pH 9.5"),
        ("calcium-chloride", 3.0, "3 lb/1000 ft² in 24 h", "14.6 g/m² in 24 h"),
        ("pull-off", 200.0, "200 psi", "1.38 MPa"),
        ("slab-temperature", 68.0, "68 °F", "20 °C"),
        ("water-drop", 25.0, "25 s", "25 s"),
        ("sheet-test", "dry", "dry", "dry"),
    ],
)
def test_readings_in_both_unit_systems(kind, value, us, metric):
    # 1 lb/1000 ft² = 4.882 g/m² and 1 psi = 6.8948 kPa follow from exact factors (NIST HB 44, App. C)
    reading = Reading(kind=kind, value=value, date="2026-09-01")
    assert reading_text(reading, "us") == us
    assert reading_text(reading, "metric") == metric


def test_field_card_is_a_front_and_a_back(printed_job):
    for name in ("example", "metric", "bare_bones"):
        cards = [p for p in printed_job(name).values() if p.paper.name.endswith("field-card.pdf")]
        assert cards
        for card in cards:
            assert len(card.pages) == 2, card.paper.name
            assert "Readings" in card.pages[0]
            for heading in ("Truck loads", "Photos", "How to photograph"):
                assert heading in card.pages[1]
            assert squeezed(AFTER[1]) in squeezed(card.pages[1])
            assert squeezed(SHOOT[2]) in squeezed(card.pages[1])


def test_scope_lists_the_cutting_steps_without_prices(example, worked):
    from finishadvisor.whole_job.work_through import work_through

    polished = work_through(example.folder, example.on, floor_name="Glaze room", finish_id="polished-cream")
    outcome = polished.floors[0]
    sheet = subcontract_scope(polished, outcome)
    steps = next(block for block in sheet.blocks if block and block["kind"] == "table")["rows"]
    tasks = cutting_tasks(outcome.works)
    assert [row[1] for row in steps] == [task.title for task in tasks]
    assert len(tasks) > 4
    words = str(sheet.data())
    for word in ("grit", "Gloss", "Edges", "Slurry", "Joints"):
        assert word in words
    assert "$" not in words
    assert sheet.pdf("us").startswith(b"%PDF")


def test_no_scope_where_nothing_is_cut(example):
    assert subcontract_scope(example, example.floors[1]) is None


def test_nothing_to_hand_over_without_a_finish(example):
    outcome = replace(example.floors[0], finish=None)
    assert care_sheet(example, outcome) is None
    assert warranty_page(example, outcome) is None
    assert record_of_work(example, outcome) is None
