"""What the job records of each task of the works: finished, or done in part, and what is left of it then."""

import datetime
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Done, Floor, Used
from finishadvisor.records.works import Begun, FloorWorks, Task, Zone
from finishadvisor.works.labor import crew_hours
from finishadvisor.works.limits import limit
from finishadvisor.works.zone_names import zone_label, zone_named

_HAIR: Final = 1e-6
_SHARED: Final = frozenset({"area", "edge", "joint"})
"""Extents of which a part can be done."""


@dataclass(frozen=True)
class Piece:
    """What one record says was done of a task: in which zones, none where it does not say, and when it ended."""

    share: float
    zones: frozenset[str]
    day: datetime.date
    time: datetime.time | None = None


@dataclass(frozen=True)
class Progress:
    """How far a task is by its records. `share` is what is done of it, 1 when it is finished."""

    share: float
    pieces: tuple[Piece, ...]
    zones: frozenset[str]
    """Names of the zones in which it is done; what is done elsewhere is not known by its place."""

    @property
    def finished(self) -> bool:
        """Whether nothing of it is left."""
        return self.share >= 1


def progress_of(works: FloorWorks, floor: Floor, on: datetime.date, catalog: Catalog) -> Mapping[str, Progress]:
    """Return, by task id, how far each task of the works is that the job records up to a day.

    Args:
        works: the works of the floor.
        floor: the floor with its records.
        on: the day.
        catalog: the catalog as this job sees it.
    """
    said = {task.id: _recorded(task, works, floor, on, catalog) for task in works.tasks}
    return {id_: progress for id_, progress in said.items() if progress is not None}


def part_ft2(row: Done, zones: Iterable[Zone]) -> float:
    """Return how much a record says was done [ft²]: its area, else that of its zones."""
    return row.area_ft2 if row.area_ft2 is not None else sum(zone.area_ft2 for zone in _zones_of(row, zones))


def _zones_of(row: Done, zones: Iterable[Zone]) -> list[Zone]:
    every = tuple(zones)
    return [zone for name in row.zones if (zone := zone_named(name, every)) is not None]


def rest_of(task: Task, share: float, catalog: Catalog) -> Task:
    """Return a task with what is left of it when a share is done; its tools are set up again."""
    left = 1 - share
    return task.model_copy(
        update={
            "quantity": task.quantity * left,
            "volume_ft3": None if task.volume_ft3 is None else task.volume_ft3 * left,
            "crew_hours": crew_hours(catalog.work_items[task.work_item], task.quantity * left),
        }
    )


def begun(task: Task, progress: Progress, works: FloorWorks, catalog: Catalog) -> Begun:
    """Return what is left of a task that is done in part."""
    rest = rest_of(task, progress.share, catalog)
    in_zones = sum(zone.area_ft2 for zone in works.zones if zone.name in progress.zones)
    elsewhere = progress.share * works.area_ft2 - in_zones
    left: tuple[Zone, ...] = tuple(zone for zone in works.zones if zone.name not in progress.zones)
    if elsewhere > _HAIR * works.area_ft2 and task.extent == "area":
        left = (Zone(name="the rest", area_ft2=rest.quantity),)
    done = f"{task.quantity - rest.quantity:,.0f} {task.unit} of {task.quantity:,.0f} {task.unit} done"
    named = [zone_label(zone) for zone in works.zones if zone.name in progress.zones]
    where = f" (zone{'s' if len(named) > 1 else ''} {', '.join(named)})" if named else ""
    return Begun(rest=rest, zones_left=left, said=done + where, last=max(piece.day for piece in progress.pieces))


def _recorded(task: Task, works: FloorWorks, floor: Floor, on: datetime.date, catalog: Catalog) -> Progress | None:
    rows = [done for done in floor.done if done.task == task.id and done.date <= on]
    whole = [row for row in rows if not row.is_part]
    if whole:
        last = max(whole, key=lambda row: row.date)
        parts = [piece for piece in _pieces(task, works, rows) if piece.day <= last.date]
        return Progress(1.0, (*parts, Piece(1.0, frozenset(), last.date, last.time)), frozenset())
    laid = _laid(task, works, floor, on, catalog)
    if laid is not None and (laid.finished or not rows):
        return laid
    return _added_up(_pieces(task, works, rows)) if rows else None


def _pieces(task: Task, works: FloorWorks, rows: Iterable[Done]) -> tuple[Piece, ...]:
    """Return the recorded parts of a task in order."""
    pieces = []
    for row in rows:
        if row.is_part and task.extent in _SHARED and works.area_ft2:
            names = frozenset(zone.name for zone in _zones_of(row, works.zones))
            share = min(1.0, part_ft2(row, works.zones) / works.area_ft2)
            pieces.append(Piece(share, names, row.date, row.time))
    return tuple(sorted(pieces, key=lambda piece: (piece.day, piece.time or datetime.time.max)))


def _added_up(pieces: Sequence[Piece]) -> Progress | None:
    share = math.fsum(piece.share for piece in pieces)
    zones = frozenset(name for piece in pieces for name in piece.zones)
    return Progress(1.0 if share >= 1 - _HAIR else share, tuple(pieces), zones) if pieces else None


def _laid(task: Task, works: FloorWorks, floor: Floor, on: datetime.date, catalog: Catalog) -> Progress | None:
    """Return how far a coat is by the amounts used."""
    uses = uses_of(task, works, floor, on, catalog)
    laid = _added_up([Piece(share, frozenset(), used.date) for used, share in uses])
    whole = limit(catalog, "whole-coat-share")
    return replace(laid, share=1.0) if laid is not None and laid.share >= whole else laid


def uses_of(
    task: Task, works: FloorWorks, floor: Floor, on: datetime.date, catalog: Catalog
) -> tuple[tuple[Used, float], ...]:
    """Return the amounts used that a coat rests on, each with the share of the coat that it makes; none of other tasks.

    Coat is counted upon coat, by the area that each record covers; nearly the whole floor counts as the whole.

    Args:
        task: the task.
        works: the works of the floor.
        floor: the floor with its records.
        on: the day; later records do not count yet.
        catalog: the catalog as this job sees it.
    """
    if task.layer is None or task.coat is None or not works.area_ft2:
        return ()
    whole = limit(catalog, "whole-coat-share")
    coats, found = 0.0, []
    for used in sorted(floor.used, key=lambda used: used.date):
        if used.layer != task.layer or used.date > on:
            continue
        share = used.area_ft2 / works.area_ft2
        before, coats = coats, coats + used.coats * (1.0 if share >= whole else share)
        of_this = min(coats, task.coat) - max(before, task.coat - 1)
        if of_this > _HAIR:
            found.append((used, of_this))
    return tuple(found)
