"""Hourly weather as a CSV, with the units in the head: time, air_f or air_c, rh_pct, and what else is known.

    time,air_f,rh_pct,slab_f,rain_in,rain_chance_pct,wind_mph,cloud_pct
    2026-09-21T07:00,58,81,60,0,10,4,25

A time without an offset is the clock of the job's zone; the hour that comes twice in autumn is told apart by the order
of the rows. Comma, semicolon or tab may part the columns; further columns are passed over and named.
"""

import csv
import datetime
import io
import math
from collections.abc import Callable, Mapping
from typing import Final
from zoneinfo import ZoneInfo

from finishadvisor.errors import WeatherError, nearest_of
from finishadvisor.plan.weather_rows import Weather, WeatherRow, checked_rows
from finishadvisor.units import MILLIMETERS_PER_INCH, fahrenheit_from_celsius

MILES_PER_KILOMETER: Final = 1 / 1.609344
MPH_PER_METER_PER_SECOND: Final = 3.6 * MILES_PER_KILOMETER

_COLUMNS: Final[dict[str, tuple[str, Callable[[float], float]]]] = {
    "air_f": ("air_f", lambda value: value),
    "air_c": ("air_f", fahrenheit_from_celsius),
    "rh_pct": ("rh_pct", lambda value: value),
    "slab_f": ("slab_f", lambda value: value),
    "slab_c": ("slab_f", fahrenheit_from_celsius),
    "rain_in": ("rain_in", lambda value: value),
    "rain_mm": ("rain_in", lambda value: value / MILLIMETERS_PER_INCH),
    "rain_chance_pct": ("rain_chance_pct", lambda value: value),
    "wind_mph": ("wind_mph", lambda value: value),
    "wind_kmh": ("wind_mph", lambda value: value * MILES_PER_KILOMETER),
    "wind_m_s": ("wind_mph", lambda value: value * MPH_PER_METER_PER_SECOND),
    "cloud_pct": ("cloud_share", lambda value: value / 100),
}
_ALLOWED: Final = ("time", *_COLUMNS)
_MISSING: Final = {
    "slab_f": "slab temperature (it is reckoned from the air and the sun)",
    "rain_in": "rain (none is reckoned with: look at the sky)",
    "cloud_share": "cloud cover (the sky is taken as clear)",
}


def weather_of_csv(text: str, zone: ZoneInfo, name: str) -> Weather:
    """Return the weather of a CSV.

    Args:
        text: the file's text.
        zone: the job's zone, for times without an offset.
        name: the file's name, for messages.

    Raises:
        WeatherError: a column is missing or given twice, a time or number cannot be read, or a value is out of range.
    """
    lines = [line for line in _table(text, name) if any(cell.strip() for cell in line)]
    head = [cell.strip().lower() for cell in lines[0]] if lines else []
    _check_head(head, name)
    rows: list[WeatherRow] = []
    for number, cells in enumerate(lines[1:], start=2):
        if len(cells) > len(head):
            raise WeatherError(f"{name}, line {number}: {len(cells)} cells under {len(head)} columns. Mend the line.")
        cell_of = dict(zip(head, (cell.strip() for cell in cells), strict=False))
        time = _time(cell_of.get("time", ""), zone, rows[-1].time if rows else None, f"{name}, line {number}")
        values = _values(cell_of, f"{name}, line {number}")
        if values.get("air_f") is None or values.get("rh_pct") is None:
            continue
        rows.append(WeatherRow(time=time, **values))  # type: ignore[arg-type]
    ordered = checked_rows(rows, name)
    return Weather(ordered, _missing(head, ordered, len(lines) - 1 - len(rows), name))


def _table(text: str, name: str) -> list[list[str]]:
    """Return the cells of each line.

    Raises:
        WeatherError: the text is no table.
    """
    first = text.lstrip("\r\n").split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    try:
        return list(csv.reader(io.StringIO(text), delimiter=mark, strict=True))
    except csv.Error as error:
        raise WeatherError(f"{name} cannot be read as CSV: {error}. Save it again as CSV.") from None


def _check_head(head: list[str], name: str) -> None:
    """Refuse a head without what a plan needs.

    Raises:
        WeatherError: names the column and what is allowed.
    """
    fields = [_COLUMNS[column][0] if column in _COLUMNS else column for column in head]
    for needed, words in (("time", "time"), ("air_f", "air_f or air_c"), ("rh_pct", "rh_pct")):
        if needed not in fields:
            known = [column for column in head if column]
            near = next((nearest_of(column, (needed,)) for column in known if nearest_of(column, (needed,))), "")
            raise WeatherError(
                f"{name} has no column {words}; its head is {', '.join(known)[:120]!r}. "
                f"Allowed are {', '.join(_ALLOWED)}.{near}"
            )
    for field in set(fields):
        if field and fields.count(field) > 1 and (field == "time" or field in {f for f, _ in _COLUMNS.values()}):
            raise WeatherError(f"{name} gives {field} in two columns; keep one.")


def _time(cell: str, zone: ZoneInfo, before: datetime.datetime | None, where: str) -> datetime.datetime:
    """Return an aware time; without an offset it is the zone's clock.

    Raises:
        WeatherError: the cell is no time.
    """
    try:
        time = datetime.datetime.fromisoformat(cell)
        if time.tzinfo is not None:
            return time.astimezone(datetime.UTC)
        first = time.replace(tzinfo=zone).astimezone(datetime.UTC)
        again = time.replace(tzinfo=zone, fold=1).astimezone(datetime.UTC)
        return again if before is not None and first <= before < again else first
    except (ValueError, OverflowError):
        raise WeatherError(
            f"{where}: the time is {cell[:40]!r}; write it as 2026-09-21T07:00, with or without an offset."
        ) from None


def _values(cell_of: Mapping[str, str], where: str) -> dict[str, float | None]:
    """Return the numbers of a line by field; an empty cell is not known.

    Raises:
        WeatherError: a cell is no number.
    """
    values: dict[str, float | None] = {}
    for column, cell in cell_of.items():
        if column not in _COLUMNS or not cell:
            continue
        field, convert = _COLUMNS[column]
        try:
            number = float(cell)
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise WeatherError(f"{where}: {column} is {cell[:40]!r}; it must be a number, or empty where not known.")
        values[field] = convert(number)
    return values


def _missing(head: list[str], rows: tuple[WeatherRow, ...], skipped: int, name: str) -> tuple[str, ...]:
    has_rain = any(row.rain_in is not None or row.rain_chance_pct is not None for row in rows)
    absent = [
        words
        for field, words in _MISSING.items()
        if all(getattr(row, field) is None for row in rows) and not (field == "rain_in" and has_rain)
    ]
    said = [f"{name} does not give {'; '.join(absent)}."] if absent else []
    unknown = [column for column in head if column and column not in _ALLOWED]
    if unknown:
        listed = "".join(sign if sign.isprintable() else "?" for sign in " ".join(", ".join(unknown).split())[:80])
        said.append(f"{name}: the column {listed} was passed over.")
    if skipped:
        said.append(f"{name}: {skipped} rows without air temperature or humidity were passed over.")
    return tuple(said)
