"""Print how long a plan takes next to one decode of a fixed 12 MP photo in the same run.

    python tests/bench/plan_speed.py

The plan: a 14-day hourly forecast, one floor, eight tasks, two of them coats tied by a recoat window, crew of two.
"""

import datetime
import itertools
import math
import sys
from pathlib import Path

from timing import best_of, decode_seconds

sys.path.insert(0, str(Path(__file__).parents[2]))

from finishadvisor.plan.make import make_plan
from finishadvisor.plan.weather_rows import Weather, WeatherRow
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_job, facts_of, works_of

RUNS = 9


def a_forecast(warmer_f: float = 0.0) -> Weather:
    first = datetime.datetime.combine(ON, datetime.time(5), datetime.UTC)
    rows = []
    for hour in range(336):
        swing = math.sin((hour - 9) * math.pi / 12)
        rows.append(
            WeatherRow(
                time=first + datetime.timedelta(hours=hour),
                air_f=70 + warmer_f + 9 * swing + 3 * math.sin(hour / 40),
                rh_pct=60 - 18 * swing,
                rain_chance_pct=60.0 if 100 < hour < 116 else 5.0,
                cloud_share=0.9 if hour // 24 % 2 else 0.3,
            )
        )
    return Weather(tuple(rows), ())


def main() -> None:
    job = a_job({"room": None})
    facts = facts_of(job, place="covered", sun="none")
    works = works_of(job, "epoxy-urethane-clear", facts)
    works = [works[0].model_copy(update={"tasks": works[0].tasks[-8:]})]
    forecasts = (a_forecast(number / 100) for number in itertools.count())  # another one each time: nothing is kept
    plan = make_plan(works, facts, job, shipped(), next(forecasts), ON)
    decode_s = decode_seconds()
    plan_s = best_of(RUNS, lambda: make_plan(works, facts, job, shipped(), next(forecasts), ON))
    print(f"tasks {len(works[0].tasks)}, fits: {plan.feasible}, steps {len(plan.steps)}")
    print(f"one decode {decode_s * 1000:.0f} ms; plan {plan_s * 1000:.0f} ms = {plan_s / decode_s:.2f} decodes")


if __name__ == "__main__":
    main()
