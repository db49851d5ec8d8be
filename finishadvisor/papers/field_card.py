"""A blank field card to print before going out, with a guide to photographing the slab on its back."""

from collections.abc import Iterator, Sequence
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.blocks import (
    Block,
    Sheet,
    checks,
    facts,
    grid_paper,
    heading,
    new_page,
    picture,
    subheading,
    table,
    write_in,
)
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.due_tests import due_tests
from finishadvisor.papers.floor_plan import floor_plan
from finishadvisor.papers.places_of_tests import PlacesDue, places_of_tests
from finishadvisor.papers.quantities import in_units
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.whole import FloorOutcome, WholeJob

READING_ROWS: Final = 9
LOAD_ROWS: Final = 3
PHOTO_ROWS: Final = 4
SKETCH_IN: Final = 2.4
PLAN_ROOM_IN: Final = (5.0, 2.4)
READINGS: Final = (
    "slab_rh_pct",
    "emission_lb_per_1000ft2_24h",
    "sheet_test",
    "rinse_ph_difference",
    "absorption",
    "scratch_hardness_mohs",
    "sounding",
    "layers_down_bonded",
    "surface_profile_csp",
    "pull_off_psi",
)
"""Facts that are read off the slab, in the order of the work; the card has a line for each reading still due."""
PREPARE: Final = (
    "Sweep, damp-mop, and let the slab dry overnight with no feet on it. Edges and sun strips dry first; low spots and "
    "the "
    "halos of saw cuts stay dark.",
    "Damp-wipe a square of 2 x 2 ft in a pale and in a dark spot and let it dry. If its shade changed, it is dirt or "
    "salt: clean, "
    "then begin again.",
    "Leave one patch wet for the sealed look, and mark it on this card.",
    "Block sun patches and beams through doors. All lamps off, or all on. Take off a bright vest; mind tarps and brick "
    "walls.",
    "Lay a gray card in the middle and at the corners; indoors one at the wall and one 3 ft in, since the "
    "hand-troweled band "
    "along walls looks like wall light.",
)
SHOOT: Final = (
    "Stand 8 ft or higher: ladder or stairs. Over 15 ft shoot bay by bay, each with some of the next and a card in "
    "both.",
    "All four corners in the frame, the view not flatter than about 20 degrees, no shadow of your own.",
    "1x lens, no flash, no night mode, no filter. Tap the slab to set focus and exposure; nothing of it may be blown "
    "out.",
    "Twice, from opposite ends: what turns over between the two is sheen, not shade.",
    "Write photo number, origin corner and sides on the front. Keep the original file; do not send it through a "
    "messenger.",
)
AFTER: Final = (
    "Note what is no slab, or comes off: chalk, pencil, tape ghosts, slurry, footprints, rust, tires, mud, glue, oil, "
    "leaves.",
    "Thin dark curved or branching lines are the fault itself: leave only joints and cracks out.",
    "After cleaning or grinding photograph again: preparation makes another floor.",
)


def field_card(whole: WholeJob, outcome: FloorOutcome) -> Sheet:
    """Return the card of one floor, two pages: front to fill in, back to read."""
    floor = outcome.floor
    due = due_tests(outcome, whole.catalog)
    where = places_of_tests(outcome, due)
    plan = floor_plan(floor, whole.job.units, tests=where.marks, room_in=PLAN_ROOM_IN)
    blocks: list[Block] = [
        write_in(["Date", "By", "Weather", "Air", "RH", "Slab"], columns=3),
        heading("Plan"),
        _plan(floor.name) if plan else grid_paper(SKETCH_IN),
        facts([
            ("Origin corner", (floor.outline.origin if floor.outline else "") or "________________________________"),
            ("x runs", (floor.outline.x_direction if floor.outline else "") or "________________________________"),
        ]),
        heading("Readings"),
        table(
            ("No.", "Test", "Place x, y", "Depth", "Value", "Time", "Remarks"),
            _reading_rows(whole.catalog, due, where),
            shares=(0, 1.8, 1, 0.7, 0.8, 0.8, 1.4),
            tall=True,
        ),
        new_page(),
        *_loads_and_photos("m × m" if whole.job.units == "metric" else "ft × ft"),
        *_guide(whole.job.units),
    ]
    answer = "Fill in on the slab, with a pencil; type it into the job in the evening."
    return Sheet(
        f"{floor.name}: field card", answer, blocks, foot(whole, floor.name), {"plan.svg": plan} if plan else {}
    )


def _loads_and_photos(size: str) -> Iterator[Block]:
    yield heading("Truck loads")
    yield table(
        ("Load", "Time", "Slump", "Water added", "Pump, chute", "Finisher, weather", "Ends at x, y"),
        [(str(number), "", "", "", "", "", "") for number in range(1, LOAD_ROWS + 1)],
        shares=(0, 1, 1, 1, 1, 1.6, 1),
        tall=True,
    )
    yield heading("Photos")
    yield table(
        ("Photo no.", f"Sides, {size}", "Origin corner at x, y", "Cards at", "Left out, wet"),
        [("", "", "", "", "") for _ in range(PHOTO_ROWS)],
        shares=(1, 1.2, 1.2, 1, 1.4),
        tall=True,
    )


def _reading_rows(catalog: Catalog, due: Sequence[OpenFact], where: PlacesDue) -> list[tuple[str, ...]]:
    """Return a line for each reading that is still due, with its test and place, then empty ones."""
    asked = {fact.fact for fact in due}
    rows: list[tuple[str, str]] = []
    for fact in (fact for fact in READINGS if fact in asked):
        marks = [mark.label for mark in where.marks if mark in where.marks_of.get(fact, ())]
        rows += [(catalog.facts[fact].label, label) for label in marks or [""]]
    rows = rows[:READING_ROWS] + [("", "")] * (READING_ROWS - len(rows))
    return [(str(number), test, place, "", "", "", "") for number, (test, place) in enumerate(rows, start=1)]


def _guide(units: str) -> Iterator[Block]:
    yield heading("How to photograph the slab")
    for title, lines in (("Before", PREPARE), ("The photo", SHOOT), ("After", AFTER)):
        yield subheading(title)
        yield checks(in_units(line, units) for line in lines)


def _plan(name: str) -> Block:
    return picture(
        "plan.svg",
        f"Plan of {name} to scale, to mark places on",
        caption="To scale. Dot: origin corner. T, B, D and P: where the tests below go.",
    )
