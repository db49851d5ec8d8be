"""The hourly forecast of the US national weather service, an open GeoJSON format, saved to a file.

Read are `properties.periods[]` with startTime, temperature and temperatureUnit, relativeHumidity, windSpeed,
probabilityOfPrecipitation and shortForecast, and the place from `geometry`. Plain numbers and value objects
(`{"unitCode": ..., "value": ...}`) are both understood.
"""

import datetime
import json
import math
import re
from collections.abc import Mapping
from typing import Any, Final
from zoneinfo import ZoneInfo

from finishadvisor.errors import WeatherError
from finishadvisor.plan.weather_rows import Weather, WeatherRow, checked_rows
from finishadvisor.units import fahrenheit_from_celsius

# Middle of the sky-cover eighths that US forecasts put behind these words (from memory).
_CLOUD_WORDS: Final = (
    ("mostly sunny", 0.3), ("mostly clear", 0.3), ("partly sunny", 0.55), ("partly cloudy", 0.45),
    ("mostly cloudy", 0.75), ("increasing clouds", 0.6), ("decreasing clouds", 0.5), ("cloudy", 0.95),
    ("overcast", 1.0), ("fog", 1.0), ("sunny", 0.05), ("clear", 0.05), ("rain", 0.9), ("showers", 0.85),
    ("storm", 0.85), ("snow", 0.95), ("drizzle", 0.95),
)  # fmt: skip
_WET_WORDS: Final = ("rain", "shower", "storm", "snow", "drizzle", "sleet")
_KMH_PER_MPH: Final = 1.609344
_HUGE: Final = 1e9
"""No number of a forecast is this large."""


def weather_of_forecast(text: str, _zone: ZoneInfo, name: str) -> Weather:
    """Return the weather of a saved hourly forecast.

    Args:
        text: the file's text.
        name: the file's name, for messages.

    Raises:
        WeatherError: it is not such a forecast, or a value in it cannot be used.
    """
    plain = _json(text, name)
    properties = plain.get("properties")
    periods = properties.get("periods") if isinstance(properties, Mapping) else None
    if not isinstance(periods, list) or not periods:
        raise WeatherError(
            f"{name} holds no properties.periods; it must be the hourly forecast as GeoJSON, or a CSV. "
            "Save the hourly forecast, not the page about it."
        )
    rows = [_row(period, f"{name}, period {number}") for number, period in enumerate(periods, start=1)]
    ordered = checked_rows([row for row in rows if row is not None], name)
    said = [f"{name} does not give slab temperature (it is reckoned from the air and the sun)."]
    if len(ordered) < len(rows):
        said.append(f"{name}: {len(rows) - len(ordered)} hours without temperature or humidity were passed over.")
    if all(row.cloud_share is None for row in ordered):
        said.append(f"{name} does not give cloud cover in words that are known (the sky is taken as clear).")
    latitude_deg, longitude_deg = _place(plain.get("geometry"))
    return Weather(ordered, tuple(said), latitude_deg, longitude_deg)


def _json(text: str, name: str) -> Mapping[str, Any]:
    """Return the file as JSON.

    Raises:
        WeatherError: it is not a JSON object.
    """
    try:
        plain = json.loads(text)
    except (ValueError, RecursionError):
        raise WeatherError(f"{name} begins like JSON but cannot be read as JSON. Download it again, whole.") from None
    if not isinstance(plain, Mapping):
        raise WeatherError(f"{name} is JSON, but not an hourly forecast. Save the hourly forecast as GeoJSON.")
    return plain


def _row(period: Any, where: str) -> WeatherRow | None:
    """Return one hour, None where it has no temperature or humidity.

    Raises:
        WeatherError: the hour has no usable time.
    """
    if not isinstance(period, Mapping):
        raise WeatherError(f"{where} is not an hour of a forecast. Download the file again, whole.")
    air_f = _air_f(period)
    rh_pct = _number(period.get("relativeHumidity"))
    if air_f is None or rh_pct is None:
        return None
    words = str(period.get("shortForecast") or "").lower()
    chance = _number(period.get("probabilityOfPrecipitation"))
    if chance is None and any(word in words for word in _WET_WORDS):
        chance = 30.0 if "chance" in words else 60.0
    return WeatherRow(
        time=_time(period.get("startTime"), where),
        air_f=air_f,
        rh_pct=rh_pct,
        rain_chance_pct=chance,
        wind_mph=_wind_mph(period.get("windSpeed")),
        cloud_share=next((share for phrase, share in _CLOUD_WORDS if phrase in words), None),
    )


def _time(value: Any, where: str) -> datetime.datetime:
    """Return an aware time.

    Raises:
        WeatherError: there is none.
    """
    try:
        time = datetime.datetime.fromisoformat(value)
        if time.tzinfo is not None:
            return time.astimezone(datetime.UTC)
    except (TypeError, ValueError, OverflowError):
        pass
    raise WeatherError(
        f"{where}: startTime is {str(value)[:40]!r}; it must be a time with its offset, 2026-09-21T07:00:00-05:00."
    )


def _air_f(period: Mapping[str, Any]) -> float | None:
    given = period.get("temperature")
    value = _number(given)
    unit = str(period.get("temperatureUnit") or "F")
    if isinstance(given, Mapping):
        unit = str(given.get("unitCode") or "wmoUnit:degC")
    if value is None:
        return None
    return fahrenheit_from_celsius(value) if unit.upper().endswith("C") else value


def _number(given: Any) -> float | None:
    value = given.get("value") if isinstance(given, Mapping) else given
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    number = float(value) if abs(value) < _HUGE else math.inf
    return number if math.isfinite(number) else None


def _wind_mph(given: Any) -> float | None:
    """Return the highest wind speed of "10 mph", "5 to 15 mph", or a value object in km/h."""
    if isinstance(given, Mapping):
        value = _number(given)
        return None if value is None else value / _KMH_PER_MPH
    speeds = [float(number) for number in re.findall(r"\d{1,3}(?:\.\d{1,2})?", str(given or "")[:40])]
    if not speeds:
        return None
    return max(speeds) / (_KMH_PER_MPH if "km" in str(given) else 1.0)


def _place(geometry: Any) -> tuple[float | None, float | None]:
    """Return latitude and longitude of the first point of a GeoJSON geometry, None where there is none."""
    point = geometry.get("coordinates") if isinstance(geometry, Mapping) else None
    for _ in range(4):
        if isinstance(point, list) and point and isinstance(point[0], list):
            point = point[0]
    if not isinstance(point, list) or len(point) < 2:
        return None, None
    longitude, latitude = _number(point[0]), _number(point[1])
    if longitude is None or latitude is None or abs(latitude) > 90 or abs(longitude) > 180:
        return None, None
    return latitude, longitude
