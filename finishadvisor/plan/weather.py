"""Hourly weather from a file: a CSV, or the hourly forecast GeoJSON of the US national weather service."""

from pathlib import Path
from zoneinfo import ZoneInfo

from finishadvisor.errors import WeatherError
from finishadvisor.plan.weather_csv import weather_of_csv
from finishadvisor.plan.weather_forecast import weather_of_forecast
from finishadvisor.plan.weather_rows import Weather

MOST_BYTES = 20_000_000


def read_weather(path: Path, time_zone: str) -> Weather:
    """Return the weather of a file.

    Args:
        path: a CSV with the columns time, air and rh_pct at least (see `weather_csv`), or the GeoJSON of an hourly
            forecast (see `weather_forecast`); told apart by what is in it, not by its name.
        time_zone: IANA name of the job's zone, for times without an offset.

    Raises:
        WeatherError: the file is missing, empty, too large, not text, or its content cannot be used.
    """
    text = _text(path)
    zone = ZoneInfo(time_zone)
    reader = weather_of_forecast if text.lstrip()[:1] in {"{", "["} else weather_of_csv
    return reader(text, zone, path.name)


def _text(path: Path) -> str:
    """Return the text of a file.

    Raises:
        WeatherError: it cannot be read as text, or holds nothing, or too much.
    """
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise WeatherError(
                f"{path.name} is {size / 1e6:.0f} MB; a weather file may have {MOST_BYTES / 1e6:.0f} MB. "
                "Keep the days of the job only."
            )
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise WeatherError(f"There is no weather file {path}. Check the name.") from None
    except UnicodeDecodeError:
        raise WeatherError(f"{path.name} is not text in UTF-8. Save it as CSV in UTF-8, or as GeoJSON.") from None
    except OSError as error:
        raise WeatherError(f"{path.name} cannot be read: {error.strerror or error}.") from None
    if not text.strip():
        raise WeatherError(f"{path.name} is empty. Give it one row an hour: time, air_f, rh_pct.")
    return text
