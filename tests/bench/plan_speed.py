"""Print how long a plan takes next to one decode of a fixed 12 MP photo in the same run.

    python tests/bench/plan_speed.py

The plan: a 14-day hourly forecast, one floor, eight tasks, two of them coats tied by a recoat window, crew of two.
"""

import datetime
import io
import math
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[2]))

from finishadvisor.plan.make import make_plan
from finishadvisor.plan.weather_rows import Weather, WeatherRow
from tests.plan.fixtures import shipped
from tests.plan.whole import ON, a_job, facts_of, works_of

RUNS = 9


def a_photo() -> bytes:
    """A rendered photo of 4000 x 3000 pixels, quality 90, 4:2:0."""
    rng = np.random.default_rng(7)
    coarse = rng.normal(150, 18, (75, 100, 3)).clip(0, 255).astype(np.uint8)
    fine = np.asarray(Image.fromarray(coarse).resize((4000, 3000), Image.Resampling.BICUBIC), dtype=np.int16)
    noisy = (fine + rng.normal(0, 4, fine.shape)).clip(0, 255).astype(np.uint8)
    file = io.BytesIO()
    Image.fromarray(noisy).save(file, "JPEG", quality=90, subsampling="4:2:0")
    return file.getvalue()


def a_forecast() -> Weather:
    first = datetime.datetime.combine(ON, datetime.time(5), datetime.UTC)
    rows = []
    for hour in range(336):
        swing = math.sin((hour - 9) * math.pi / 12)
        rows.append(
            WeatherRow(
                time=first + datetime.timedelta(hours=hour),
                air_f=70 + 9 * swing + 3 * math.sin(hour / 40),
                rh_pct=60 - 18 * swing,
                rain_chance_pct=60.0 if 100 < hour < 116 else 5.0,
                cloud_share=0.9 if hour // 24 % 2 else 0.3,
            )
        )
    return Weather(tuple(rows), ())


def median_s(work: Callable[[], object]) -> float:
    times = []
    for _ in range(RUNS):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return statistics.median(times)


def main() -> None:
    photo, weather, job = a_photo(), a_forecast(), a_job({"room": None})
    facts = facts_of(job, place="covered", sun="none")
    works = works_of(job, "epoxy-urethane-clear", facts)
    works = [works[0].model_copy(update={"tasks": works[0].tasks[-8:]})]
    plan = make_plan(works, facts, job, shipped(), weather, ON)
    decode_s = median_s(lambda: Image.open(io.BytesIO(photo)).load())
    plan_s = median_s(lambda: make_plan(works, facts, job, shipped(), weather, ON))
    print(f"tasks {len(works[0].tasks)}, fits: {plan.feasible}, steps {len(plan.steps)}")
    print(f"one decode {decode_s * 1000:.0f} ms; plan {plan_s * 1000:.0f} ms = {plan_s / decode_s:.2f} decodes")


if __name__ == "__main__":
    main()
