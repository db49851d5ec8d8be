"""Weather rows put on the plan's hours: several rows in an hour are averaged, short gaps bridged, the end continued."""

import bisect
import datetime
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from finishadvisor.plan.weather_rows import Weather, WeatherRow

State = Literal["known", "assumed", "missing"]


@dataclass(frozen=True)
class Hour:
    """Weather of one hour. Assumed: past the end of the file, the mean day goes on. Missing: inside a gap of it."""

    state: State
    air_f: float
    rh_pct: float
    slab_f: float | None
    rain_in: float
    rain_chance_pct: float
    wind_mph: float | None
    cloud_share: float | None


@lru_cache(maxsize=8)
def hourly(weather: Weather, first: datetime.datetime, hours: int, longest_gap_h: float) -> tuple[Hour, ...] | None:
    """Return the weather of each hour, None where the file does not reach past the first.

    Args:
        weather: rows in order of time.
        first: aware start of the first hour.
        hours: how many.
        longest_gap_h: a gap between rows up to this long is bridged by a straight line; in a longer one the weather
            stays unknown, and nothing is laid in it [h].
    """
    times = [(row.time - first) / datetime.timedelta(hours=1) for row in weather.rows]
    known_until = times[-1] + 1
    if known_until <= 0:
        return None
    last_known = min(hours, math.ceil(known_until))
    course = [_hour(weather.rows, times, number, longest_gap_h) for number in range(last_known)]
    return tuple(course) + _mean_days(course, hours - last_known)


def hours_before(weather: Weather, first: datetime.datetime) -> int:
    """Return how many full hours of the file lie before a moment."""
    return max(0, math.floor((first - weather.rows[0].time) / datetime.timedelta(hours=1)))


def _hour(rows: Sequence[WeatherRow], times: Sequence[float], number: int, longest_gap_h: float) -> Hour:
    begin, end = bisect.bisect_left(times, number), bisect.bisect_left(times, number + 1)
    if begin < end:
        return _averaged(rows[begin:end])
    if begin == 0:
        return replace(_averaged(rows[:1]), state="missing")
    if begin == len(rows):
        return _averaged(rows[-1:])
    before, after = rows[begin - 1], rows[begin]
    share = (number + 0.5 - times[begin - 1]) / (times[begin] - times[begin - 1])
    bridged = times[begin] - times[begin - 1] <= longest_gap_h
    return Hour(
        state="known" if bridged else "missing",
        air_f=_between(before.air_f, after.air_f, share),
        rh_pct=_between(before.rh_pct, after.rh_pct, share),
        slab_f=_both(before.slab_f, after.slab_f, share),
        rain_in=before.rain_in or 0.0,
        rain_chance_pct=before.rain_chance_pct or 0.0,
        wind_mph=_both(before.wind_mph, after.wind_mph, share),
        cloud_share=_both(before.cloud_share, after.cloud_share, share),
    )


def _between(low: float, high: float, share: float) -> float:
    return low + (high - low) * share


def _both(before: float | None, after: float | None, share: float) -> float | None:
    return None if before is None or after is None else _between(before, after, share)


def _averaged(rows: Sequence[WeatherRow]) -> Hour:
    return Hour(
        state="known",
        air_f=sum(row.air_f for row in rows) / len(rows),
        rh_pct=sum(row.rh_pct for row in rows) / len(rows),
        slab_f=_mean([row.slab_f for row in rows]),
        rain_in=sum(row.rain_in or 0 for row in rows),
        rain_chance_pct=max(row.rain_chance_pct or 0 for row in rows),
        wind_mph=_mean([row.wind_mph for row in rows]),
        cloud_share=_mean([row.cloud_share for row in rows]),
    )


def _mean(values: Sequence[float | None]) -> float | None:
    given = [value for value in values if value is not None]
    return sum(given) / len(given) if given else None


def _mean_days(course: Sequence[Hour], hours: int) -> tuple[Hour, ...]:
    """Return the mean of the file's hours by hour of the day, over and over; rain is not foreseen."""
    known = [(number, hour) for number, hour in enumerate(course) if hour.state == "known"] or list(enumerate(course))
    by_hour = []
    for of_day in range(24):
        same = [hour for number, hour in known if number % 24 == of_day] or [hour for _, hour in known]
        by_hour.append(_mean_hour(same))
    return tuple(by_hour[(len(course) + number) % 24] for number in range(hours))


def _mean_hour(hours: Sequence[Hour]) -> Hour:
    def mean_of(value: Callable[[Hour], float | None]) -> float | None:
        return _mean([value(hour) for hour in hours])

    return Hour(
        state="assumed",
        air_f=mean_of(lambda hour: hour.air_f) or 0.0,
        rh_pct=mean_of(lambda hour: hour.rh_pct) or 1.0,
        slab_f=None,
        rain_in=0.0,
        rain_chance_pct=0.0,
        wind_mph=None,
        cloud_share=mean_of(lambda hour: hour.cloud_share),
    )
