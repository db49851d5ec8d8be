"""Facts that follow from other parts of a job: all of them, the dates, the plan and the site."""

import pytest

from finishadvisor.advice.derive import DERIVED, PARTS
from finishadvisor.advice.patch_facts import OF_EACH_PATCH
from finishadvisor.records.comparison import Mottling, SeenTwice
from tests.advice.floors import FADED, a_patch, a_photo, compared, day, facts_of, measured, reading, shipped

POUR = {"date": day("2026-07-27")}


def test_every_fact_that_follows_from_part_of_a_job_has_exactly_one_function():
    from_parts = {fact.id for fact in shipped().facts.values() if PARTS & set(fact.derived_from)}
    assert from_parts - OF_EACH_PATCH == set(DERIVED)


def test_what_a_patch_tells_of_itself_is_unknown_of_the_floor():
    told = facts_of(measured(a_photo(a_patch())))
    assert {told[fact_id] for fact_id in OF_EACH_PATCH} == {None}


def test_whatever_else_a_fact_is_derived_from_is_a_fact():
    named = {name for fact in shipped().facts.values() for name in fact.derived_from}
    assert named - PARTS <= set(shipped().facts)


def test_every_fact_of_the_catalog_is_there():
    assert set(facts_of()) == set(shipped().facts)


BESIDE = {
    "changes": [FADED],
    "seen_twice": SeenTwice(seen_ft2=200, turned_ft2=20, moved_ft2=0),
    "mottling": [Mottling(photo="a.jpg", lightness=0.9)],
}


def test_derived_values_are_values_that_their_facts_take():
    from finishadvisor.rules.conditions import check_value

    evenness = compared(measured(a_photo(a_patch(), second_lab=(60, 1, 1), caveats=("light-steep",))), **BESIDE)
    facts = facts_of(
        evenness, pour=POUR, last_wetting=day("2026-08-28"), job={"voc_rules": "otc-phase-2"},
        layer_down=[{"material": "stain", "coats": 1, "bonded": True, "color": "tinted"}],
        mock_up=[{"finish": "bare", "area_ft2": 9, "material": "densifier", "used": 0.1}],
        load=[{"name": "one", "water_added_gal": 3, "slump": "4 in", "boundary": [[0, 0], [0, 9]]}, {"name": "two"}],
        photo=[{"file": "a.jpg"}],
        outline={
            "joint": [{"kind": "isolation", "start": [0, 0], "end": [9, 0]}],
            "steps": [{"count": 3, "width": 5, "tread": "12in", "riser": "7in"}],
        },
        reading=[
            reading("slab-rh", 74, "2026-09-17"), reading("calcium-chloride", 45, "2026-09-17"),
            reading("ph", 11, "2026-09-17"), reading("rinse-water-ph", 7.5, "2026-09-17"),
            reading("sheet-test", "damp", "2026-09-17"), reading("water-drop", 25, "2026-09-17"),
            reading("sounding", "hollow", "2026-09-17"), reading("scratch-hardness", 10, "2026-09-17"),
            reading("pull-off", 240, "2026-09-17"),
        ],
    )  # fmt: skip
    unknown = [fact_id for fact_id in DERIVED if facts[fact_id] is None]
    assert unknown == []
    for fact_id in DERIVED:
        check_value(facts[fact_id], shipped().facts[fact_id], fact_id)


# --- dates --------------------------------------------------------------------------------------------------------


def test_age_and_certainty_follow_from_the_pour():
    facts = facts_of(pour=POUR)
    assert (facts["age_days"], facts["pour_ahead"], facts["pour_date_certainty"]) == (56, False, "exact")
    assert facts_of(pour={**POUR, "about": True})["pour_date_certainty"] == "about"


def test_a_pour_that_lies_ahead_has_no_age():
    facts = facts_of(pour={"date": day("2026-09-22")})
    assert (facts["age_days"], facts["pour_ahead"], facts["cracks"]) == (None, True, "none")
    assert facts_of(pour={"date": day("2026-09-21")})["pour_ahead"] is False


@pytest.mark.parametrize(
    "trace",
    [
        {"reading": [reading("sounding", "solid", "2026-09-01")]},
        {"layer_down": [{"material": "acrylic"}]},
        {"last_wetting": day("2026-09-01")},
        {"photo": [{"file": "a.jpg"}]},
        {"answers": {"age_days": 9000}},
        {"answers": {"cracks": "hairline"}},
        {"answers": {"slab_rh_pct": 80}},
        {"answers": {"pour_ahead": False}},
    ],
)
def test_a_trace_of_the_slab_says_that_it_is_poured(trace):
    assert facts_of(**trace)["pour_ahead"] is False


@pytest.mark.parametrize(
    "no_trace", [{}, {"answers": {"place": "outdoors", "cracks": "none"}}, {"last_wetting": day("2026-12-01")}]
)
def test_no_date_and_no_trace_means_that_the_pour_lies_ahead(no_trace):
    assert facts_of(**no_trace)["pour_ahead"] is True


def test_a_pour_date_wins_over_an_answered_age():
    assert facts_of(pour=POUR, answers={"age_days": 5})["age_days"] == 56
    assert facts_of(answers={"age_days": 5})["age_days"] == 5


# --- the plan and the site --------------------------------------------------------------------------------------------


def test_rules_at_the_site_come_from_the_job():
    assert facts_of(job={"voc_rules": "south-coast"})["voc_rules"] == "south-coast"


@pytest.mark.parametrize(
    ("joints", "moves"),
    [
        ([], None),
        ([{"kind": "control"}], False),
        ([{"kind": "control", "moving": True}], True),
        ([{"kind": "control"}, {"kind": "isolation"}], True),
        ([{"kind": "isolation", "moving": False}], False),
    ],
)
def test_joints_move_when_they_isolate_or_are_said_to(joints, moves):
    placed = [{"start": [0, 0], "end": [9, 0], **joint} for joint in joints]
    assert facts_of(outline={"joint": placed})["moving_joints"] is moves


def test_a_flight_on_the_plan_belongs_to_the_floor():
    flight = {"count": 3, "width": 5, "tread": "12in", "riser": "7in"}
    porch = {"use": "porch"}
    assert facts_of(outline={"steps": [flight]}, answers=porch)["steps_on_floor"] is True
    assert facts_of(outline={}, answers=porch)["steps_on_floor"] is False
    assert facts_of(answers={"use": "steps"})["steps_on_floor"] is True
