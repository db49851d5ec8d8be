"""Invents the hourly weather of the example job: a mild autumn fortnight with two wet days.

python -m finishadvisor.demo.weather > finishadvisor/demo/job/weather.csv
"""

import datetime
import math
import sys
from typing import Final

FIRST_HOUR: Final = datetime.datetime(2026, 9, 21, 0, 0, tzinfo=datetime.UTC)
DAYS: Final = 21
RAINY_DAYS: Final = {3: 0.04, 9: 0.08}
"""Inches of rain an hour from noon to evening, by day of the fortnight."""


def invented_weather() -> str:
    """Return the weather as a CSV, by the clock of the job's zone."""
    lines = ["time,air_f,rh_pct,rain_in,wind_mph,cloud_pct"]
    for hour in range(24 * DAYS):
        day, clock = divmod(hour, 24)
        rain = RAINY_DAYS.get(day, 0.0) if 12 <= clock < 19 else 0.0
        cloud = 95 if day in RAINY_DAYS else 20 + 25 * (1 + math.sin(1.7 * day)) / 2
        swing = 11 * math.sin((clock - 9) * math.pi / 12) * (0.5 if day in RAINY_DAYS else 1)
        air_f = 66 + 4 * math.sin(0.8 * day) - 0.15 * day + swing
        rh_pct = min(97, 62 - 1.7 * swing + (18 if day in RAINY_DAYS else 0))
        wind_mph = 4 + 3 * max(0.0, math.sin((clock - 8) * math.pi / 12))
        time = FIRST_HOUR + datetime.timedelta(hours=hour)
        lines.append(f"{time:%Y-%m-%dT%H:%M},{air_f:.1f},{rh_pct:.0f},{rain:.2f},{wind_mph:.1f},{cloud:.0f}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    sys.stdout.write(invented_weather())
