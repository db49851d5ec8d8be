import pytest

from finishadvisor.advice.derive import DERIVED, PARTS
from finishadvisor.advice.patch_facts import OF_EACH_PATCH
from finishadvisor.records.comparison import Comparison, LoadStep, Mottling, SeenTwice, ShadeChange
from finishadvisor.records.evenness import FloorEvenness
from tests.advice.floors import a_patch, a_photo, day, facts_of, measured, reading, shipped

POUR = {"date": day("2026-07-27")}
OLD = {"date": day("2025-07-27")}


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


FADED = ShadeChange(
    before="before.jpg", after="a.jpg", days=30, seen_ft2=200, changed_share=0.1, fading=True, whole_slab_de00=None
)


BESIDE = {
    "changes": [FADED],
    "seen_twice": SeenTwice(seen_ft2=200, turned_ft2=20, moved_ft2=0),
    "mottling": [Mottling(photo="a.jpg", lightness=0.9)],
}


def compared(evenness: FloorEvenness, **more) -> FloorEvenness:
    return evenness.model_copy(update={"compared": Comparison(**more)})


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


# --- readings and wetting ---------------------------------------------------------------------------------------------


def test_the_worst_valid_reading_counts():
    rows = [reading("slab-rh", value, "2026-09-17", place=[n, 1]) for n, value in enumerate((74, 83, 78))]
    assert facts_of(pour=POUR, reading=rows)["slab_rh_pct"] == 83
    rows = [reading("pull-off", value, "2026-09-17", place=[n, 1]) for n, value in enumerate((300, 180, 260))]
    assert facts_of(pour=POUR, reading=rows)["pull_off_psi"] == 180


def test_a_reading_before_the_last_wetting_does_not_count():
    rows = [reading("slab-rh", 74, "2026-09-01"), reading("pull-off", 250, "2026-09-01")]
    facts = facts_of(pour=POUR, reading=rows, last_wetting=day("2026-09-10"))
    assert (facts["slab_rh_pct"], facts["moisture_readings_stale"]) == (None, True)
    assert (facts["pull_off_psi"], facts["days_since_wetting"]) == (250, 11)
    again = facts_of(pour=POUR, reading=[*rows, reading("slab-rh", 79, "2026-09-18")], last_wetting=day("2026-09-10"))
    assert (again["slab_rh_pct"], again["moisture_readings_stale"]) == (79, False)


def test_without_readings_nothing_is_stale():
    wetted = {"pour": POUR, "last_wetting": day("2026-09-10")}
    assert facts_of(**wetted)["moisture_readings_stale"] is False
    assert facts_of(**wetted, answers={"slab_rh_pct": 70})["moisture_readings_stale"] is None  # bears no date
    assert facts_of(**wetted, answers={"moisture_readings_stale": True})["moisture_readings_stale"] is True


def test_rinse_is_compared_with_the_rinse_water():
    rows = [reading("ph", 10.5, "2026-09-01"), reading("ph", 8, "2026-09-01", place="north")]
    assert facts_of(pour=POUR, reading=rows)["rinse_ph_difference"] is None
    water = reading("rinse-water-ph", 7.5, "2026-09-01")
    assert facts_of(pour=POUR, reading=[*rows, water])["rinse_ph_difference"] == 3
    acid = [reading("ph", 4, "2026-09-01"), reading("ph", 8, "2026-09-01", place="north"), water]
    assert facts_of(pour=POUR, reading=acid)["rinse_ph_difference"] == -3.5


@pytest.mark.parametrize(("seconds", "word"), [(60, "high"), (61, "medium"), (599, "medium"), (600, "low")])
def test_absorption_from_the_water_drop(seconds, word):
    rows = [reading("water-drop", seconds, "2026-09-01")]
    assert facts_of(pour=POUR, reading=rows, answers={"surface": "broom"})["absorption"] == word


def test_absorption_by_the_surface_where_no_drop_was_timed_and_no_film_lies():
    assert facts_of(pour=POUR, answers={"surface": "hard-steel-trowel"})["absorption"] == "low"
    assert facts_of(pour=POUR, answers={"surface": "broom"})["absorption"] == "high"
    assert facts_of(pour=POUR, answers={"surface": "broom", "absorption": "low"})["absorption"] == "low"
    assert facts_of(pour=POUR, answers={"surface": "broom", "slab_curing": "wax-compound"})["absorption"] is None
    assert facts_of(pour=POUR)["absorption"] is None


# --- layers, loads, mock-ups -----------------------------------------------------------------------------------------


def test_the_uppermost_layer_counts():
    layers = [{"material": "epoxy"}, {"material": "urethane", "color": "clear"}]
    facts = facts_of(pour=POUR, layer_down=layers)
    assert (facts["layers_down"], facts["layers_down_color"]) == ("urethane", "clear")
    dated = [{"material": "urethane", "laid": day("2026-09-02")}, {"material": "epoxy", "laid": day("2026-09-01")}]
    assert facts_of(pour=POUR, layer_down=dated)["layers_down"] == "urethane"


def test_material_that_was_used_lies_on_the_slab():
    used = {"layer": "top", "area_ft2": 100, "used": 1, "date": day("2026-09-20")}
    assert facts_of(pour=POUR, used=[{**used, "material": "densifier"}])["layers_down"] == "silicate"
    later = {**used, "material": "densifier", "date": day("2026-10-20")}
    assert facts_of(pour=OLD, used=[later])["layers_down"] is None


def test_one_loose_layer_makes_the_whole_loose():
    layers = [{"material": "epoxy", "bonded": False, "coats": 2}, {"material": "urethane", "bonded": True}]
    facts = facts_of(pour=POUR, layer_down=layers)
    assert (facts["layers_down_bonded"], facts["layers_down_coats"]) == (False, None)


def test_cure_and_seal_is_a_layer_and_known_curing_tells_that_there_is_none():
    assert facts_of(pour=POUR, answers={"slab_curing": "cure-and-seal"})["layers_down"] == "acrylic"
    assert facts_of(pour=OLD, answers={"slab_curing": "wet"})["layers_down"] == "none"
    assert facts_of(pour={**OLD, "about": True}, answers={"slab_curing": "wet"})["layers_down"] is None
    assert facts_of(pour=OLD)["layers_down"] is None


def test_truck_loads():
    assert facts_of(load=[{"name": "a", "water_added_gal": 0}, {"name": "b", "water_added_gal": 5}])["loads_differ"]
    alike = facts_of(load=[{"name": "a", "slump": "4 in"}, {"name": "b", "slump": "4.5 in"}])
    assert (alike["loads_differ"], alike["load_water_added"]) == (False, None)
    assert facts_of(load=[{"name": "a", "slump": "4 in"}, {"name": "b", "slump": "5.5 in"}])["loads_differ"] is True


def test_a_mock_up_counts_for_the_decided_finish():
    mock_up = {"finish": "bare", "area_ft2": 9, "material": "densifier", "used": 0.1, "signed_by": "client"}
    assert facts_of(mock_up=[mock_up])["mock_up_signed"] is True
    assert facts_of(mock_up=[mock_up], decision={"finish": "enhancer"})["mock_up_signed"] is None
    assert facts_of()["mock_up_signed"] is None


# --- photos ----------------------------------------------------------------------------------------------------------


def test_shade_from_the_photos():
    evenness = measured(
        a_photo(a_patch("ring", area_ft2=3), grade="nearly-even"),
        a_photo(a_patch("stripe", area_ft2=9), photo="b.jpg", grade="uneven"),
    )
    facts = facts_of(evenness, pour={"date": day("2026-01-05")})
    assert (facts["shade_grade"], facts["shade_kind"]) == ("uneven", "stripe")
    assert facts["shade_removable"] is None


def test_what_photos_say_together_stands_before_each_one():
    together = a_photo(grade="slightly-uneven")
    facts = facts_of(measured(a_photo(grade="uneven"), together=together))
    assert facts["shade_grade"] == "slightly-uneven"
    assert facts["shade_kind"] == "none"


def test_refused_photos_and_mock_ups_say_nothing():
    refused = measured(a_photo(grade="uneven").model_copy(update={"grade": None, "patches": None}))
    assert facts_of(refused, photo=[{"file": "a.jpg"}])["shade_grade"] is None
    photos = [{"file": "a.jpg", "shows": "mock-up"}]
    assert facts_of(measured(a_photo()), photo=photos)["shade_grade"] is None


def test_photos_after_preparation_take_the_place_of_older_ones():
    photos = [{"file": "a.jpg"}, {"file": "b.jpg", "shows": "after-preparation"}]
    evenness = measured(a_photo(grade="uneven"), a_photo(grade="even", photo="b.jpg"))
    assert facts_of(evenness, photo=photos)["shade_grade"] == "even"


@pytest.mark.parametrize(
    ("age", "answers", "grade", "removable"),
    [
        (59, {}, "uneven", True), (60, {}, "uneven", None), (60, {"wipe_changes_shade": True}, "uneven", True),
        (60, {"wipe_changes_shade": False}, "uneven", False), (59, {}, "even", False),
    ],
)  # fmt: skip
def test_marks_that_may_still_go(age, answers, grade, removable):
    import datetime

    pour = {"date": day("2026-09-21") - datetime.timedelta(days=age)}
    assert facts_of(measured(a_photo(grade=grade)), pour=pour, answers=answers)["shade_removable"] is removable


@pytest.mark.parametrize(
    ("light", "word"), [(37.9, "near-black"), (38, "dark"), (48, "medium"), (63.9, "medium"), (64, "pale")]
)
def test_color_depth_from_a_photo_with_a_card(light, word):
    photo = a_photo(grade="even").model_copy(update={"typical_lab": (light, 1, 2)})
    assert facts_of(measured(photo))["color_depth"] == word
    assert facts_of(measured(photo), answers={"color_depth": "dark"})["color_depth"] == "dark"
    guessed = photo.model_copy(update={"level": "assumed"})
    assert facts_of(measured(guessed))["color_depth"] is None


def test_a_step_of_shade_where_a_load_ends():
    side = a_patch("large-side", outline_ft=[(14.8, 0), (26, 0), (26, 18), (15.2, 18)], area_ft2=190)
    boundary = {"name": "first", "boundary": [[14.5, 0], [15.5, 18]]}
    assert facts_of(measured(a_photo(side)), load=[boundary])["shade_step_at_load_boundary"] is True
    elsewhere = {"name": "first", "boundary": [[5, 0], [5, 18]]}
    assert facts_of(measured(a_photo(side)), load=[elsewhere])["shade_step_at_load_boundary"] is False
    halves = [side.model_copy(update={"outline_ft": ((14.8, y), (26, y), (26, y + 7), (15.2, y + 7))}) for y in (0, 11)]
    assert facts_of(measured(a_photo(*halves)), load=[boundary])["shade_step_at_load_boundary"] is True
    assert facts_of(measured(a_photo(halves[0])), load=[boundary])["shade_step_at_load_boundary"] is False
    crossing = {"name": "first", "boundary": [[0, 4], [26, 4]]}
    assert facts_of(measured(a_photo(side)), load=[crossing])["shade_step_at_load_boundary"] is False
    assert facts_of(measured(a_photo(side)))["shade_step_at_load_boundary"] is None


def a_step(found: bool) -> LoadStep:
    return LoadStep(
        load="first",
        photo="a.jpg",
        length_ft=17,
        step_lightness=4,
        de00=4.1,
        error_lab=0.2,
        elsewhere_de00=0.3,
        found=found,
    )


def test_a_measured_step_goes_before_the_borders_of_marks():
    side = a_patch("large-side", outline_ft=[(14.8, 0), (26, 0), (26, 18), (15.2, 18)], area_ft2=190)
    load = [{"name": "first", "boundary": [[14.5, 0], [15.5, 18]]}]
    for steps, said in (([a_step(False), a_step(True)], True), ([a_step(False)], False)):
        evenness = compared(measured(a_photo(side)), load_steps=steps)
        assert facts_of(evenness, load=load)["shade_step_at_load_boundary"] is said


@pytest.mark.parametrize(("age", "removable"), [(70, True), (90, None)])
def test_marks_that_were_seen_to_fade_may_still_go(age, removable):
    import datetime

    pour = {"date": day("2026-09-21") - datetime.timedelta(days=age)}
    facts = facts_of(compared(measured(a_photo()), changes=[FADED]), pour=pour)
    assert (facts["shade_fades"], facts["shade_removable"]) == (True, removable)
    stays = FADED.model_copy(update={"fading": False})
    facts = facts_of(compared(measured(a_photo()), changes=[FADED, stays]), pour=pour)
    assert (facts["shade_fades"], facts["shade_removable"]) == (False, None)


def test_a_later_photo_of_a_place_takes_the_place_of_the_earlier_one():
    before, after = a_photo(grade="very-uneven", photo="before.jpg"), a_photo(grade="even")
    assert facts_of(measured(before, after))["shade_grade"] == "very-uneven"
    assert facts_of(compared(measured(before, after), changes=[FADED]))["shade_grade"] == "even"


def test_a_turned_photo_is_laid_on_the_plan():
    side = a_patch("large-side", outline_ft=[(0, 0), (18, 0), (18, 11), (0, 11)], area_ft2=190)
    photo = {"file": "a.jpg", "origin_on_plan": [26, 0], "turned_deg": 90}
    boundary = {"name": "first", "boundary": [[15, 1], [15, 17]]}
    assert facts_of(measured(a_photo(side)), load=[boundary], photo=[photo])["shade_step_at_load_boundary"] is True
    unturned = {**photo, "turned_deg": 0}
    assert facts_of(measured(a_photo(side)), load=[boundary], photo=[unturned])["shade_step_at_load_boundary"] is False


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


def test_cure_and_seal_is_clear_unless_something_is_listed_over_it():
    sealed = {"slab_curing": "cure-and-seal"}
    assert facts_of(pour=POUR, answers=sealed)["layers_down_color"] == "clear"
    tinted = [{"material": "acrylic", "color": "tinted"}]
    assert facts_of(pour=POUR, answers=sealed, layer_down=tinted)["layers_down_color"] == "tinted"
    assert facts_of(pour=OLD, answers=sealed)["layers_down_color"] is None
