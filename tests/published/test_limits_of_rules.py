"""Limits that documents print, as the rules and rows of the catalog hold them; each check names its document.

Read in the documents or in restatements of them; what the catalog marks as from memory is marked so here too.
"""

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.evenness.gate import judge_days
from finishadvisor.rules.conditions import truth

CATALOG = load_catalog()
RULES = {**CATALOG.rules, **CATALOG.cause_rules}


def met(rule_id, **facts):
    return truth(RULES[rule_id].when, facts)


@pytest.mark.parametrize(("percent", "over"), [(10, False), (11, True)])
def test_pigment_at_most_ten_percent_of_the_cement(percent, over):
    """ASTM C979, 1.4: at most 10 % by mass of cement."""
    assert met("pigment-over-the-cap", pigment_pct_of_cement=percent) is over
    assert RULES["pigment-over-the-cap"].source.id == "astm-c979"


def test_no_flame_in_reach_of_a_sealer_that_flashes_in_the_cold():
    """NIOSH FACE 05MA044: sealer with a flash point of 9 °F lit by a pilot; above 100 °F is advised indoors."""
    fire = {"place": "indoors", "ignition_sources": "cannot-be-put-out"}
    assert met("flames-that-stay-lit", **fire) is True
    assert met("flames-out-first", **{**fire, "ignition_sources": "can-be-put-out"}) is True
    flashes = {
        row.id: row.flash_point_f
        for row in CATALOG.materials.values()
        if row.flash_point_f is not None and row.flash_point_f <= 100
    }
    assert min(flashes.values()) <= 9
    unwarned = [id_ for id_ in flashes if "flammable-solvent" not in CATALOG.materials[id_].cautions]
    assert unwarned == []
    assert "100 °F" in CATALOG.cautions["flammable-solvent"].sentence


@pytest.mark.parametrize(("days", "young"), [(20, True), (27, True), (28, False)])
def test_shade_is_judged_at_28_days(days, young):
    """Austrian guideline on exposed concrete, A.1.2: at least 28 days old, evenly dry."""
    assert met("too-young-to-judge", age_days=days) is young
    assert CATALOG.limits["shade-check-age-days"].value == 28


@pytest.mark.parametrize(("days_old", "days_dry", "told"), [(20, 30, "young-slab"), (40, 1, "wetted-lately")])
def test_a_photo_of_a_young_or_damp_slab_says_so(days_old, days_dry, told):
    """The same guideline and paragraph: a shade check at 20 days, or on a damp slab, is not valid."""
    assert [caveat.value for caveat in judge_days(days_old, days_dry)] == [told]
    assert met("sheet-shows-damp", shade_marks_tone="darker", sheet_test="damp") is True
    assert judge_days(28, 30) == []


@pytest.mark.parametrize(("percent", "wet"), [(79, False), (80, True)])
def test_relative_humidity_of_sp13(percent, wet):
    """SSPC-SP 13/NACE No. 6, Table 1 (from memory): 80 % relative humidity."""
    assert met("slab-rh-too-high", slab_rh_pct=percent) is wet
    assert met("slab-rh-wants-a-barrier", slab_rh_pct=percent) is wet


@pytest.mark.parametrize(("pounds", "wet"), [(3, False), (4, True)])
def test_emission_of_sp13(pounds, wet):
    """SSPC-SP 13/NACE No. 6, Table 1 (from memory): 3 lb per 1000 ft² in 24 h."""
    told = {"pour_ahead": False, "slab_rh_pct": 77}
    assert met("emission-too-high", emission_lb_per_1000ft2_24h=pounds, **told) is wet


@pytest.mark.parametrize(("psi", "weak"), [(199, True), (200, False)])
def test_surface_tension_of_sp13(psi, weak):
    """SSPC-SP 13/NACE No. 6, Table 1 (from memory): 200 psi in light service."""
    assert met("pull-off-low-anyway", pull_off_psi=psi) is weak


@pytest.mark.parametrize(("difference", "right"), [(-2, False), (-1, True), (2, True), (3, False)])
def test_rinse_of_sp13(difference, right):
    """SSPC-SP 13/NACE No. 6, Table 1 (from memory): no more than 1 below or 2 above the rinse water."""
    low = met("acid-left-behind", rinse_ph_difference=difference)
    high = met("rinse-alkaline-elsewhere", rinse_ph_difference=difference)
    assert (low or high) is not right


@pytest.mark.parametrize(("days", "early"), [(29, True), (30, False)])
def test_liquid_hardener_after_a_membrane(days, early):
    """UFGS 03300N, p. 45: liquid hardener on membrane-cured slabs only after 30 days."""
    wait = met("densifier-on-a-membrane-cured-slab", slab_curing="resin-compound", age_days=days)
    assert wait is early
    layers = CATALOG.finishes["densified"].layers
    assert [layer.coats for layer in layers] == [2]  # "at least two coats"


@pytest.mark.parametrize(("days", "wet"), [(1, True), (2, False)])
def test_penetrating_sealer_48_hours_after_rain(days, wet):
    """UFGS 07190, 2.3.4 with highway practice: dry for 48 h after rain or washing."""
    assert met("penetrant-on-a-wet-slab", pour_ahead=False, days_since_wetting=days) is wet
    assert CATALOG.limits["repellent-dry-hours"].value == 48


@pytest.mark.parametrize(
    ("rule_id", "fact", "allowed", "refused"),
    [
        ("water-cement-high-for-frost", "water_cement_ratio", 0.45, 0.46),
        ("water-cement-high-for-salt", "water_cement_ratio", 0.40, 0.41),
        ("strength-low-for-salt", "strength_psi", 4500, 4499),
    ],
)
def test_exposure_classes_f2_and_f3(rule_id, fact, allowed, refused):
    """ACI 318-19, Table 19.3.2.1 (from memory): F2 0.45; F3 0.40, plain concrete 0.45 and 4500 psi."""
    salted = {"place": "outdoors", "winter": "frost-and-salt"}
    assert met(rule_id, **salted, **{fact: allowed}) is False
    assert met(rule_id, **salted, **{fact: refused}) is True


def test_a_salted_driveway_gets_silane_first_and_no_tight_film():
    """ACI 332-14, R5.2: driveways, steps and porches are RF3; what follows for the finish is common practice."""
    driveway = {"place": "outdoors", "winter": "frost-and-salt"}
    assert met("repellent-against-salt", **driveway) is True
    assert met("tight-film-that-freezes", **driveway) is True
    assert RULES["bare-slab-with-salt"].source.id == "aci-332"
    assert RULES["bare-slab-with-salt"].source.clause == "R5.2"


def test_no_more_than_three_percent_air_under_a_hard_trowel():
    """ACI 302.1R (from memory): total air of hard-troweled floors 3 % or less."""
    troweled = {"pour_ahead": True, "surface": "hard-steel-trowel"}
    assert met("air-or-trowel", **troweled, air_content_pct=3) is False
    assert met("air-or-trowel", **troweled, air_content_pct=3.5) is True


@pytest.mark.parametrize(("drying_on", "slow"), [(82, True), (143, True), (144, False)])
def test_a_wet_mix_dries_for_82_to_144_days(drying_on, slow):
    """ACI 302.2R-06 after Brewer 1965: 0.50, 4 in: 82 days on a vapor barrier, 144 with vapor from below."""
    assert met("wet-mix-dries-slowly", water_cement_ratio=0.5, age_days=drying_on) is slow


def test_spread_of_a_curing_and_sealing_compound():
    """ASTM C1315, restated: 300 ft²/gal Type I, 200 ft²/gal Type II."""
    spread = CATALOG.materials["cure-and-seal-acrylic"].spread_ft2_per_unit
    assert spread.medium.expected == 300
    assert spread.high.low <= 200 <= spread.high.high


def test_silane_on_decks_lasts():
    """ODOT SP&R 2229: depth met by all decks at 12 years; at least six years are quoted elsewhere."""
    years = CATALOG.finishes["repellent"].upkeep.recoat_years
    assert years.expected == 6
    assert years.high == 12


@pytest.mark.parametrize("band", ["36 and more is low", "25 to 35 moderate", "below 25 high"])
def test_pendulum_bands(band):
    """UK HSE, slip resistance of flooring, restated: 0 to 24 high, 25 to 35 moderate, 36 and up low slip potential."""
    assert band in CATALOG.cautions["slip-pendulum"].sentence
