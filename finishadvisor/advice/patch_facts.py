"""The facts of one patch of a photo: its size and shape, its shade, and what it lies at on the plan."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from finishadvisor.advice.from_readings import LEAVES_A_MARK
from finishadvisor.advice.marks import Marks, mark_facts
from finishadvisor.advice.plan_places import (
    Line,
    closed,
    edges_of,
    is_inside,
    on_plan,
    reaches,
    share_near,
)
from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Floor, Photo
from finishadvisor.job.entry_types import Point
from finishadvisor.records.evenness import Evenness, FloorEvenness, Patch
from finishadvisor.records.finding import FactValue
from finishadvisor.works.limits import limit

OF_EACH_PATCH: Final = frozenset({
    "mark_area_ft2",
    "mark_long_ft",
    "mark_wide_ft",
    "mark_slender",
    "mark_square",
    "mark_at_edge",
    "mark_along_joint",
    "mark_at_load_end",
    "mark_at_test",
    "mark_stays",
})
"""Facts that each patch has for itself, and the floor has not."""
OF_MARKS: Final = OF_EACH_PATCH | {"shade_kind", "shade_marks_tone", "shade_marks_color", "shade_marks_count"}
"""Facts that patches differ in."""


@dataclass(frozen=True)
class Scene:
    """What a patch is held against: its photo, the floor as the job has it, and the floor's other photos."""

    photo: Evenness
    floor: Floor | None = None
    others: FloorEvenness | None = None

    @cached_property
    def placed(self) -> Photo | None:
        """The photo's place on the plan; None where several photos speak together, which lie on the plan already."""
        return next((one for one in self.floor.photos if one.file == self.photo.photo), None) if self.floor else None

    @cached_property
    def edges(self) -> tuple[Line, ...]:
        """The edges of the floor, else of the photo's slab, as far as they are known."""
        if self.floor is not None and self.floor.outline is not None:
            return edges_of(self.floor.outline)
        return (closed(_corners(self.placed)),) if self.placed and self.placed.size else ()

    @cached_property
    def joints(self) -> tuple[Line, ...] | None:
        """The joints and cracks on the plan, None where there is no plan."""
        outline = self.floor.outline if self.floor else None
        return tuple((joint.start, joint.end) for joint in outline.joints) if outline else None

    @cached_property
    def load_ends(self) -> tuple[Line, ...]:
        """The lines where truck loads end."""
        return tuple(load.boundary for load in self.floor.loads if len(load.boundary) > 1) if self.floor else ()

    @cached_property
    def tests(self) -> tuple[Point, ...]:
        """The places of tests that leave a mark."""
        readings = self.floor.readings if self.floor else ()
        return tuple(
            one.place for one in readings if one.kind in LEAVES_A_MARK and isinstance(one.place, tuple)
        )  # fmt: skip

    @cached_property
    def kinds(self) -> Counter[str]:
        """How many patches of each kind the photo shows."""
        return Counter(patch.kind for patch in self.photo.patches or ())

    @cached_property
    def seen_by_others(self) -> tuple[tuple[Point, ...], ...]:
        """The areas on the plan that the floor's photos show, as far as they were laid together."""
        if self.floor is None or self.others is None or self.others.together is None:
            return ()
        outdated = self.others.compared.outdated if self.others.compared else frozenset()
        refused = {photo.photo for photo in self.others.photos if photo.refused}
        joined = [
            photo
            for photo in self.floor.photos
            if photo.shows == "slab" and photo.size and photo.file not in outdated | refused
        ]
        return tuple(_corners(photo) for photo in joined)


def patch_facts(patch: Patch, scene: Scene, catalog: Catalog) -> dict[str, FactValue | None]:
    """Return the facts of one patch.

    Args:
        patch: the patch.
        scene: what it is held against.
        catalog: holds the limits of words such as "along" and "square".

    Raises:
        EntryError: the floor's outline cannot be used.
    """
    outline = tuple(on_plan(point, scene.placed) for point in patch.outline_ft)
    long_ft = _longest_ft(patch.outline_ft)
    wide_ft = patch.area_ft2 / long_ft
    return {
        **mark_facts(Marks(patch.kind, (patch,)), scene.photo.typical_lab, catalog),
        "shade_marks_count": float(scene.kinds[patch.kind]),
        "mark_area_ft2": patch.area_ft2,
        "mark_long_ft": long_ft,
        "mark_wide_ft": wide_ft,
        "mark_slender": long_ft / wide_ft,
        "mark_square": _is_square(patch, catalog),
        "mark_at_edge": _runs_along(outline, scene.edges, "edge", catalog) if scene.edges else None,
        "mark_along_joint": _runs_along(outline, scene.joints, "joint", catalog) if scene.joints is not None else None,
        "mark_at_load_end": _runs_along(outline, scene.load_ends, "load-end", catalog) if scene.load_ends else None,
        "mark_at_test": _at_test(outline, scene, catalog) if scene.tests else None,
        "mark_stays": _stays(patch, scene),
    }


def _corners(photo: Photo) -> tuple[Point, ...]:
    width, length = photo.size or (0.0, 0.0)
    return tuple(on_plan(corner, photo) for corner in ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length)))


def _longest_ft(outline: Sequence[Point]) -> float:
    """Return the greatest distance between two corners of an outline, a tenth of a foot at least."""
    hull = tuple(_extremes(outline))
    return max(0.1, *(math.dist(one, other) for one in hull for other in hull))


def _extremes(outline: Sequence[Point]) -> Iterator[Point]:
    """Yield the outermost corners in 16 directions: between two of them lies the greatest distance, near enough."""
    for n in range(16):
        x, y = math.cos(math.pi * n / 8), math.sin(math.pi * n / 8)
        yield max(outline, key=lambda point: x * point[0] + y * point[1])


def _is_square(patch: Patch, catalog: Catalog) -> bool:
    """Whether it fills its box, which is not much longer than wide."""
    short, long = sorted((patch.width_ft, patch.length_ft))
    fills = patch.area_ft2 / max(short * long, 1e-6)
    return fills >= limit(catalog, "mark-square-share") and long <= limit(catalog, "mark-square-sides") * short


def _runs_along(outline: Sequence[Point], lines: Sequence[Line], what: str, catalog: Catalog) -> bool:
    reach_ft = limit(catalog, "mark-reach-ft")
    return share_near(closed(outline), lines, reach_ft) >= limit(catalog, f"mark-{what}-share")


def _at_test(outline: Sequence[Point], scene: Scene, catalog: Catalog) -> bool:
    return any(reaches(outline, place, limit(catalog, "mark-reach-ft")) for place in scene.tests)


def _stays(patch: Patch, scene: Scene) -> bool | None:
    """Whether a mark lies at the same place in other photos; None where no other photo shows the place."""
    middle = on_plan((patch.x_ft + patch.width_ft / 2, patch.y_ft + patch.length_ft / 2), scene.placed)
    if sum(is_inside(area, middle) for area in scene.seen_by_others) < 2:
        return None
    together = scene.others.together if scene.others else None
    if together is None or together is scene.photo:
        return True if together else None
    return any(_same_place(patch, scene.placed, other) for other in together.patches or ())


def _same_place(patch: Patch, placed: Photo | None, other: Patch) -> bool:
    """Whether a patch of a photo and one on the plan share ground and differ from the slab the same way."""
    corners = [
        on_plan((patch.x_ft + x, patch.y_ft + y), placed)
        for x, y in ((0.0, 0.0), (patch.width_ft, patch.length_ft))
    ]  # fmt: skip
    (left, right), (low, high) = (sorted(corner[axis] for corner in corners) for axis in (0, 1))
    overlap = left < other.x_ft + other.width_ft and other.x_ft < right
    overlap = overlap and low < other.y_ft + other.length_ft and other.y_ft < high
    return overlap and (patch.dL > 0) == (other.dL > 0)
