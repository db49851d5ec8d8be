"""The job sheet: every task in the order of the days, with hours, batches, limits, hold points and equipment."""

from finishadvisor.papers.cautions import work_cautions
from finishadvisor.papers.due_tests import number_of
from finishadvisor.papers.floor_plan import zone_letter
from finishadvisor.papers.job_sheet import equipment, job_sheet
from finishadvisor.papers.stop_rules import limits_table, margin_text, stop_rules
from finishadvisor.papers.wording import film_text, moment_text, number_text, quantity_text
from finishadvisor.papers.work_steps import steps_of, zones_lettered
from finishadvisor.whole_job.batches import batches_of
from tests.papers.conftest import squeezed


def sheets(whole, printed):
    for outcome in whole.floors:
        title = f"{outcome.floor.name}: job sheet"
        found = [paper for paper in printed.values() if paper.paper.title == title]
        if found:
            yield outcome, found[0].text


def test_every_task_is_there_with_its_steps_and_hours(example, example_printed):
    for outcome, text in sheets(example, example_printed):
        packed = squeezed(text)
        for task in outcome.works.tasks:
            assert squeezed(task.title) in packed
            assert squeezed(f"{number_text(task.crew_hours.expected)} crew-hours") in packed
            for step in example.catalog.work_items[task.work_item].steps:
                assert squeezed(step) in packed, step


def test_tasks_follow_one_another_as_the_plan_has_them(example, example_printed):
    for outcome, text in sheets(example, example_printed):
        packed = squeezed(text)
        work = packed[packed.index(squeezed("The work, step by step")) :]
        placed = [(steps_of(task, outcome.floor.name, example.plan.steps), task) for task in outcome.works.tasks]
        planned = sorted((steps[0].start, squeezed(task.title)) for steps, task in placed if steps)
        places = [work.index(title) for _, title in planned]
        starts = [start for start, _ in planned]
        in_order = [place for _, place in sorted(zip(starts, places, strict=True))]
        assert in_order == sorted(places)


def test_times_are_those_of_the_plan(example, example_printed):
    for outcome, text in sheets(example, example_printed):
        steps = [step for step in example.plan.steps if step.floor == outcome.floor.name]
        assert steps
        for step in steps:
            assert squeezed(moment_text(step.start)) in squeezed(text), step.task


def test_batches_stand_with_zone_amount_and_wet_film(example, example_printed):
    batches = batches_of(example)
    assert any(batch.wet_film_mils for batch in batches)
    for outcome, text in sheets(example, example_printed):
        packed = squeezed(text)
        for batch in (each for each in batches if each.floor == outcome.floor.name):
            assert squeezed(zones_lettered(batch.zone)) in packed
            assert squeezed(quantity_text(batch.volume_gal, "gal", "us")) in packed
            if batch.wet_film_mils is not None:
                assert squeezed(film_text(batch.wet_film_mils, "us")) in packed


def test_every_caution_and_all_equipment_of_the_work_is_there(example, example_printed):
    for outcome, text in sheets(example, example_printed):
        packed = squeezed(text)
        cautions = work_cautions(outcome.works, example.catalog)
        worn = equipment(outcome.works, example.catalog)
        assert cautions
        assert worn
        for words in (*cautions, *worn):
            assert squeezed(words) in packed, words


def test_a_mock_up_still_to_be_made_is_a_hold_point(example, example_printed):
    for outcome, text in sheets(example, example_printed):
        assert outcome.works.mock_up_ft2 > 0
        assert "Hold point. Mock-up of 16 ft²" in text


def test_limits_and_stop_rules_follow_the_materials(example):
    works = example.floors[0].works
    table = limits_table(works, example.catalog, "us")
    assert {row[0] for row in table["rows"]} == {
        material.name
        for task in works.tasks
        for use in task.materials
        if (material := example.catalog.materials[use.material]).limits is not None
    }
    told = " ".join(stop_rules(works, example.catalog, "us"))
    assert "pot life" in told
    assert "wet-film gauge" in told
    repellent = " ".join(stop_rules(example.floors[1].works, example.catalog, "us"))
    assert "pot life" not in repellent


def test_the_margin_above_dew_point_is_a_difference():
    assert margin_text(5, "us") == "5 °F"
    assert margin_text(5, "metric") == "2.8 °C"
    assert margin_text(0, "us") == "–"


def test_published_counts_of_readings():
    # ASTM F2170 and F1869: 3 for the first 1000 ft², 1 for each further 1000 ft²
    assert number_of("slab_rh_pct", 1000) == 3
    assert number_of("slab_rh_pct", 1001) == 4
    assert number_of("emission_lb_per_1000ft2_24h", 2500) == 5
    assert number_of("sounding", 400) is None


def test_zones_are_lettered():
    assert [zone_letter(n) for n in (0, 25, 26, 27, 701, 702)] == ["A", "Z", "AA", "AB", "ZZ", "AAA"]
    assert zones_lettered("zone 1 to zone 3") == "zone A to zone C"
    assert zones_lettered("whole slab") == "whole slab"


def test_no_sheet_where_nothing_can_be_measured(bare_bones):
    assert job_sheet(bare_bones, bare_bones.floors[0], ()) is None
