"""What one key alone cannot show: dates, names, files and marks of a job that do not agree with one another."""

import datetime
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath, PureWindowsPath

from finishadvisor.errors import FinishAdvisorError, nearest_of
from finishadvisor.job.document import Floor, Job, Photo
from finishadvisor.job.entries import shown
from finishadvisor.job.entry_types import Point
from finishadvisor.job.outline import check_outline, points_outside, write_place

AIR_KINDS = frozenset({"air-temperature", "air-rh"})
"""Readings that say nothing of the slab; they may be older than the pour."""
LONGEST_WORKDAY_H = 16.0
"""A longer one is a slip: an end before a start that was not meant as a night's work."""


def find_mistakes(job: Job, folder: Path) -> tuple[str, ...]:
    """Return a line, without the file's name, for every part of the job that does not agree with the rest.

    Args:
        job: the job, each key valid by itself.
        folder: the job folder that photos and own files lie in.
    """
    mistakes = [*_time_zone(job), *_workday(job), *_teams(job), *_named_files(job, folder), *_names_twice(job)]
    for floor in job.floors:
        here = f"floor {shown(floor.name)}"
        mistakes += [
            f"{here}, {mistake}"
            for mistake in (*_dates(floor), *_photos(floor, folder), *_loads(floor), *_outline(floor, job))
        ]
    return tuple(mistakes)


def _time_zone(job: Job) -> Iterator[str]:
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

    try:
        ZoneInfo(job.time_zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        nearest = nearest_of(job.time_zone, available_timezones())
        yield f'time_zone: {shown(job.time_zone)} is not a time zone; write one like "America/Chicago".{nearest}'


def _workday(job: Job) -> Iterator[str]:
    day = job.workday
    if not 0 < day.hours <= LONGEST_WORKDAY_H:
        yield (
            f"workday: from {day.start:%H:%M} to {day.end:%H:%M} are {day.hours:g} h; more than 0 and at most "
            f"{LONGEST_WORKDAY_H:g} h are allowed. Write two times in 24 hours, like 07:00 and 15:30; work through "
            "midnight ends on the next day, like 22:00 and 06:00."
        )
    if not day.days:
        yield 'workday, days: no day is listed; write at least one, like ["mon", "tue"].'
    for twice in _repeated(day.days):
        yield f"workday, days: {shown(twice)} stands twice. Keep one."


def _teams(job: Job) -> Iterator[str]:
    if job.teams > job.crew:
        yield f"teams: {job.teams} teams are more than the crew of {job.crew}. Write at most one team for each worker."


def _named_files(job: Job, folder: Path) -> Iterator[str]:
    wrong = _wrong_file(folder, job.weather, "the job folder") if job.weather else None
    if wrong:
        yield f"weather: {wrong}"
    for kind in ("rules", "finishes", "materials"):
        for file in getattr(job.own_files, kind):
            wrong = _wrong_file(folder, file, "the job folder")
            if wrong:
                yield f"own_files, {kind}: {wrong}"


def _names_twice(job: Job) -> Iterator[str]:
    for twice in _repeated(floor.name.casefold() for floor in job.floors):
        yield f"floor: the name {shown(twice)} is given to more than one floor. Give each floor its own name."


def _repeated(words: Iterable[str]) -> list[str]:
    return sorted(word for word, count in Counter(words).items() if count > 1)


def dated_ahead(job: Job, on: datetime.date) -> tuple[str, ...]:
    """Return a line for everything that is dated after a day, and so does not count yet; often a slip of the year."""
    return tuple(
        f"floor {shown(floor.name)}, {where}: {date} is still to come, so it does not count yet."
        for floor in job.floors
        for where, date in _dated(floor)
        if date is not None and date > on
    )


def _dated(floor: Floor) -> Iterator[tuple[str, datetime.date | None]]:
    """Yield what of a floor is dated, with its date."""
    yield "last_wetting", floor.last_wetting
    for number, reading in enumerate(floor.readings, start=1):
        yield f"reading {number} ({reading.kind}), date", reading.date
    for number, layer in enumerate(floor.layers_down, start=1):
        yield f"layer_down {number}, laid", layer.laid
    for number, mock_up in enumerate(floor.mock_ups, start=1):
        yield f"mock_up {number}, date", mock_up.date
    for number, used in enumerate(floor.used, start=1):
        yield f"used {number}, date", used.date
    for number, done in enumerate(floor.done, start=1):
        yield f"done {number}, date", done.date
    for photo in floor.photos:
        yield f"photo {shown(photo.file)}, taken", photo.taken.date() if photo.taken else None


def _dates(floor: Floor) -> Iterator[str]:
    """Yield what is dated before the slab was there; an `about` pour date proves nothing."""
    if floor.pour is None or floor.pour.about:
        return
    of_the_air = tuple(f"({kind}), date" for kind in AIR_KINDS)
    pour = floor.pour.date
    for where, date in _dated(floor):
        if date is not None and date < pour and not where.endswith(of_the_air):
            yield (
                f"{where}: {date} is before the pour, {pour}. Correct one of the two dates, or write about = true "
                "beside a pour date that is not certain."
            )


def _photos(floor: Floor, folder: Path) -> Iterator[str]:
    for twice in _repeated(photo.file for photo in floor.photos):
        yield f"photo {shown(twice)}: the file is listed twice. Keep one entry with all its marks."
    for photo in floor.photos:
        here = f"photo {shown(photo.file)}"
        wrong = _wrong_file(folder / "photos", photo.file, "the photos folder of the job")
        if wrong:
            yield f"{here}, file: {wrong}"
        yield from (f"{here}, {mistake}" for mistake in _marks(photo))


def _marks(photo: Photo) -> Iterator[str]:
    if photo.corners and photo.points:
        yield "corners: corners and points are both given. Keep one of the two."
    if photo.corners and photo.size is None:
        yield 'corners: corners need the size of the slab that they enclose. Add size, like size = ["20ft", "15ft"].'
    if photo.points and len(photo.points) < 4:
        yield f"point: {len(photo.points)} known points are given; at least 4 are needed. Mark more, or use corners."


def _wrong_file(folder: Path, file: str, called: str) -> str | None:
    """Return what is wrong with a file named in the job: outside its folder, or not there."""
    windows = PureWindowsPath(file)
    if windows.drive or windows.root or PurePosixPath(file).is_absolute() or ".." in windows.parts:
        return f"{shown(file)} leaves {called}. Copy the file into {called} and write its name alone."
    if "\\" in file:
        return f"{shown(file)} has a backslash. Write / between folders: {shown(file.replace(chr(92), '/'))}."
    try:
        place = (folder / file).resolve()
        inside = place.is_relative_to(folder.resolve())
        is_file = inside and place.is_file()
    except (OSError, ValueError):
        inside, is_file = True, False
    if not inside:
        return f"{shown(file)} is a link that leaves {called}. Copy the file itself into {called}."
    if not is_file:
        there = [entry.name for entry in folder.iterdir() if entry.is_file()] if folder.is_dir() else []
        return f"{shown(file)} is not in {called}. Copy it there, or correct the name.{nearest_of(file, there)}"
    return None


def _loads(floor: Floor) -> Iterator[str]:
    for twice in _repeated(load.name for load in floor.loads):
        yield f"load {shown(twice)}: the name is given to two loads. Give each load its own name."


def _outline(floor: Floor, job: Job) -> Iterator[str]:
    """Yield what is wrong with the shape; places are looked at only once the shape holds."""
    outline, metric = floor.outline, job.units == "metric"
    if outline is None:
        return
    try:
        check_outline(outline, metric=metric)
    except FinishAdvisorError as error:
        yield f"outline: {error}"
        return
    placed: list[tuple[str, tuple[Point, ...]]] = [
        (f"reading {number} ({reading.kind}), place", (reading.place,))
        for number, reading in enumerate(floor.readings, start=1)
        if isinstance(reading.place, tuple)
    ]
    placed += [(f"load {shown(load.name)}, boundary", load.boundary) for load in floor.loads]
    outside = points_outside(outline, [point for _, points in placed for point in points])
    for where, points in placed:
        for point in points:
            if point in outside:
                yield f"{where}: {write_place(point, metric)} is outside the floor. Correct the place, or the outline."
