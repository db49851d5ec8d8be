"""Conditions in words, as a client reads them."""

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.rules.conditions import describe, describe_not

FACTS = load_catalog().facts


@pytest.mark.parametrize(
    ("when", "holds", "holds_not"),
    [
        ({"slab_rh_pct": {"at_least": 80}}, "slab RH is at least 80 %", "slab RH is below 80 %"),
        ({"age_days": {"below": 28}}, "slab age is below 28 days", "slab age is at least 28 days"),
        ({"slope_pct": {"above": 5}}, "slope is above 5 %", "slope is at most 5 %"),
        (
            {"pull_off_psi": {"at_least": 100, "below": 200}},
            "pull-off strength is at least 100 psi and below 200 psi",
            "pull-off strength is below 100 psi or at least 200 psi",
        ),
        ({"building_year": {"below": 1980}}, "year built is below 1980", "year built is at least 1980"),
        ({"sheet_test": "damp"}, "plastic sheet test is damp", "plastic sheet test is dry"),
        ({"place": "outdoors"}, "place is outdoors", "place is indoors or covered"),
        ({"layers_down": "none"}, "layer on the slab is absent", "layer on the slab is not absent"),
        ({"layers_down": "unknown"}, "layer on the slab is of unknown kind", "layer on the slab is known"),
        ({"layers_down_coats": {"at_least": 4}}, "coats on the slab are at least 4", "coats on the slab are below 4"),
        ({"age_days": {"at_most": 1}}, "slab age is at most 1 day", "slab age is above 1 day"),
        ({"cracks": "hairline"}, "cracks are hairline", "cracks are not hairline"),
        ({"voc_rules": "us-national"}, "VOC rules are US national", "VOC rules are none, OTC phase II or South Coast"),
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
            "sun on the floor is full and the slab is heated",
            "sun on the floor is none or part, or the slab is not heated",
        ),
        (
            {"any_of": [{"sun": "full"}, {"heat_in_slab": True}]},
            "sun on the floor is full or the slab is heated",
            "sun on the floor is none or part, and the slab is not heated",
        ),
    ],
)
def test_condition_reads_as_a_sentence(when: dict[str, object], holds: str, holds_not: str) -> None:
    assert describe(when, FACTS) == holds
    assert describe_not(when, FACTS) == holds_not
