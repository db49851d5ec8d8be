"""Which readings of a floor count on a day, and which is the latest and the worst of each kind."""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.job.checks import AIR_KINDS
from finishadvisor.job.document import Floor, Reading, ReadingKind

DRYING_KINDS: Final = frozenset({"slab-rh", "calcium-chloride", "sheet-test"})
"""Readings that a wetting makes stale: they say how far the slab has dried."""
WORST_IS_LOW: Final = frozenset({"scratch-hardness", "pull-off"})
WORST_WORD: Final = {"sheet-test": "damp", "sounding": "hollow"}
NO_WORST: Final = frozenset({"air-temperature", "air-rh", "slab-temperature", "rinse-water-ph"})
"""Conditions and comparison values: only the latest means anything."""


@dataclass(frozen=True)
class SortedReadings:
    """The readings of a floor as of one day. Each reading is in exactly one of the four."""

    valid: tuple[Reading, ...]
    """Oldest first."""
    stale: tuple[Reading, ...]
    """Of drying, dated on or before the last wetting."""
    before_pour: tuple[Reading, ...]
    """Older than the slab: a slip, or a pour date that is only about right."""
    future: tuple[Reading, ...]
    """Dated after the day."""


def sort_readings(floor: Floor, on: datetime.date) -> SortedReadings:
    """Sort a floor's readings by whether they count on a day.

    Args:
        floor: the floor with its readings, pour date and last wetting.
        on: the day. A wetting after it has not happened yet.
    """
    wetting = floor.last_wetting if floor.last_wetting and floor.last_wetting <= on else None
    groups: dict[str, list[Reading]] = {"valid": [], "stale": [], "before_pour": [], "future": []}
    for reading in sorted(floor.readings, key=lambda reading: reading.date):
        groups[_group(reading, floor, wetting, on)].append(reading)
    return SortedReadings(**{name: tuple(readings) for name, readings in groups.items()})


def latest_reading(floor: Floor, kind: ReadingKind, on: datetime.date) -> Reading | None:
    """Return the valid reading of a kind that was taken last; of several on one day, the worst."""
    valid = _of_kind(floor, kind, on)
    return _worst([reading for reading in valid if reading.date == valid[-1].date], kind) if valid else None


def worst_reading(floor: Floor, kind: ReadingKind, on: datetime.date) -> Reading | None:
    """Return the worst valid reading of a kind, a newer reading at a place taking the place of an older one there.

    Readings without a place count as taken at one and the same, unnamed place. For conditions (air, slab temperature,
    rinse water) there is no worst: the latest is returned.
    """
    if kind in NO_WORST:
        return latest_reading(floor, kind, on)
    last_at: dict[object, datetime.date] = {}
    valid = _of_kind(floor, kind, on)
    for reading in valid:
        last_at[_place(reading)] = reading.date
    standing = [reading for reading in valid if reading.date == last_at[_place(reading)]]
    return _worst(standing, kind) if standing else None


def _group(reading: Reading, floor: Floor, wetting: datetime.date | None, on: datetime.date) -> str:
    if reading.date > on:
        return "future"
    if floor.pour is not None and reading.date < floor.pour.date and reading.kind not in AIR_KINDS:
        return "before_pour"
    if wetting is not None and reading.kind in DRYING_KINDS and reading.date <= wetting:
        return "stale"
    return "valid"


def _of_kind(floor: Floor, kind: ReadingKind, on: datetime.date) -> Sequence[Reading]:
    return [reading for reading in sort_readings(floor, on).valid if reading.kind == kind]


def _place(reading: Reading) -> object:
    return reading.place.casefold() if isinstance(reading.place, str) else reading.place


def _worst(readings: Iterable[Reading], kind: ReadingKind) -> Reading:
    """Return the worst of one or more readings; of equals, the last."""
    newest_first = list(readings)[::-1]
    if kind in WORST_WORD:
        return max(newest_first, key=lambda reading: reading.value == WORST_WORD[kind])
    if kind in NO_WORST:
        return newest_first[0]
    sign = -1 if kind in WORST_IS_LOW else 1
    return max(newest_first, key=lambda reading: sign * float(reading.value))
