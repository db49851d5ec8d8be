"""Weather as the plan knows it: rows in order of time, and what every weather must hold."""

import datetime
import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from finishadvisor.errors import WeatherError
from finishadvisor.formulas.air import HIGHEST_AIR_F, LOWEST_AIR_F

MOST_ROWS = 20_000


@dataclass(frozen=True)
class WeatherRow:
    """Weather from one moment on, as a file gives it; None where the file says nothing."""

    time: datetime.datetime
    """Aware."""
    air_f: float
    rh_pct: float
    slab_f: float | None = None
    rain_in: float | None = None
    """Rain that falls in the time of the row [in]."""
    rain_chance_pct: float | None = None
    wind_mph: float | None = None
    cloud_share: float | None = None


@dataclass(frozen=True, eq=False)
class Weather:
    """A weather file read: rows in order of time, what is missing, and where it is for, if it says so.

    One is equal to itself only, so that what is made of a long file is found again without comparing its rows.
    """

    rows: tuple[WeatherRow, ...]
    missing: tuple[str, ...]
    """A sentence each."""
    latitude_deg: float | None = None
    longitude_deg: float | None = None


def checked_rows(rows: Sequence[WeatherRow], name: str) -> tuple[WeatherRow, ...]:
    """Return rows in order of time after a check of what every weather must hold.

    Raises:
        WeatherError: too few or too many rows, two at one time, or a value that no weather has.
    """
    if len(rows) < 2:
        raise WeatherError(f"{name} holds {len(rows)} usable row; a plan needs at least 2, one an hour. Add rows.")
    if len(rows) > MOST_ROWS:
        raise WeatherError(f"{name} holds more than {MOST_ROWS} rows. Keep the days of the job only.")
    ordered = sorted(rows, key=lambda row: row.time)
    for before, row in itertools.pairwise(ordered):
        if before.time == row.time:
            raise WeatherError(f"{name} gives {row.time.isoformat()} twice; each time may stand once. Remove one.")
    for row in ordered:
        _check_row(row, name)
    return tuple(ordered)


def _check_row(row: WeatherRow, name: str) -> None:
    """Refuse values that no weather has.

    Raises:
        WeatherError: names the time, the value and what is allowed.
    """
    limits: tuple[tuple[str, float | None, float, float, str], ...] = (
        ("air temperature", row.air_f, LOWEST_AIR_F, HIGHEST_AIR_F, "°F"),
        ("relative humidity", row.rh_pct, 1, 100, "%"),
        ("slab temperature", row.slab_f, LOWEST_AIR_F, 160, "°F"),
        ("rain", row.rain_in, 0, 12, "in"),
        ("chance of rain", row.rain_chance_pct, 0, 100, "%"),
        ("wind", row.wind_mph, 0, 200, "mph"),
        ("cloud cover", row.cloud_share, 0, 1, ""),
    )
    for what, value, low, high, unit in limits:
        if value is not None and not low <= value <= high:
            raise WeatherError(
                f"{name}, {row.time.isoformat()}: {what} is {value:g} {unit}".rstrip()
                + f"; it must lie between {low:g} and {high:g} {unit}".rstrip()
                + ". Check the value and the unit in the head of its column."
            )
