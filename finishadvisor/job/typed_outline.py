"""An outline as a person types it, entry by entry, and its way back into job.toml without losing anything else."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import tomlkit
from pydantic import BaseModel, ConfigDict, Field
from tomlkit.items import AoT, InlineTable

from finishadvisor.errors import EntryError
from finishadvisor.job.edits import edit_floor
from finishadvisor.job.folder import JOB_FILE, OpenJob, find_folder
from finishadvisor.job.lengths import read_place_ft
from finishadvisor.job.toml_rows import AnyTable, append_row, inline_row, known, remove_row, remove_table, set_value
from finishadvisor.job.toml_text import decode, parse, read_bytes

LONGEST_ENTRY: Final = 2_000
MOST_PARTS: Final = 500
MOST_CORNERS: Final = 2_000

Entry = str
"""A length, number or word as typed; "" where nothing is stated."""
TypedPoint = tuple[Entry, Entry]


class Typed(BaseModel):
    """A closed part of a typed outline. `was`: which entry of job.toml it stands for, from 0; None for a new one."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_max_length=LONGEST_ENTRY, strict=True)


class TypedRectangle(Typed):
    """A rectangle: its corner nearest the origin, and its sides along x and y."""

    was: int | None = None
    corner: TypedPoint = ("", "")
    x: Entry = ""
    y: Entry = ""


class TypedPolygon(Typed):
    """A polygon or a cut-out: its corners in order."""

    was: int | None = None
    corners: tuple[TypedPoint, ...] = Field(default=(), max_length=MOST_CORNERS)


class TypedSteps(Typed):
    """A flight of steps."""

    was: int | None = None
    count: Entry = ""
    width: Entry = ""
    tread: Entry = ""
    riser: Entry = ""


class TypedJoint(Typed):
    """A joint or crack. `moving`: "yes", "no" or ""."""

    was: int | None = None
    kind: Entry = "control"
    start: TypedPoint = ("", "")
    end: TypedPoint = ("", "")
    width: Entry = ""
    depth: Entry = ""
    moving: Entry = ""


class TypedOutline(Typed):
    """Everything that a floor's outline holds, as typed."""

    rectangles: tuple[TypedRectangle, ...] = Field(default=(), max_length=MOST_PARTS)
    polygons: tuple[TypedPolygon, ...] = Field(default=(), max_length=MOST_PARTS)
    cut_outs: tuple[TypedPolygon, ...] = Field(default=(), max_length=MOST_PARTS)
    steps: tuple[TypedSteps, ...] = Field(default=(), max_length=MOST_PARTS)
    joints: tuple[TypedJoint, ...] = Field(default=(), max_length=MOST_PARTS)
    edge: Entry = ""
    cove: Entry = ""
    origin: Entry = ""
    x_direction: Entry = ""


_ALONE: Final = ("edge", "cove", "origin", "x_direction")
_IN_ALONE: Final = frozenset({"origin", "x_direction", "kind"})


def outline_as_typed(folder: Path, floor: str) -> TypedOutline:
    """Return a floor's outline as it stands in job.toml, in the words of the person who wrote it.

    Raises:
        JobError: there is no job, or it cannot be read.
    """
    plain = parse(decode(read_bytes(find_folder(folder) / JOB_FILE), JOB_FILE), JOB_FILE)
    floors: list[Mapping[str, Any]] = plain.get("floor", [])
    found = next((each for each in floors if str(each.get("name", "")).strip() == floor), {})
    outline = found.get("outline", {})

    def rows(key: str) -> tuple[dict[str, Any], ...]:
        return tuple({"was": n, **_texts(row)} for n, row in enumerate(outline.get(key, ())))

    def polygons(key: str) -> tuple[dict[str, Any], ...]:
        return tuple({"was": n, "corners": _texts(corners)} for n, corners in enumerate(outline.get(key, ())))

    return TypedOutline.model_validate({
        "rectangles": rows("rectangle"),
        "polygons": polygons("polygons"),
        "cut_outs": polygons("cut_outs"),
        "steps": rows("steps"),
        "joints": rows("joint"),
        **{key: _texts(outline[key]) for key in _ALONE if key in outline},
    })


def draw_outline(folder: Path, floor: str, typed: TypedOutline, version: str | None = None) -> OpenJob:
    """Write an outline; what was not changed stays as it was written, comments with it.

    Args:
        folder: the job folder.
        floor: the floor's name.
        typed: the whole outline; one that holds nothing takes the floor's outline away.
        version: see `edit_job`.

    Raises:
        JobError: the floor is not there, or the outline is refused; nothing is written then.
    """

    def change(table: AnyTable, _metric: bool) -> None:
        if typed == TypedOutline():
            remove_table(table, "outline")
            return
        if "outline" not in table:
            set_value(table, "outline", tomlkit.inline_table() if isinstance(table, InlineTable) else tomlkit.table())
        outline = table["outline"]
        for key in _ALONE:
            _change_entry(outline, key, getattr(typed, key))
        _change_polygons(outline, "polygons", typed.polygons)
        _change_polygons(outline, "cut_outs", typed.cut_outs)
        for key, rows in (("rectangle", typed.rectangles), ("steps", typed.steps), ("joint", typed.joints)):
            _change_rows(outline, key, [(row.was, row.model_dump(exclude={"was"})) for row in rows])

    return edit_floor(folder, floor, change, version)


def _texts(value: Any) -> Any:
    """Return a value of job.toml as typed texts, in the shape that it has."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return {key: _texts(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return tuple(_texts(each) for each in value)
    return value if isinstance(value, str) else f"{value:.12g}"


def _value(key: str, entry: Any) -> Any:
    """Return what is written for an entry: a number for digits alone, None for nothing, words as they are."""
    if isinstance(entry, tuple):
        return [_number_or_text(each) or 0 for each in entry] if any(each.strip() for each in entry) else None
    if key == "moving":
        return {"yes": True, "no": False}.get(entry)
    return entry.strip() or None if key in _IN_ALONE else _number_or_text(entry)


def _number_or_text(entry: Entry) -> str | float | None:
    text = entry.strip()
    try:
        number = float(text)
    except ValueError:
        return text or None
    return int(number) if number.is_integer() and abs(number) < 1e9 else number


def _is_same(old: Any, entry: Any) -> bool:
    """Return whether an entry says what stands in the file already."""
    if isinstance(entry, tuple):
        return isinstance(old, list) and len(old) == len(entry) and all(map(_is_same, old, entry))
    if _texts(old) == entry.strip():
        return True
    try:
        return not isinstance(old, bool) and read_place_ft(old) == read_place_ft(_number_or_text(entry))
    except EntryError:
        return False


def _change_entry(table: Any, key: str, entry: Any) -> None:
    if key in table and _is_same(table[key], entry):
        return
    set_value(table, key, _value(key, entry))


def _change_rows(outline: Any, key: str, rows: Sequence[tuple[int | None, Mapping[str, Any]]]) -> None:
    """Change the rows that are there, take out those that are not wanted any more, add the new ones."""
    there = outline.get(key, ())
    stays = {was: row for was, row in reversed(rows) if was is not None and 0 <= was < len(there)}
    new = [row for was, row in rows if was is None or stays.get(was) is not row]
    for number, row in stays.items():
        for name, entry in row.items():
            _change_entry(there[number], name, entry)
    for number in reversed(range(len(there))):
        if number not in stays:
            remove_row(outline, key, number)
    for row in new:
        _add_row(outline, key, {name: _value(name, entry) for name, entry in row.items()})


def _add_row(outline: Any, key: str, row: Mapping[str, Any]) -> None:
    there = outline.get(key)
    if there is None or isinstance(there, AoT):
        append_row(outline, key, row)
    else:
        there.append(inline_row(known(row)))


def _change_polygons(outline: Any, key: str, polygons: Sequence[TypedPolygon]) -> None:
    """Change polygons corner by corner, so that comments between them stay."""
    there = outline.get(key, ())
    stays = {each.was: each for each in reversed(polygons) if each.was is not None and 0 <= each.was < len(there)}
    for number, polygon in stays.items():
        _change_corners(there[number], polygon.corners)
    for number in reversed(range(len(there))):
        if number not in stays:
            remove_row(outline, key, number)
    added = [each for each in polygons if each.was is None or stays.get(each.was) is not each]
    new = [[_place(corner) for corner in each.corners] for each in added]
    if new and key not in outline:
        set_value(outline, key, tomlkit.array())
    for corners in new:
        outline[key].append(corners)


def _change_corners(there: Any, corners: Sequence[TypedPoint]) -> None:
    for old, corner in zip(there, corners, strict=False):
        for axis, value in enumerate(_place(corner)):
            if not _is_same(old[axis], corner[axis]):
                old[axis] = value
    for corner in corners[len(there) :]:
        there.append(_place(corner))
    while len(there) > len(corners):
        del there[-1]


def _place(corner: TypedPoint) -> list[Any]:
    """Return a corner as it is written; what is missing is refused by the check of the job, in its own words."""
    return ["" if (value := _number_or_text(entry)) is None else value for entry in corner]
