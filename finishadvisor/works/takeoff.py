"""The takeoff of a floor: area, edge, joints and cracks by kind, steps, and the zones that end at joints."""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import WorkItem
from finishadvisor.errors import CatalogError, JobError, nearest_of
from finishadvisor.formulas.slab_tests import COUNT_RULES
from finishadvisor.job.document import Floor
from finishadvisor.job.drawn import Joint, Outline
from finishadvisor.job.outline import area_ft2, edge_ft, floor_polygon, steps_area_ft2
from finishadvisor.records.works import Extent, Zone
from finishadvisor.units import INCHES_PER_FOOT
from finishadvisor.works.limits import limit

if TYPE_CHECKING:
    from shapely import LineString, Polygon

ZONE_JOINTS: Final = ("control", "construction", "isolation")
_REACH_FT: Final = 0.25
"""A joint drawn this little short of an edge still ends a zone: plans are typed from a tape."""
_SPECK_FT2: Final = 0.5
"""Smaller pieces come from lines that miss each other by a hair; they are no zones."""

UNITS: Final[Mapping[Extent, str]] = {"area": "ft²", "edge": "ft", "joint": "ft", "count": "pieces", "fixed": "job"}


@dataclass(frozen=True)
class Run:
    """One joint or crack: its length and the space that a filler has to fill."""

    kind: str
    """control, construction, isolation or crack; "moving" where the line moves, whatever it is."""
    length_ft: float
    volume_ft3: float


@dataclass(frozen=True)
class Extents:
    """How much of a task there is on a floor. `allowed_for` says in words when it is an allowance, not a measure."""

    quantity: float
    unit: str
    volume_ft3: float | None = None
    allowed_for: str | None = None


@dataclass(frozen=True)
class Takeoff:
    """What a floor measures: area with the faces of steps and the cove, lengths, and zones."""

    area_ft2: float
    edge_ft: float
    joint_ft: float
    crack_ft: float
    runs: tuple[Run, ...]
    steps: int
    zones: tuple[Zone, ...]

    def length_ft(self, kinds: Collection[str]) -> float:
        """Return the length of all joints or cracks of these kinds [ft]."""
        return sum(run.length_ft for run in self.runs if run.kind in kinds)

    def volume_ft3(self, kinds: Collection[str]) -> float:
        """Return the space that the joints or cracks of these kinds take [ft³]."""
        return sum(run.volume_ft3 for run in self.runs if run.kind in kinds)


def take_off(floor: Floor, catalog: Catalog) -> Takeoff:
    """Measure a floor on its outline.

    Raises:
        JobError: the floor has no outline.
        EntryError: the outline is no floor.
    """
    outline = floor.outline
    if outline is None:
        raise JobError(
            f'The floor "{floor.name}" has no outline, so nothing can be measured. '
            "Add [[floor.outline.rectangle]] with its sides x and y to job.toml."
        )
    cove_ft = outline.cove or 0.0
    cove_ft2 = cove_ft * limit(catalog, "cove-height-in") / INCHES_PER_FOOT
    steps_ft2 = steps_area_ft2(outline)
    zones = list(_slab_zones(outline))
    if steps_ft2:
        zones.append(Zone(name="steps", area_ft2=steps_ft2))
    if cove_ft2:
        zones.append(Zone(name="cove", area_ft2=cove_ft2))
    return Takeoff(
        area_ft2=area_ft2(outline) + steps_ft2 + cove_ft2,
        edge_ft=edge_ft(outline),
        joint_ft=sum(math.dist(joint.start, joint.end) for joint in outline.joints if joint.kind != "crack"),
        crack_ft=sum(math.dist(joint.start, joint.end) for joint in outline.joints if joint.kind == "crack"),
        runs=tuple(_run(joint, catalog) for joint in outline.joints),
        steps=sum(steps.count for steps in outline.steps),
        zones=tuple(zones),
    )


def extents_of(item: WorkItem, takeoff: Takeoff, catalog: Catalog, *, asked_for: bool) -> Extents:
    """Return how much of a work item there is on a floor.

    Where a rule asks for work on joints or cracks and none is drawn, an allowance stands in.

    Raises:
        CatalogError: the work item names a counting rule that does not exist.
    """
    unit = UNITS[item.extent]
    match item.extent:
        case "area":
            return Extents(takeoff.area_ft2, unit)
        case "edge":
            return Extents(takeoff.edge_ft, unit)
        case "fixed":
            return Extents(1.0, unit)
        case "count":
            return Extents(float(_counted(item, takeoff)), unit)
        case "joint":
            return _joint_extents(item, takeoff, catalog, asked_for)


def _joint_extents(item: WorkItem, takeoff: Takeoff, catalog: Catalog, asked_for: bool) -> Extents:
    """Length and volume of the drawn lines; where a rule asks for the work and none is drawn, an allowance by area."""
    length_ft = takeoff.length_ft(item.joint_kinds)
    if length_ft or not asked_for:
        return Extents(length_ft, "ft", takeoff.volume_ft3(item.joint_kinds))
    is_crack = "crack" in item.joint_kinds
    name = "crack" if is_crack else "joint"
    per_100 = limit(catalog, f"{name}-allowance-ft-per-100-ft2")
    allowed_ft = takeoff.area_ft2 * per_100 / 100
    width_in, depth_in = (limit(catalog, f"{name}-{part}-in") for part in ("width", "depth"))
    return Extents(
        allowed_ft,
        "ft",
        _volume_ft3(allowed_ft, width_in, depth_in),
        f"no {name} is drawn on the plan, so {per_100:g} ft per 100 ft² is allowed for",
    )


def _counted(item: WorkItem, takeoff: Takeoff) -> int:
    """Return the number of pieces by the item's counting rule.

    Raises:
        CatalogError: there is no such rule.
    """
    plain = {"steps": takeoff.steps, "zones": len(takeoff.zones)}
    if item.count_rule in plain:
        return plain[item.count_rule]
    if item.count_rule in COUNT_RULES:
        return COUNT_RULES[item.count_rule](takeoff.area_ft2)
    allowed = sorted([*plain, *COUNT_RULES])
    raise CatalogError(
        f'Work item "{item.id}" is counted by "{item.count_rule}"; allowed are {", ".join(allowed)}.'
        f"{nearest_of(str(item.count_rule), allowed)}"
    )


def _run(joint: Joint, catalog: Catalog) -> Run:
    """Measure one line; a width or depth that is not stated is taken as usual for its kind."""
    name = "crack" if joint.kind == "crack" else "joint"
    length_ft = math.dist(joint.start, joint.end)
    width_in = limit(catalog, f"{name}-width-in") if joint.width is None else joint.width * INCHES_PER_FOOT
    depth_in = limit(catalog, f"{name}-depth-in") if joint.depth is None else joint.depth * INCHES_PER_FOOT
    moves = joint.kind == "isolation" if joint.moving is None else joint.moving
    return Run("moving" if moves else joint.kind, length_ft, _volume_ft3(length_ft, width_in, depth_in))


def _volume_ft3(length_ft: float, width_in: float, depth_in: float) -> float:
    return length_ft * width_in * depth_in / INCHES_PER_FOOT**2


def zone_shapes(outline: Outline) -> "tuple[Polygon, ...]":
    """Return the pieces of the slab between its joints, from the origin, row by row; empty where no joint cuts it.

    Raises:
        EntryError: the outline is no floor.
    """
    joints = [joint for joint in outline.joints if joint.kind in ZONE_JOINTS]
    pieces = _cut(outline, joints) if joints else []
    if len(pieces) < 2:
        return ()
    return tuple(sorted(pieces, key=lambda piece: (round(piece.centroid.y, 1), round(piece.centroid.x, 1))))


@cache
def _slab_zones(outline: Outline) -> tuple[Zone, ...]:
    """Cut the slab along its joints; zones are numbered from the origin, row by row."""
    shapes = zone_shapes(outline)
    if not shapes:
        return (Zone(name="whole slab", area_ft2=area_ft2(outline)),)
    return tuple(Zone(name=f"zone {n}", area_ft2=piece.area) for n, piece in enumerate(shapes, start=1))


def _cut(outline: Outline, joints: list[Joint]) -> "list[Polygon]":
    """Return the pieces of the slab between joints; a joint that ends in the middle of the slab cuts nothing off."""
    from shapely import Polygon, polygonize, union_all

    floor = floor_polygon(outline)
    lines = union_all([floor.boundary, *(_reaching(joint) for joint in joints)])
    faces = [face for face in polygonize([lines]).geoms if floor.contains(face.representative_point())]
    pieces = [face for face in faces if isinstance(face, Polygon) and face.area >= _SPECK_FT2]
    return pieces if math.isclose(sum(piece.area for piece in pieces), floor.area, rel_tol=0.01) else []


def _reaching(joint: Joint) -> "LineString":
    """Return the joint's line, drawn on a little at both ends so that it meets the edge or joint that it aims at."""
    from shapely import LineString

    (x0, y0), (x1, y1) = joint.start, joint.end
    length_ft = math.dist(joint.start, joint.end)
    x, y = (x1 - x0) / length_ft * _REACH_FT, (y1 - y0) / length_ft * _REACH_FT
    return LineString([(x0 - x, y0 - y), (x1 + x, y1 + y)])
