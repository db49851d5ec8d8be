"""The trend through dated slab RH readings of one place: when it reaches a limit, with its uncertainty.

This only says when the next test is worth while. A test decides, never these dates.
"""

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.errors import OutOfRangeError, require_between

_Z_FOR_10_AND_90_PCT: Final = 1.2816
"""Standard normal quantile."""

_FORESEEABLE_DAYS: Final = 3650
"""Dates further ahead than ten years are not given: our choice."""


@dataclass(frozen=True)
class DryingTrend:
    """When the trend through dated readings reaches a limit. A None date: not foreseeable from these readings."""

    earliest: datetime.date | None
    """10 in 100 chance or less that the limit is reached before."""
    expected: datetime.date | None
    latest: datetime.date | None
    """10 in 100 chance or less that it takes longer."""
    fall_pct_per_week: float
    """How fast slab RH falls at the last reading; negative where it rises."""


def rh_trend(
    dates: Sequence[datetime.date],
    slab_rh_pct: Sequence[float],
    limit_pct: float,
    end_rh_pct: float,
    reading_sd_pct: float = 1.5,
) -> DryingTrend:
    """Return when slab RH reaches a limit, from the trend through dated readings of one place.

    Slab RH is taken to fall toward `end_rh_pct` exponentially: ln(RH - end) is fitted by a weighted straight line over
    the days. The scatter is `reading_sd_pct` or that of the readings about the line, whichever is larger. Earliest and
    latest are where the 10 % and 90 % limits of the line cross the limit; when the fall is not sure, latest is None.
    Two readings give a line but no check of it. Readings from before the last wetting do not belong in.

    Args:
        dates: days of the readings, two or more on different days, any order.
        slab_rh_pct: readings in the same order [%], above `end_rh_pct`, up to 100.
        limit_pct: slab RH asked for [%], above 0, below 100.
        end_rh_pct: slab RH after years, about that of the air over it [%], 0 to 95.
        reading_sd_pct: standard deviation of one reading [%], 0.1 to 10; 1.5 for a checked probe is our choice.

    Raises:
        OutOfRangeError: too few readings, lengths that differ, or a value outside its range.

    Source: weighted least squares and Fieller (1954) for the crossing; the exponential form is our choice.
    """
    _check(dates, slab_rh_pct, limit_pct, end_rh_pct, reading_sd_pct)
    line = _fit(dates, slab_rh_pct, end_rh_pct, reading_sd_pct)
    first, last = min(dates).toordinal(), max(dates).toordinal()
    at_last = math.exp(line.middle_log + line.slope * (last - line.middle_day))
    fall = -7 * line.slope * at_last
    if limit_pct <= end_rh_pct:
        return DryingTrend(None, None, None, fall)
    above_log = line.middle_log - math.log(limit_pct - end_rh_pct)
    expected_day = line.middle_day - above_log / line.slope if line.slope < 0 else None
    earliest_day = _earliest_day(line, above_log, last)
    if earliest_day is not None and expected_day is not None:
        earliest_day = min(earliest_day, expected_day)
    crossings = (earliest_day, expected_day, _latest_day(line, above_log))
    earliest, expected, latest = (_date(day, first, last) for day in crossings)
    return DryingTrend(earliest, expected, latest, fall)


def _check(
    dates: Sequence[datetime.date],
    slab_rh_pct: Sequence[float],
    limit_pct: float,
    end_rh_pct: float,
    reading_sd_pct: float,
) -> None:
    if len(dates) != len(slab_rh_pct):
        raise OutOfRangeError(
            f"{len(dates)} dates stand beside {len(slab_rh_pct)} readings; each reading needs its date. Fill the gap."
        )
    if len(set(dates)) < 2:
        raise OutOfRangeError(
            f"The number of days with readings is {len(set(dates))}; a trend needs 2 or more. "
            "Read the same hole again later."
        )
    require_between("Slab RH limit", limit_pct, 1, 99, "%")
    require_between("Slab RH after years", end_rh_pct, 0, 95, "%")
    require_between("Standard deviation of a reading", reading_sd_pct, 0.1, 10, "%")
    for reading in slab_rh_pct:
        require_between("Slab RH reading", reading, end_rh_pct + 1, 100, "%")


@dataclass(frozen=True)
class _Line:
    """A weighted straight line of ln(RH - end) over days, about its middle, with variances of height and slope."""

    middle_day: float
    middle_log: float
    slope: float
    height_variance: float
    slope_variance: float


def _fit(dates: Sequence[datetime.date], slab_rh_pct: Sequence[float], end_rh_pct: float, sd_pct: float) -> _Line:
    days = [float(day.toordinal()) for day in dates]
    logs = [math.log(reading - end_rh_pct) for reading in slab_rh_pct]
    # An error of sd in RH is one of sd / (RH - end) in the logarithm.
    weights = [((reading - end_rh_pct) / sd_pct) ** 2 for reading in slab_rh_pct]
    total = sum(weights)
    middle_day = sum(w * day for w, day in zip(weights, days, strict=True)) / total
    middle_log = sum(w * log for w, log in zip(weights, logs, strict=True)) / total
    across = sum(w * (day - middle_day) ** 2 for w, day in zip(weights, days, strict=True))
    along = sum(w * (day - middle_day) * log for w, day, log in zip(weights, days, logs, strict=True))
    slope = along / across
    residuals = (log - middle_log - slope * (day - middle_day) for day, log in zip(days, logs, strict=True))
    misfit = sum(w * residual**2 for w, residual in zip(weights, residuals, strict=True))
    scatter = max(1.0, misfit / (len(days) - 2)) if len(days) > 2 else 1.0
    return _Line(middle_day, middle_log, slope, scatter / total, scatter / across)


def _quadratic(line: _Line, above_log: float) -> tuple[float, float, float]:
    """Coefficients of (height + slope·u)² = z²·variance(u): where the limits of the line cross the wanted level."""
    z2 = _Z_FOR_10_AND_90_PCT**2
    return (
        line.slope**2 - z2 * line.slope_variance,
        2 * line.slope * above_log,
        above_log**2 - z2 * line.height_variance,
    )


def _earliest_day(line: _Line, above_log: float, last_day: float) -> float | None:
    """Day on which the lower limit of the line comes down to the wanted level; the last one if it may be there now."""
    a, b, c = _quadratic(line, above_log)
    if a > 0 and line.slope < 0:
        return line.middle_day + (-b - math.sqrt(max(0.0, b * b - 4 * a * c))) / (2 * a)
    if above_log <= 0 or c <= 0:
        return last_day
    if a > 0:
        return None
    return line.middle_day + 2 * c / (-b + math.sqrt(b * b - 4 * a * c))


def _latest_day(line: _Line, above_log: float) -> float | None:
    """Day on which the upper limit of the line comes down to the wanted level; None while the fall is not sure."""
    a, b, c = _quadratic(line, above_log)
    if a <= 0 or line.slope >= 0:
        return None
    return line.middle_day + (-b + math.sqrt(max(0.0, b * b - 4 * a * c))) / (2 * a)


def _date(day: float | None, first_day: int, last_day: int) -> datetime.date | None:
    """The date of a day, not before the first reading; None when it is not foreseeable."""
    if day is None or day > last_day + _FORESEEABLE_DAYS:
        return None
    return datetime.date.fromordinal(max(first_day, round(day)))
