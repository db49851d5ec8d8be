"""Tests of the slab that are still due, how many, and where on the plan they go."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.errors import EntryError
from finishadvisor.formulas.slab_tests import COUNT_RULES
from finishadvisor.job.document import Outline
from finishadvisor.job.outline import floor_polygon
from finishadvisor.papers.floor_plan import MarkedPlace
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.whole import FloorOutcome

if TYPE_CHECKING:
    from shapely import Point

COUNTED_BY: Final = {
    "slab_rh_pct": "f2170-holes",
    "emission_lb_per_1000ft2_24h": "f1869-kits",
    "ph": "d4262-readings",
    "sheet_test": "d4263-sheets",
}
"""By fact: the published rule that says how many readings a floor of some area takes."""
FROM_EDGE_FT: Final = 2.0
SPACING: Final = 12
"""Candidate places along the longer side; fine enough for a pencil cross."""
MOST_PLACES: Final = 24


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


def spread_places(outline: Outline, number: int) -> tuple[MarkedPlace, ...]:
    """Return places spread over a floor, the first near the edge at the origin, labeled T1, T2, ...

    Each further place is the one farthest from all before it; common practice, no source.
    """
    candidates = list(_candidates(outline))
    if not candidates or number < 1:
        return ()
    x0, y0 = (min(getattr(point, axis) for point in candidates) for axis in "xy")
    chosen = [min(candidates, key=lambda point: (point.x - x0) + (point.y - y0))]
    while len(chosen) < min(number, MOST_PLACES, len(candidates)):
        chosen.append(max(candidates, key=lambda point: min(point.distance(other) for other in chosen)))
    return tuple(MarkedPlace(point.x, point.y, f"T{n}") for n, point in enumerate(chosen, start=1))


def places_due(outcome: FloorOutcome, due: Sequence[OpenFact]) -> tuple[MarkedPlace, ...]:
    """Return the places for the counted test that takes the most readings; the other tests go to the same places."""
    if outcome.floor.outline is None or outcome.works is None:
        return ()
    most = max((number_of(fact.fact, outcome.works.area_ft2) or 0 for fact in due), default=0)
    return spread_places(outcome.floor.outline, most)


def _candidates(outline: Outline) -> "Iterator[Point]":
    from shapely import Point

    try:
        floor = floor_polygon(outline)
    except EntryError:
        return
    inner = floor.buffer(-FROM_EDGE_FT)
    area = floor if inner.is_empty else inner
    x0, y0, x1, y1 = area.bounds
    pace = max(x1 - x0, y1 - y0) / SPACING or 1.0
    for row in range(int((y1 - y0) / pace) + 1):
        for column in range(int((x1 - x0) / pace) + 1):
            point = Point(x0 + column * pace, y0 + row * pace)
            if area.covers(point):
                yield point
