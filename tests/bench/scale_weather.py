"""Long weather files: `python tests/bench/scale_weather.py [HOURS ...]` (a quarter, half and whole year when left out).

Reading the file, and planning the two floors of the example through it.
"""

import datetime
import math
import tempfile
from collections.abc import Callable
from pathlib import Path

from scale_common import machine, show, sizes_given

DAY = datetime.date(2026, 9, 21)


def weather_file(hours: int, folder: Path) -> Path:
    first = datetime.datetime.combine(DAY, datetime.time(), datetime.UTC)
    lines = ["time,air_f,rh_pct,rain_in,wind_mph,cloud_pct"]
    for hour in range(hours):
        time = first + datetime.timedelta(hours=hour)
        swing = math.sin((hour % 24 - 9) * math.pi / 12)
        air_f = 62 + 18 * math.cos(hour / 8760 * 2 * math.pi) + 10 * swing
        rain = 0.05 if hour // 24 % 6 == 3 and 12 <= hour % 24 < 18 else 0
        lines.append(f"{time.isoformat()},{air_f:.1f},{62 - 15 * swing:.0f},{rain},5,40")
    path = folder / "weather.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def reading(hours: int, folder: Path) -> Callable[[], object]:
    from finishadvisor.plan.weather import read_weather

    path = weather_file(hours, folder)
    return lambda: read_weather(path, "America/Chicago")


def planning(hours: int, folder: Path) -> Callable[[], object]:
    from finishadvisor.demo.example import copy_example
    from finishadvisor.whole_job.work_through import work_through

    copy_example(folder / "job")
    path = weather_file(hours, folder)
    work_through(folder / "job", DAY, with_order=False)  # imports, first use
    return lambda: work_through(folder / "job", DAY, weather_path=path, with_order=False)


if __name__ == "__main__":
    print(machine())
    for title, prepare in (("reading", reading), ("advising and planning the example", planning)):
        with tempfile.TemporaryDirectory() as name:
            show(title, "hours", prepare, sizes_given((2190, 4380, 8760)), Path(name))
