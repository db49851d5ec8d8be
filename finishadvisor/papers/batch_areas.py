"""Which part of a floor each batch covers: whole zones, or strips of a zone as large as the batch reaches."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby, pairwise
from typing import TYPE_CHECKING, Final

from finishadvisor.job.document import Floor
from finishadvisor.job.outline import floor_polygon
from finishadvisor.records.order import Batch
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.takeoff import zone_shapes

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

LEAST_STRIP_IN: Final = 0.24
"""A strip that is drawn narrower than this has no room for its number: the zone gives the first and the last one."""
HALVINGS: Final = 30
"""From a hundred feet down to less than a hair."""


@dataclass(frozen=True)
class BatchArea:
    """A part of the plan with the number of its batch, or with the first and last where they are too many to part."""

    shape: "BaseGeometry"
    label: str
    ends: "BaseGeometry | None" = None
    """The line inside a zone where the batch ends and the next one begins."""


@dataclass(frozen=True)
class Layout:
    """How coats of one floor are parted into batches: every coat of the layout takes the same ones."""

    works: FloorWorks
    tasks: tuple[str, ...]
    batches: tuple[Batch, ...]
    """Those of the first of these coats."""


def layouts_of(works: FloorWorks, batches: Sequence[Batch]) -> list[Layout]:
    """Return the batches of one floor by how they part it, in the order of the work."""
    found: dict[tuple[tuple[str, int], ...], Layout] = {}
    for task, mixed in groupby(batches, key=lambda batch: batch.task):
        of_task = tuple(mixed)
        key = tuple((batch.zone, round(batch.area_ft2)) for batch in of_task)
        tasks = (*found[key].tasks, task) if key in found else (task,)
        found[key] = Layout(works, tasks, of_task)
    return list(found.values())


def batch_areas(floor: Floor, layout: Layout, ft_per_in: float) -> Iterator[BatchArea]:
    """Yield the areas of the batches of a coat on a plan.

    Steps and coves, which no plan shows from above, are left out. A zone that takes several batches is parted across
    its longer side, from the origin on: a short edge stays wet.

    Args:
        floor: the floor, with an outline.
        layout: the batches.
        ft_per_in: scale of the drawing.

    Raises:
        EntryError: the outline is no floor.
    """
    shapes = _shapes(floor)
    names = [zone.name for zone in layout.works.zones]
    for words, mixed in groupby(layout.batches, key=lambda batch: batch.zone):
        same = list(mixed)
        first, _, last = words.partition(" to ")
        if first not in names or (last or first) not in names:
            continue
        covered = names[names.index(first) : names.index(last or first) + 1]
        on_plan = [shapes[name] for name in covered if name in shapes]
        if len(same) > 1 and len(on_plan) == 1:
            yield from _strips(on_plan[0], same, ft_per_in)
        else:
            yield from (BatchArea(shape, _label(same)) for shape in on_plan)


def _shapes(floor: Floor) -> "dict[str, BaseGeometry]":
    """Return what the zones look like from above, by the names that the takeoff gives them."""
    if floor.outline is None:
        return {}
    zones = zone_shapes(floor.outline)
    if not zones:
        return {"whole slab": floor_polygon(floor.outline)}
    return {f"zone {number}": shape for number, shape in enumerate(zones, start=1)}


def _label(batches: Sequence[Batch]) -> str:
    first, last = batches[0].number, batches[-1].number
    return str(first) if first == last else f"{first}\N{EN DASH}{last}"


def _strips(shape: "BaseGeometry", batches: Sequence[Batch], ft_per_in: float) -> Iterator[BatchArea]:
    """Yield a zone in strips of the batches' areas; in one piece where they would be too narrow to read."""
    from shapely import LineString, clip_by_rect

    x0, y0, x1, y1 = shape.bounds
    along_x = x1 - x0 >= y1 - y0
    total = sum(batch.area_ft2 for batch in batches)
    covered = [area / total * shape.area for area in accumulate(batch.area_ft2 for batch in batches)]
    low, high = (x0, x1) if along_x else (y0, y1)

    def part(start: float, end: float) -> "BaseGeometry":
        return clip_by_rect(shape, start, y0, end, y1) if along_x else clip_by_rect(shape, x0, start, x1, end)

    def reached(area_ft2: float) -> float:
        short, far = low, high
        for _ in range(HALVINGS):
            middle = (short + far) / 2
            short, far = (middle, far) if part(low, middle).area < area_ft2 else (short, middle)
        return (short + far) / 2

    ends = [low, *(reached(area) for area in covered[:-1]), high]
    if min(end - start for start, end in pairwise(ends)) < LEAST_STRIP_IN * ft_per_in:
        yield BatchArea(shape, _label(batches))
        return
    for batch, (start, end) in zip(batches, pairwise(ends), strict=True):
        line = LineString([(end, y0), (end, y1)] if along_x else [(x0, end), (x1, end)])
        yield BatchArea(part(start, end), str(batch.number), line.intersection(shape) if end < high else None)
