"""29 CFR 1926.1153, Table 1: row (xi), 25 cfm per inch of wheel, APF 10 indoors over 4 h; row (xii), no respirator.

Limits of (c): 50 µg/m³ over 8 h, action level 25 µg/m³. Surveillance by (h): a respirator on 30 days a year.
"""

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.formulas import dust

CATALOG = load_catalog()
GROUND_BY_MACHINE = sorted(
    item.id for item in CATALOG.work_items.values() if "silica-floor-grinder" in item.cautions
)  # fmt: skip


@pytest.mark.parametrize(("wheel_in", "cfm"), [(5, "125"), (7, "175")])
def test_airflow(wheel_in, cfm, printed):
    assert dust.hand_grinder_airflow_cfm(wheel_in) == printed(cfm)


@pytest.mark.parametrize(("hours", "indoors", "factor"), [(5, True, 10), (4, True, 0), (5, False, 0)])
def test_respirator(hours, indoors, factor):
    assert dust.hand_grinder_protection_factor(hours, indoors=indoors) == factor


@pytest.mark.parametrize("task", GROUND_BY_MACHINE)
def test_a_floor_grinder_with_its_collector_asks_for_no_respirator_however_long(task):
    assert "half-mask-respirator" not in CATALOG.work_items[task].ppe


def test_floor_grinders_are_there():
    assert {"grind-light", "grind-csp-2-3", "polish-metal-40", "polish-resin-400"} <= set(GROUND_BY_MACHINE)


@pytest.mark.parametrize(
    ("caution", "words"),
    [
        ("silica-floor-grinder", "99 % filter and filter cleaning; then no respirator"),
        ("silica-floor-grinder", "Indoors vacuum loose dust with a HEPA filter between passes"),
        ("silica-floor-grinder", "50 µg/m³ over 8 h, action from 25"),
        (
            "silica-hand-grinder",
            "25 cubic feet per minute for each inch of wheel, so 125 cubic feet per minute at 5 in",
        ),
        ("silica-hand-grinder", "Indoors over 4 h a shift also a respirator of APF 10"),
        ("silica-sand", "30 days a year or more has a right to medical surveillance"),
    ],
)
def test_the_cautions_hold_the_figures_of_the_rule(caution, words):
    assert words in CATALOG.cautions[caution].sentence
    assert CATALOG.cautions[caution].source.id == "osha-1926-1153"
