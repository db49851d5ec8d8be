"""The job sheet: every task in the order of the days, with hours, batches, limits, hold points and equipment."""

from dataclasses import replace

from finishadvisor.papers.cautions import work_cautions
from finishadvisor.papers.due_tests import number_of
from finishadvisor.papers.job_sheet import equipment, job_sheet
from finishadvisor.papers.recorded import still_to_mix
from finishadvisor.papers.stop_rules import limits_table, margin_text, stop_rules
from finishadvisor.papers.wording import film_text, moment_text, number_text, quantity_text
from finishadvisor.papers.work_steps import steps_of, wants_photo, zones_lettered
from finishadvisor.whole_job.batches import batches_of
from finishadvisor.works.zone_names import zone_letter
from tests.papers import jobs
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
            assert squeezed(f"{number_text(task.crew_hours.expected)} crew-hour") in packed
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


def head_of(block):
    return block.get("head", [""])[0]


def flat(blocks):
    for block in blocks:
        yield block
        yield from flat(block.get("blocks", ()))


def test_what_is_done_is_told_as_done_and_mixed_no_more(under_way):
    outcome = under_way.floors[0]
    batches = batches_of(under_way)
    blocks = list(flat(job_sheet(under_way, outcome, batches).blocks))
    mixes = [block for block in blocks if block and head_of(block) == "Batch"]
    assert len(mixes) == len({batch.task for batch in batches if batch.floor == outcome.floor.name}) - 1
    steps = [block["words"] for block in blocks if block and block["kind"] == "subheading"]
    assert not [words for words in steps if words.endswith(": base")]
    (done,) = [block["rows"] for block in blocks if block and head_of(block) == "No."]
    titles = {task.id: task.title for task in outcome.works.tasks}
    by_title = {row[1]: row for row in done}
    assert by_title[titles["base-coat-1"]][2:] == ["Tue Sep 22, 2026", "4.1 gal on 452 ft², lot A-17"]
    assert by_title[titles["grind-csp-2-3"]][2] == "Mon Sep 21, 2026, 12:05 PM"
    numbers = [int(row[0]) for row in done] + [int(words.split(".")[0]) for words in steps if words[0].isdigit()]
    assert sorted(numbers) == list(range(1, len(outcome.works.tasks) + 1))
    left = {batch.task for batch in still_to_mix(batches, under_way) if batch.floor == outcome.floor.name}
    assert left == {"top-coat-1"}


def test_the_crew_is_told_no_money_and_each_hold_once(example):
    outcome = example.floors[0]
    coat = next(step for step in example.plan.steps if step.floor == outcome.floor.name and step.coat)
    notes = (*coat.notes, "Part 1 of 2.", "It costs about 192 USD in labor and rental.", "Keep the doors shut")
    noted = coat.model_copy(update={"notes": notes})
    steps = tuple(noted if step is coat else step for step in example.plan.steps)
    words = str(job_sheet(replace(example, plan=example.plan.model_copy(update={"steps": steps})), outcome, ()).blocks)
    assert "Keep the doors shut." in words
    assert "USD" not in words
    assert "Part 1 of 2" not in words


def test_conditions_are_boxes_on_the_first_page_and_no_steps(worked):
    whole = worked([jobs.floor("Shop") + '\n[floor.decision]\nfinish = "epoxy-urethane-clear"\n'])
    (outcome,) = whole.floors
    blocks = list(flat(job_sheet(whole, outcome, batches_of(whole)).blocks))
    holds = [block["words"] for block in blocks if block and block["kind"] == "hold"]
    points = [item for block in blocks if block and block["kind"] == "points" for item in block["items"]]
    assert "Only if slab RH is below 80 %." in holds
    assert not set(holds) & set(points)
    assert "Every hold point on the first page is released." in points


def test_a_photo_is_asked_for_once_and_only_where_the_shade_will_be_seen(example):
    asked = "photograph the dry slab again"
    flake, repellent = (str(job_sheet(example, outcome, ()).blocks) for outcome in example.floors)
    assert asked not in flake  # ground twice, and hidden
    assert asked in repellent
    works = example.floors[0].works
    changing = [task.id for task in works.tasks if example.catalog.work_items[task.work_item].changes_shade]
    assert len(changing) > 1
    seen = works.model_copy(update={"finish": "bare"})
    assert [task.id for task in works.tasks if wants_photo(task, example.catalog, seen)] == changing[-1:]
    perhaps = tuple(
        task.model_copy(update={"certain": False}) if task.id == changing[-1] else task for task in works.tasks
    )
    seen = seen.model_copy(update={"tasks": perhaps})
    assert [task.id for task in perhaps if wants_photo(task, example.catalog, seen)] == changing[-2:]
