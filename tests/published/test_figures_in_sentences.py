"""Figures that rules, cautions and work items tell in words; each row names the document that they stand in.

Where the catalog says that a row is from memory, nobody has read the figure in the document.
"""

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.units import (
    grams_per_liter_from_pounds_per_gallon,
    kilograms_per_square_meter_from_pounds_per_square_foot,
)

CATALOG = load_catalog()
RULES = {**CATALOG.rules, **CATALOG.cause_rules}


@pytest.mark.parametrize(
    ("rule", "figure", "source"),
    [
        # 40 CFR 59, Subpart D, Table 1, g/L: sealers 600 and floor coatings 400 from memory, 700 as a guide restates it
        ("us-national-clear-sealer", "600 g/L", "cfr-40-59"),
        ("us-national-cure-and-seal", "700 g/L", "cfr-40-59"),
        ("us-national-floor-coating", "400 g/L", "cfr-40-59"),
        # OTC model rule, phase II, from memory
        ("otc-clear-sealer", "100 g/L", "otc-phase-2"),
        ("otc-curing-compound", "350 g/L", "otc-phase-2"),
        ("otc-floor-coating", "100 g/L", "otc-phase-2"),
        ("otc-clear-urethane", "250 g/L", "otc-phase-2"),
        # South Coast Rule 1113 as amended in February 2016, from memory
        ("south-coast-clear-sealer", "100 g/L", "scaqmd-1113"),
        ("south-coast-floor-coating", "50 g/L", "scaqmd-1113"),
        ("south-coast-clear-urethane", "100 g/L", "scaqmd-1113"),
        ("repellent-limits", "350 g/L", "scaqmd-1113"),
        ("stain-limits", "250 g/L (100 outdoors in South Coast)", "scaqmd-1113"),
        # ANSI A326.3-2021, classes from memory: interior wet 0.42, oils and greases 0.55
        ("polish-often-wet", "wet DCOF 0.42", "ansi-a326-3"),
        ("oil-on-smooth-film", "0.55", "ansi-a326-3"),
        # UFGS 03300N after ACI 305R: evaporation above 0.2 lb/ft² an hour
        ("drying-wind-and-sun", "0.2 lb/ft² an hour", "ufgs-03300"),
        # NCHRP Report 244, Series II: no more than 25 % of the water of the control
        ("repellent-against-salt", "a quarter of the water", "nchrp-244"),
        # NRMCA CIP 29: film of 10 mil or more, directly under the slab
        ("plan-retarder-for-film", "10 mil or more right under the slab", "nrmca-cip29"),
        # ACI 302.2R-06 after Brewer 1965
        ("wet-mix-dries-slowly", "82 days to dry on a retarder and 144 without", "aci-302-2r"),
        # Hedenblad 1997 as restated: 28 to 30 days an inch
        ("thick-slab-dries-slowly", "a month of drying for each inch", "hedenblad-1997"),
        # ACI 201.2R and 302.1R, from memory: 30 days of drying in air before deicers
        ("first-salt-too-soon", "30 days of drying in air", "aci-302-1r"),
        # ASTM C979, 1.4
        ("pigment-over-the-cap", "10 % pigment by mass of cement", "astm-c979"),
    ],
)
def test_a_rule_tells_the_figure_of_its_document(rule, figure, source):
    assert figure in RULES[rule].because
    assert RULES[rule].source.id == source


@pytest.mark.parametrize(
    ("caution", "figure", "source"),
    [
        # 29 CFR 1910.1000, Table Z-1: 50 ppm; NIOSH 1972: 35 ppm over a shift, ceiling 200
        ("carbon-monoxide", "Limit 50 ppm over 8 h; recommended 35, never over 200", "osha-1910-1000"),
        # ANSI A10.10 as restated with 29 CFR 1926.154: carbon monoxide at the start of the shift and after 4 h
        ("carbon-monoxide", "at the start of the shift and again after 4 h", "osha-1910-1000"),
        # NIOSHTIC 20045100: 35 µg/m³ of HDI over a shift; latex is not enough
        ("isocyanates", "35 µg/m³ over a shift", "nioshtic-20045100"),
        ("isocyanates", "latex is not enough", "nioshtic-20045100"),
        # 29 CFR 1910.1000, Table Z-1, ceiling from memory; OSHA letter of 1996 on its poor warning
        ("mdi-little-warning", "ceiling is 0.02 ppm", "osha-letter-1996-06-13"),
        # ANSI A326.3-2021, classes from memory
        ("slippery-wet", "0.42 inside, 0.50 where it is wet often, and 0.55 outside", "ansi-a326-3"),
        # ANSI/NFSI B101.1 and B101.3, from memory
        ("slip-scales", "0.60 and more is high traction, 0.40 to 0.59 moderate, below 0.40 low", "ansi-nfsi-b101"),
        ("slip-scales", "0.42 on the level and 0.45 on a slope", "ansi-nfsi-b101"),
        # UK HSE as restated: roughness Rz
        ("slip-pendulum", "Rz above 20 µm is low, 10 to 20 moderate, below 10 high", "hse-slip"),
        # UFC 3-190-06, 7.2 and 7.4.1
        ("keep-from-freezing", "50 to 85 °F, and bring cold cans in 24 h before", "ufc-3-190-06"),
    ],
)
def test_a_caution_tells_the_figure_of_its_document(caution, figure, source):
    assert figure in CATALOG.cautions[caution].sentence
    assert CATALOG.cautions[caution].source.id == source


@pytest.mark.parametrize(
    ("item", "figure"),
    [
        # ASTM F2170 as restated: service conditions 48 h before, depth 40 or 20 %, probe checked within 30 days
        ("test-slab-rh", "service conditions for 48 h"),
        ("test-slab-rh", "40 % of the thickness where the slab dries from the top only, to 20 %"),
        ("test-slab-rh", "(24 h; 72 h in the 2009 issue)"),
        ("test-slab-rh", "checked within 30 days"),
        # ASTM F1869-11: patch of 20 x 20 in vented for 24 h, dish out for 60 to 72 h
        ("test-calcium-chloride", "20 x 20 in clean and let it breathe for 24 h"),
        ("test-calcium-chloride", "60 to 72 h"),
        # ASTM D4262, 6.2
        ("test-ph", "two readings for every 500 ft²"),
        # ASTM D4263: 18 x 18 in, 4 mil, at least 16 h, out of direct sun
        ("test-plastic-sheet", "18 x 18 in square of clear 4 mil polyethylene"),
        ("test-plastic-sheet", "out of direct sun"),
        ("test-plastic-sheet", "at least 16 h"),
        # ICRI 210.3R, from memory: 200 psi or a break in the concrete
        ("test-pull-off", "200 psi or a break in the concrete"),
        # SSPC-SP 13, Table 1, from memory
        ("neutralize-rinse", "within 1 below and 2 above"),
    ],
)
def test_a_test_is_made_as_its_standard_says(item, figure):
    assert any(figure in step for step in CATALOG.work_items[item].steps)


@pytest.mark.parametrize(
    ("pounds_per_gallon", "grams_per_liter"), [("2.9", 350), ("5.8", 700), ("3.3", 400), ("6.5", 780), ("4.6", 550)]
)
def test_limits_of_the_national_rule_in_both_units(pounds_per_gallon, grams_per_liter, printed):
    # 40 CFR 59, Table 1, prints pounds per gallon in brackets, to one decimal.
    assert grams_per_liter / grams_per_liter_from_pounds_per_gallon(1) == printed(pounds_per_gallon)


def test_evaporation_in_both_units(printed):
    # ACI 305R as UFGS 03300N prints it: 0.2 lb/ft² an hour, 1 kg/m² an hour.
    assert kilograms_per_square_meter_from_pounds_per_square_foot(0.2) == printed("1")


def test_cure_and_seal_is_dry_in_4_h_and_walked_on_after_12():
    # Iowa DOT 4105: dry in 4 h, walk-on 12 h.
    point = next(row for row in CATALOG.materials["cure-and-seal-acrylic"].cure if row.slab_f == 77)
    assert (point.recoat_min_h, point.foot_h) == (4, 12)


@pytest.mark.parametrize("sentence", ["within 3 h", "no vehicles for 72 h"])
def test_cure_and_seal_in_the_rain(sentence):
    # UFGS 03311: sprayed again when rained on within 3 h, no traffic for 72 h.
    assert any(sentence in line for line in CATALOG.finishes["cure-and-seal"].before_the_pour)
