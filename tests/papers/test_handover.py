"""What is handed over: care sheet, warranty page, record; and the card and the scope that go before."""

from dataclasses import replace

import pytest

from finishadvisor.job.document import Reading
from finishadvisor.papers.care_sheet import FAMILY_TOUCH_UP, care_sheet
from finishadvisor.papers.field_card import AFTER, SHOOT
from finishadvisor.papers.handover import EXCLUDED, record_of_work, warranty_page
from finishadvisor.papers.readings import reading_text
from finishadvisor.papers.subcontract import cutting_tasks, subcontract_scope
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
