"""Tests of the slab that are still due, and how many readings each takes."""

from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.formulas.slab_tests import COUNT_RULES
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.whole import FloorOutcome

COUNTED_BY: Final = {
    "slab_rh_pct": "f2170-holes",
    "emission_lb_per_1000ft2_24h": "f1869-kits",
    "rinse_ph_difference": "d4262-readings",
    "sheet_test": "d4263-sheets",
}
"""By fact: the published rule that says how many readings a floor of some area takes."""


def due_tests(outcome: FloorOutcome, catalog: Catalog) -> tuple[OpenFact, ...]:
    """Return the open questions about the chosen finish that only a test on the slab answers."""
    return tuple(
        open_fact
        for open_fact in outcome.advice.find_out_next
        if catalog.facts[open_fact.fact].kind == "gate"
        and (outcome.finish is None or outcome.finish in open_fact.could_change)
    )


def number_of(fact: str, area_ft2: float) -> int | None:
    """Return how many readings a test takes on a floor, None where no rule counts it."""
    rule = COUNTED_BY.get(fact)
    return COUNT_RULES[rule](area_ft2) if rule and area_ft2 > 0 else None
