"""Facts that follow from readings, layers, truck loads and mock-ups."""

import pytest

from tests.advice.floors import day, facts_of, reading

POUR = {"date": day("2026-07-27")}
OLD = {"date": day("2025-07-27")}

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


def test_cure_and_seal_is_clear_unless_something_is_listed_over_it():
    sealed = {"slab_curing": "cure-and-seal"}
    assert facts_of(pour=POUR, answers=sealed)["layers_down_color"] == "clear"
    tinted = [{"material": "acrylic", "color": "tinted"}]
    assert facts_of(pour=POUR, answers=sealed, layer_down=tinted)["layers_down_color"] == "tinted"
    assert facts_of(pour=OLD, answers=sealed)["layers_down_color"] is None
