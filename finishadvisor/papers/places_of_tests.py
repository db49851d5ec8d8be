"""Where on a floor each test goes, in words and as marks on the plan: common practice, no source, save the counts."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from finishadvisor.errors import EntryError
from finishadvisor.job.document import Photo
from finishadvisor.job.drawn import Outline
from finishadvisor.job.outline import floor_polygon
from finishadvisor.papers.due_tests import number_of
from finishadvisor.papers.floor_plan import MarkedPlace
from finishadvisor.papers.wording import counted
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.evenness import Patch
from finishadvisor.records.whole import FloorOutcome

if TYPE_CHECKING:
    from shapely import Point
    from shapely.geometry.base import BaseGeometry

FROM_EDGE_FT: Final = 2.0
FROM_JOINT_FT: Final = 1.0
SPACING: Final = 12
"""Candidate places along the longer side; fine enough for a pencil cross."""
MOST_PLACES: Final = 24
BOND_PLACES: Final = 3
"""At least three (ASTM D7234, from memory)."""

WHOLE_FLOOR: Final = "the whole floor"
NO_PLACE: Final = "no place on the floor: ask, or look it up"
ON_PHOTO: Final = "the whole floor, by photo"
SHADE: Final = ("shade_", "two_", "light_")
"""How the ids of facts begin that a photo answers."""
_BARE: Final = "a corner out of sight, and the path walked or driven most"
WHERE: Final = {
    "age_days": NO_PLACE,
    "days_since_wetting": NO_PLACE,
    "heating_cycle_done": NO_PLACE,
    "label_within_voc_limit": NO_PLACE,
    "moisture_readings_stale": NO_PLACE,
    "ignition_sources": "this room and the rooms beside and below it",
    "layers_down": _BARE,
    "layers_down_color": _BARE,
    "layers_down_coats": _BARE,
    "layers_down_bonded": "an edge, the path walked or driven most, and a place between",
    "tubes_located": WHOLE_FLOOR,
    "scaling": "the whole floor, low places and drip lines first",
    "hydrostatic_pressure": "joints, cracks and the foot of the walls",
    "sounding": "the whole floor; corners, joints and cracks first",
    "surface_profile_csp": "{bond}, and one along an edge that was ground by hand",
    "pull_off_psi": "{bond}, off edges, joints and cracks, after preparation",
    "absorption": "{dark}, {pale}, and the path walked or driven most",
    "scratch_hardness_mohs": "{pale}, the path walked or driven most, and a place beside an edge",
    "wipe_changes_shade": "{dark} and {pale}",
    "shade_removable": "{dark} and {pale}",
    "mock_up_signed": "one place that holds pale and dark, where it will be covered or redone",
}
"""By fact; a fact that is not named here is looked for on the whole floor. {dark}, {pale} and {bond} become marks."""


@dataclass(frozen=True)
class PlacesDue:
    """Where the tests that are due go: words and marks for each fact, and every mark on the plan."""

    words: dict[str, str]
    marks: tuple[MarkedPlace, ...]
    marks_of: dict[str, tuple[MarkedPlace, ...]]


def places_of_tests(outcome: FloorOutcome, due: Sequence[OpenFact]) -> PlacesDue:
    """Return where each due test goes on a floor.

    The tests of which a published rule counts the readings share the places T1, T2, ...; D and P are the darkest and
    the palest patch that the photos show, B1, B2, ... places for pulls and profile.
    """
    outline, facts = outcome.floor.outline, [fact.fact for fact in due]
    area = outcome.works.area_ft2 if outcome.works else 0.0
    numbers = {fact: number for fact in facts if (number := number_of(fact, area)) is not None}
    spread = spread_places(outline, max(numbers.values(), default=0)) if outline else ()
    dark, pale = (_patch_mark(outcome, outline, label) for label in "DP")
    bond = spread_places(outline, BOND_PLACES, "B") if outline else ()
    patterns = {
        fact: WHERE.get(fact, ON_PHOTO if fact.startswith(("shade_", "two_")) else WHOLE_FLOOR) for fact in facts
    }
    named = {
        "dark": "the darkest patch (D)" if dark else "the darkest place",
        "pale": "the palest patch (P)" if pale else "the palest place",
        "bond": _series(BOND_PLACES, bond, "B"),
    }
    words = {
        fact: _series(numbers[fact], spread[: numbers[fact]], "T") if fact in numbers else pattern.format(**named)
        for fact, pattern in patterns.items()
    }
    marked = {"{bond}": bond, "{dark}": (dark,) if dark else (), "{pale}": (pale,) if pale else ()}
    marks_of = {
        fact: spread[: numbers[fact]]
        if fact in numbers
        else tuple(mark for key, marks in marked.items() if key in pattern for mark in marks)
        for fact, pattern in patterns.items()
    }
    every = dict.fromkeys(mark for marks in (spread, *marks_of.values()) for mark in marks)
    return PlacesDue(words, tuple(every), marks_of)


def spread_places(outline: Outline, number: int, letter: str = "T") -> tuple[MarkedPlace, ...]:
    """Return places spread over a floor, off edges and joints, the first near the origin, labeled T1, T2, ...

    Each further place is the one farthest from all before it.
    """
    candidates = list(_candidates(outline))
    if not candidates or number < 1:
        return ()
    x0, y0 = (min(getattr(point, axis) for point in candidates) for axis in "xy")
    chosen = [min(candidates, key=lambda point: (point.x - x0) + (point.y - y0))]
    while len(chosen) < min(number, MOST_PLACES, len(candidates)):
        chosen.append(max(candidates, key=lambda point: min(point.distance(other) for other in chosen)))
    return tuple(MarkedPlace(point.x, point.y, f"{letter}{n}") for n, point in enumerate(chosen, start=1))


def _series(number: int, places: Sequence[MarkedPlace], letter: str) -> str:
    if not places:
        return f"{counted(number, 'place')}, spread over the floor"
    return f"{counted(number, 'place')}, {letter}1 to {letter}{len(places)} on the plan"


def _patch_mark(outcome: FloorOutcome, outline: Outline | None, label: str) -> MarkedPlace | None:
    """Return the middle of the darkest (D) or palest (P) patch on the plan; None where no photo shows one there."""
    if outline is None or outcome.evenness is None:
        return None
    sign = -1 if label == "D" else 1
    seen = [(sign * lightness, place) for lightness, place in _patches_on_plan(outcome)]
    shape = _floor_shape(outline)
    inside = [(strength, place) for strength, place in seen if strength > 0 and _covers(shape, place)]
    if not inside:
        return None
    x, y = max(inside)[1]
    return MarkedPlace(x, y, label)


def _patches_on_plan(outcome: FloorOutcome) -> Iterator[tuple[float, tuple[float, float]]]:
    """Yield how much lighter each patch is than the slab, and its middle on the plan."""
    evenness = outcome.evenness
    if evenness is None:
        return
    if evenness.together is not None and evenness.together.patches:  # joined photos are measured on the plan itself
        yield from ((patch.dL, _middle(patch)) for patch in evenness.together.patches)
        return
    photos = {photo.file: photo for photo in outcome.floor.photos}
    for measured in evenness.photos:
        for patch in measured.patches or ():
            place = _on_plan(patch, photos.get(measured.photo), alone=len(photos) == 1)
            if place is not None:
                yield patch.dL, place


def _middle(patch: Patch) -> tuple[float, float]:
    return patch.x_ft + patch.width_ft / 2, patch.y_ft + patch.length_ft / 2


def _on_plan(patch: Patch, photo: Photo | None, *, alone: bool) -> tuple[float, float] | None:
    """Return a patch's middle on the plan, None where it is not known where the photo lies."""
    if photo is None or photo.shows == "mock-up" or (photo.origin_on_plan is None and not alone):
        return None
    turn, (x0, y0) = math.radians(photo.turned_deg), photo.origin_on_plan or (0.0, 0.0)
    x, y = _middle(patch)
    return x0 + x * math.cos(turn) - y * math.sin(turn), y0 + x * math.sin(turn) + y * math.cos(turn)


def _floor_shape(outline: Outline) -> "BaseGeometry | None":
    try:
        return floor_polygon(outline)
    except EntryError:
        return None


def _covers(shape: "BaseGeometry | None", place: tuple[float, float]) -> bool:
    from shapely import Point

    return shape is not None and bool(shape.covers(Point(place)))


def _candidates(outline: Outline) -> "Iterator[Point]":
    from shapely import LineString, Point, unary_union

    floor = _floor_shape(outline)
    if floor is None:
        return
    joints = unary_union([LineString([joint.start, joint.end]).buffer(FROM_JOINT_FT) for joint in outline.joints])
    area = next(part for part in _from_best(floor, joints) if not part.is_empty)
    x0, y0, x1, y1 = area.bounds
    pace = max(x1 - x0, y1 - y0) / SPACING or 1.0
    for row in range(int((y1 - y0) / pace) + 1):
        for column in range(int((x1 - x0) / pace) + 1):
            point = Point(x0 + column * pace, y0 + row * pace)
            if area.covers(point):
                yield point


def _from_best(floor: "BaseGeometry", joints: "BaseGeometry") -> "Iterable[BaseGeometry]":
    """Return where places may lie, the best first: off edges and joints, off edges, anywhere."""
    inner = floor.buffer(-FROM_EDGE_FT)
    return inner.difference(joints), inner, floor
