"""Conditions in words, as a client reads them."""

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.rules.conditions import describe, describe_not

FACTS = load_catalog().facts


@pytest.mark.parametrize(
    ("when", "holds", "holds_not"),
    [
        ({"slab_rh_pct": {"at_least": 80}}, "slab RH is at least 80 %", "slab RH is below 80 %"),
        ({"age_days": {"below": 28}}, "the slab is younger than 28 days", "the slab is at least 28 days old"),
        ({"slope_pct": {"above": 5}}, "slope is above 5 %", "slope is at most 5 %"),
        (
            {"pull_off_psi": {"at_least": 100, "below": 200}},
            "pull-off strength is at least 100 psi and below 200 psi",
            "pull-off strength is below 100 psi or at least 200 psi",
        ),
        (
            {"emission_lb_per_1000ft2_24h": {"above": 3}},
            "the calcium chloride test reads more than 3 lb per 1000 ft² in 24 h",
            "the calcium chloride test reads no more than 3 lb per 1000 ft² in 24 h",
        ),
        (
            {"rinse_ph_difference": {"above": 2}},
            "the rinse reads more than 2 pH above the rinse water",
            "the rinse reads no more than 2 pH above the rinse water",
        ),
        ({"absorption": "low"}, "water beads on the slab", "water drops soak into the slab"),
        ({"white_salts": ["haze", "returning"]}, "white salts lie on the slab", "no white salts lie on the slab"),
        ({"building_year": {"below": 1980}}, "year built is below 1980", "year built is at least 1980"),
        ({"sheet_test": "damp"}, "a taped plastic sheet comes up damp", "a taped plastic sheet comes up dry"),
        ({"place": "outdoors"}, "the floor lies outdoors", "the floor lies under a roof"),
        ({"layers_down": "none"}, "nothing lies on the slab", "something lies on the slab"),
        ({"layers_down": "unknown"}, "something unknown lies on the slab", "it is known what lies on the slab"),
        (
            {"layers_down_coats": {"at_least": 4}},
            "4 coats or more lie on the slab",
            "fewer than 4 coats lie on the slab",
        ),
        ({"age_days": {"at_most": 1}}, "the slab is no older than 1 day", "the slab is older than 1 day"),
        ({"cracks": "hairline"}, "cracks are hairline", "cracks are not hairline"),
        (
            {"voc_rules": "us-national"},
            "the national VOC rules hold",
            "VOC rules are none, OTC phase II or South Coast",
        ),
        (
            {"surface": ["stamped", "rock-salt"]},
            "surface is stamped or rock salt",
            "surface is neither stamped nor rock salt",
        ),
        ({"vapor_retarder": False}, "no vapor retarder lies under the slab", "a vapor retarder lies under the slab"),
        (
            {"not": {"vapor_retarder": True}},
            "no vapor retarder lies under the slab",
            "a vapor retarder lies under the slab",
        ),
        (
            {"sun": "full", "heat_in_slab": True},
            "the floor lies in full sun and the slab is heated",
            "the floor does not lie in full sun or the slab is not heated",
        ),
        (
            {"any_of": [{"sun": "full"}, {"heat_in_slab": True}]},
            "the floor lies in full sun or the slab is heated",
            "the floor does not lie in full sun and the slab is not heated",
        ),
    ],
)
def test_condition_reads_as_a_sentence(when: dict[str, object], holds: str, holds_not: str) -> None:
    assert describe(when, FACTS) == holds
    assert describe_not(when, FACTS) == holds_not
