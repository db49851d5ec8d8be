"""Tests that are still due go to sensible places, in words and on the plan."""

from dataclasses import replace

import pytest

from finishadvisor.papers.due_tests import COUNTED_BY, due_tests, number_of
from finishadvisor.papers.field_card import field_card
from finishadvisor.papers.job_sheet import job_sheet
from finishadvisor.papers.places_of_tests import NO_PLACE, WHERE, places_of_tests, spread_places
from finishadvisor.records.advice import OpenFact
from tests.papers import jobs


def open_facts(*facts):
    return [OpenFact(fact=fact, question=f"{fact}?", how="Test it.", could_change=()) for fact in facts]


def test_the_facts_named_here_are_tests_of_the_catalog(example):
    for fact in (*WHERE, *COUNTED_BY):
        assert example.catalog.facts[fact].kind == "gate", fact


def test_no_test_on_the_slab_is_left_to_the_whole_floor_unsaid(example):
    """A new gate is either given a place, or its answer comes from the photos."""
    shade = {id_ for id_ in example.catalog.facts if id_.startswith(("shade_", "two_", "light_"))}
    for id_, fact in example.catalog.facts.items():
        if fact.kind == "gate" and id_ not in shade and "photo" not in fact.how:
            assert id_ in WHERE or id_ in COUNTED_BY, id_


def test_counted_tests_share_the_places_that_the_most_of_them_take(worked):
    whole = worked([jobs.floor("Shop", answers='wished_sheen = "gloss"')])
    outcome = whole.floors[0]
    tight = next(id_ for id_, finish in whole.catalog.finishes.items() if finish.film == "tight")
    chosen = replace(outcome, finish=tight)
    due = due_tests(chosen, whole.catalog)
    assert due
    assert all(whole.catalog.facts[fact.fact].kind == "gate" for fact in due)
    where = places_of_tests(chosen, due)
    numbers = {fact.fact: number_of(fact.fact, outcome.works.area_ft2) for fact in due}
    for fact, number in numbers.items():
        if number is not None:
            assert [mark.label for mark in where.marks_of[fact]] == [f"T{n}" for n in range(1, number + 1)]
            assert f"T1 to T{number} on the plan" in where.words[fact]
    counted = [mark for mark in where.marks if mark.label.startswith("T")]
    assert len(counted) == max(number or 0 for number in numbers.values())


def test_a_water_drop_goes_to_the_darkest_and_the_palest_patch(example):
    outcome = example.floors[0]
    where = places_of_tests(outcome, open_facts("absorption"))
    patches = [patch for photo in outcome.evenness.photos for patch in photo.patches]
    assert min(patch.dL for patch in patches) < 0
    assert "the darkest patch (D)" in where.words["absorption"]
    assert "the path walked or driven most" in where.words["absorption"]
    (dark,) = [mark for mark in where.marks if mark.label == "D"]
    # the photo from the west shows the darkest mark, about 8 ft along and 12 ft up the floor
    assert (dark.x_ft, dark.y_ft) == pytest.approx((8.3, 11.5), abs=1.5)
    (pale,) = [mark for mark in where.marks if mark.label == "P"]
    assert pale.x_ft > 16  # the paler load lies beyond the end of the first truck
    walk = places_of_tests(example.floors[1], open_facts("absorption", "scratch_hardness_mohs"))
    assert [mark.label for mark in walk.marks] == ["P"]
    assert "the darkest place" in walk.words["absorption"]


def test_without_photos_the_dark_place_is_named_and_not_marked(metric):
    where = places_of_tests(metric.floors[0], open_facts("absorption", "pull_off_psi", "days_since_wetting"))
    assert "the darkest place, the palest place" in where.words["absorption"]
    assert [mark.label for mark in where.marks] == ["B1", "B2", "B3"]
    assert "B1 to B3 on the plan" in where.words["pull_off_psi"]
    assert where.words["days_since_wetting"] == NO_PLACE


def test_without_a_plan_places_are_told_in_words(bare_bones):
    where = places_of_tests(bare_bones.floors[0], open_facts("pull_off_psi", "sounding"))
    assert where.marks == ()
    assert "3 places, spread over the floor" in where.words["pull_off_psi"]


def test_places_keep_off_edges_and_joints_and_from_one_another(example):
    outline = example.floors[0].floor.outline
    places = spread_places(outline, 3)
    assert [place.label for place in places] == ["T1", "T2", "T3"]
    assert all(2 <= place.x_ft <= 24 and 2 <= place.y_ft <= 16 for place in places)
    assert all(abs(place.x_ft - 13) >= 1 and abs(place.y_ft - 9) >= 1 for place in places)
    gaps = [abs(a.x_ft - b.x_ft) + abs(a.y_ft - b.y_ft) for a in places for b in places if a is not b]
    assert min(gaps) > 8


def test_a_floor_too_narrow_for_the_margins_still_has_places():
    from tests.papers.test_figures import floor_of

    outline = floor_of(rectangle=[{"x": 40, "y": 1.5}], joint=[{"kind": "control", "start": [20, 0], "end": [20, 1.5]}])
    assert len(spread_places(outline.outline, 3)) == 3


def test_job_sheet_and_field_card_name_the_same_places(worked):
    whole = worked([jobs.floor("Shop", answers='wished_sheen = "gloss"')])
    outcome = replace(whole.floors[0], finish="epoxy-urethane-solid")
    due = due_tests(outcome, whole.catalog)
    sheet, card = job_sheet(whole, outcome, ()), field_card(whole, outcome)
    tests = next(block for block in sheet.blocks if block and block.get("head", ("",))[0] == "Test")["rows"]
    assert [row[0] for row in tests] == [fact.question for fact in due]
    assert "the whole floor" not in {row[2].lower() for row in tests if "slab RH" in row[1]}
    readings = next(block for block in card.blocks if block and block.get("head", ("",))[:2] == ["No.", "Test"])["rows"]
    assert {"T1", "T2", "T3"} <= {row[2] for row in readings}
