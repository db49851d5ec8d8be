"""Where the sun stands over the job: latitude and longitude from the forecast, else from the time zone's city."""

import datetime
import re
from functools import cache, lru_cache
from importlib import resources

from finishadvisor.formulas.slab_heat import sun_altitude_deg

_MIDDLE_LATITUDE_DEG = 40.0


@cache
def place_of_zone(time_zone: str) -> tuple[float, float] | None:
    """Return latitude and longitude [°] of the city that an IANA zone is named for, None where none is listed.

    Source: zone.tab of the IANA time zone database. A zone spans several hundred miles, which moves the sun's height by
    up to some 10° and its hour by up to one.
    """
    table = resources.files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8")
    for line in table.splitlines():
        cells = line.split("\t")
        if len(cells) > 2 and cells[2] == time_zone:
            parts = re.fullmatch(r"([+-]\d+)([+-]\d+)", cells[1])
            return (_degrees(parts[1], 2), _degrees(parts[2], 3)) if parts else None
    return None


def _degrees(text: str, whole_digits: int) -> float:
    """Return ±DDMM, ±DDMMSS or the same with three digits as degrees."""
    sign = -1 if text[0] == "-" else 1
    digits = text[1:]
    degrees, minutes, seconds = (
        digits[:whole_digits],
        digits[whole_digits : whole_digits + 2],
        digits[whole_digits + 2 :],
    )
    return sign * (int(degrees) + int(minutes) / 60 + int(seconds or 0) / 3600)


@lru_cache(maxsize=8)
def sun_altitudes_deg(
    first: datetime.datetime, hours: int, latitude_deg: float | None, longitude_deg: float | None
) -> tuple[float, ...]:
    """Return the sun's height in the middle of each hour [°].

    Args:
        first: aware start of the first hour.
        hours: how many.
        latitude_deg: latitude [°]; None: 40°.
        longitude_deg: longitude, east positive [°]; None: the middle of the zone's offset.
    """
    latitude = min(max(_MIDDLE_LATITUDE_DEG if latitude_deg is None else latitude_deg, -66.0), 66.0)
    offset = first.utcoffset() or datetime.timedelta()
    longitude = 15 * offset / datetime.timedelta(hours=1) if longitude_deg is None else longitude_deg
    middle = first.astimezone(datetime.UTC) + datetime.timedelta(minutes=30)
    heights = []
    for number in range(hours):
        moment = middle + datetime.timedelta(hours=number)
        solar = (moment.hour + moment.minute / 60 + longitude / 15) % 24
        heights.append(sun_altitude_deg(latitude, moment.timetuple().tm_yday, solar))
    return tuple(heights)
