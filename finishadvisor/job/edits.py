"""Changes that commands and the page make in job.toml; each leaves the rest of the file as the person wrote it."""

import datetime
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import tomlkit
from tomlkit.items import InlineTable, Table

from finishadvisor.errors import JobError, nearest_of
from finishadvisor.job.document import Decision, Done, Photo, Pour, Used
from finishadvisor.job.entries import shown
from finishadvisor.job.folder import JOB_FILE, OpenJob, edit_job
from finishadvisor.job.lengths import read_place_ft
from finishadvisor.job.toml_rows import AnyTable, append_row, inline_row, known, set_value
from finishadvisor.units import meters_from_feet

_MARKS: Final = ("corners", "point", "size", "origin_on_plan", "turned_deg", "sheet", "leave_out", "wet")


def add_reading(
    folder: Path,
    floor: str,
    *,
    kind: str,
    value: str | float,
    date: datetime.date,
    place: str | Sequence[str | float] | None = None,
    note: str | None = None,
    version: str | None = None,
) -> OpenJob:
    """Add a reading to a floor.

    Args:
        folder: the job folder.
        floor: the floor's name.
        kind: the kind of reading.
        value: as typed: a number in the job's units, a text with its unit, or the word of a look-and-see test.
        date: when it was taken.
        place: where: x and y on the plan, or words.
        note: anything worth keeping.
        version: see `edit_job`.

    Raises:
        JobError: the floor is not there, or the entry is refused; nothing is written then.
    """
    at = list(place) if place is not None and not isinstance(place, str) else place
    row = {"kind": kind, "value": value, "date": date, "place": at, "note": note}
    return edit_floor(folder, floor, lambda table, _metric: append_row(table, "reading", row), version)


def add_used(folder: Path, floor: str, used: Used, version: str | None = None) -> OpenJob:
    """Add what was really used of a material to a floor.

    Raises:
        JobError: the floor is not there, or the entry is refused; nothing is written then.
    """
    row = used.model_dump(by_alias=True)
    return edit_floor(folder, floor, lambda table, _metric: append_row(table, "used", row), version)


def add_done(folder: Path, floor: str, done: Sequence[Done], version: str | None = None) -> OpenJob:
    """Add finished tasks, and parts of tasks, to a floor; a task that is recorded as finished already gets the new day.

    Raises:
        JobError: the floor is not there, or an entry is refused; nothing is written then.
    """

    def change(table: AnyTable, _metric: bool) -> None:
        for each in done:
            row = {**each.model_dump(exclude={"zones"}), "zones": list(each.zones) or None}
            listed = next((entry for entry in table.get("done", ()) if _is_whole(entry, each)), None)
            if listed is None or each.is_part:
                append_row(table, "done", row)
                continue
            for key, value in row.items():
                set_value(listed, key, value)

    return edit_floor(folder, floor, change, version)


def _is_whole(entry: Mapping[str, Any], done: Done) -> bool:
    """Return whether an entry records the same task as finished."""
    return entry.get("task") == done.task and not entry.get("zones") and "area_ft2" not in entry


def decide(folder: Path, floor: str, decision: Decision, version: str | None = None) -> OpenJob:
    """Write down which finish a floor gets; an earlier decision is replaced.

    Raises:
        JobError: the floor is not there, or the entry is refused; nothing is written then.
    """

    def change(table: AnyTable, _metric: bool) -> None:
        set_value(table, "decision", inline_row(known(decision.model_dump())))

    return edit_floor(folder, floor, change, version)


def answer(
    folder: Path, floor: str, answers: Mapping[str, str | float | bool | None], version: str | None = None
) -> OpenJob:
    """Write answers to facts of a floor; None takes an answer away.

    Raises:
        JobError: the floor is not there, or an entry is refused; nothing is written then.
    """

    def change(table: AnyTable, _metric: bool) -> None:
        if "answers" not in table:
            set_value(table, "answers", tomlkit.inline_table() if isinstance(table, InlineTable) else tomlkit.table())
        for fact, value in answers.items():
            set_value(table["answers"], fact, value)

    return edit_floor(folder, floor, change, version)


def mark_photo(folder: Path, floor: str, photo: Photo, version: str | None = None) -> OpenJob:
    """Write the marks of a photo; a photo that the floor does not list yet is added.

    Raises:
        JobError: the floor is not there, or a mark is refused; nothing is written then.
    """

    def change(table: AnyTable, metric: bool) -> None:
        marks = _marks(photo, metric)
        listed = next((entry for entry in table.get("photo", ()) if entry.get("file") == photo.file), None)
        if listed is None:
            row = {"file": photo.file, "taken": photo.taken, "shows": photo.shows, **marks}
            append_row(table, "photo", row)
            return
        for key in _MARKS:
            set_value(listed, key, marks.get(key))

    return edit_floor(folder, floor, change, version)


def describe(
    folder: Path,
    floor: str,
    *,
    pour: Pour | None,
    last_wetting: datetime.date | None,
    sides: tuple[str, str] | None,
    version: str | None = None,
) -> OpenJob:
    """Write when a floor was poured and last wetted, and its two sides where it is one rectangle; None takes away.

    Args:
        folder: the job folder.
        floor: the floor's name.
        pour: the day of the pour.
        last_wetting: the day the slab was last wet.
        sides: the sides along x and y as typed; an outline that holds more than one rectangle is left as it is.
        version: see `edit_job`.

    Raises:
        JobError: the floor is not there, or an entry is refused; nothing is written then.
    """

    def change(table: AnyTable, _metric: bool) -> None:
        _set_row(table, "pour", {"date": pour.date, "about": pour.about or None} if pour else None)
        set_value(table, "last_wetting", last_wetting)
        if sides and not _is_drawn(table.get("outline")):
            _set_row(table, "outline", {})
            _set_rectangle(table["outline"], sides)

    return edit_floor(folder, floor, change, version)


def _set_row(table: AnyTable, key: str, row: Mapping[str, Any] | None) -> None:
    """Write a row into the table that is there, in the form it has, or as a new inline table; None takes it away."""
    if row is None or key not in table:
        set_value(table, key, None if row is None else inline_row(known(row)))
        return
    for name, value in row.items():
        set_value(table[key], name, value)


def _set_rectangle(outline: Any, sides: tuple[str, str]) -> None:
    if outline.get("rectangle"):
        for name, side in zip("xy", sides, strict=True):
            outline["rectangle"][0][name] = side
    else:
        set_value(outline, "rectangle", [{"x": sides[0], "y": sides[1]}])


def _is_drawn(outline: Any) -> bool:
    """Return whether an outline holds more than one plain rectangle at the origin."""
    if not outline:
        return False
    rectangles = outline.get("rectangle", ())
    return len(rectangles) > 1 or "polygons" in outline or not all(map(_is_at_origin, rectangles))


def _is_at_origin(rectangle: Any) -> bool:
    return all(read_place_ft(place) == 0 for place in rectangle.get("corner", (0, 0)))


def edit_floor(folder: Path, floor: str, change: Any, version: str | None) -> OpenJob:
    """Change the table of one floor; `change` is given it and whether the job is metric.

    Raises:
        JobError: as `edit_job` says, or the floor is not there; nothing is written then.
    """

    def change_document(document: tomlkit.TOMLDocument) -> None:
        change(_floor_table(document, floor), document.get("units") == "metric")

    return edit_job(folder, change_document, version)


def _floor_table(document: tomlkit.TOMLDocument, name: str) -> AnyTable:
    """Return the table of the floor of that name.

    Raises:
        JobError: there is none.
    """
    floors = [floor for floor in document.get("floor", ()) if isinstance(floor, Table | InlineTable)]
    for floor in floors:
        if str(floor.get("name", "")).strip() == name:
            return floor
    names = [str(floor.get("name", "")) for floor in floors]
    listed = nearest_of(name, names) or f" It has: {', '.join(map(shown, names))}."
    raise JobError(f"{JOB_FILE} has no floor {shown(name)}.{listed}")


def _marks(photo: Photo, metric: bool) -> dict[str, Any]:
    """Return the marks that a photo bears, as plain values; lengths with their unit."""

    def lengths(feet: Sequence[float]) -> list[str]:
        return [f"{meters_from_feet(each):.6g} m" if metric else f"{each:.6g} ft" for each in feet]

    points = [{"pixel": list(point.pixel), "place": lengths(point.place)} for point in photo.points]
    return {
        "corners": [list(corner) for corner in photo.corners] if photo.corners else None,
        "point": points or None,
        "size": lengths(photo.size) if photo.size else None,
        "origin_on_plan": lengths(photo.origin_on_plan) if photo.origin_on_plan else None,
        "turned_deg": photo.turned_deg or None,
        "sheet": [{"at": list(sheet.at), "reflectance": sheet.reflectance} for sheet in photo.sheets] or None,
        "leave_out": [[list(pixel) for pixel in area] for area in photo.leave_out] or None,
        "wet": [[list(pixel) for pixel in area] for area in photo.wet] or None,
    }
