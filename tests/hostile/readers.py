"""Every reader of what a stranger hands in, each as one function of bytes, for tests and for the fuzzer."""

import json
import shutil
from pathlib import Path

from tests.hostile.form_reader import form_reader, sound_forms
from tests.hostile.odd_jobs import OWN_RULES, full_text
from tests.hostile.one_reader import ON, SAVED, Reader, Take, answered, example_job
from tests.hostile.photo_readers import header_reader, mark_reader, photo_bytes, photo_reader, sound_marks

CORPUS = Path(__file__).with_name("corpus")
SOUND_ROWS = Path(__file__).parents[1] / "catalog" / "sound" / "my-rows.toml"


def job_reader(folder: Path) -> Take:
    from finishadvisor.whole_job.opened import open_for

    job = example_job(folder)

    def take(data: bytes) -> None:
        (job / "job.toml").write_bytes(data)
        answered(lambda: open_for(job, ON))

    return take


def sound_jobs() -> list[bytes]:
    small = """name = "Bike shed"
[workday]
start = 07:00:00
end = 16:00:00
[[floor]]
name = "Shed"
[floor.pour]
date = 2026-08-01
[[floor.outline.rectangle]]
x = "20 ft"
y = 12.5
[floor.answers]
place = "covered"
[[floor.reading]]
kind = "slab-rh"
value = 78
date = 2026-09-10
"""
    return [full_text().encode(), small.encode(), *_kept("job-*.toml")]


def price_reader(folder: Path) -> Take:
    from finishadvisor.whole_job.work_through import work_through

    job = example_job(folder)
    text = 'name = "n"\n[[floor]]\nname = "f"\n[[floor.outline.rectangle]]\nx = 20\ny = 10\n[floor.decision]\n'
    head = (text + 'finish = "enhancer"\nby = "c"\ndate = 2026-09-19\n').encode()

    def take(data: bytes) -> None:
        (job / "job.toml").write_bytes(head + data)
        answered(lambda: work_through(job, ON, with_plan=False))

    return take


def row_reader(folder: Path) -> Take:
    from finishadvisor.catalog.load import load_catalog
    from finishadvisor.rules.check import check_conditions

    path = folder / "own.toml"

    def take(data: bytes) -> None:
        path.write_bytes(data)
        answered(lambda: check_conditions(load_catalog([path])))

    return take


def weather_reader(folder: Path) -> Take:
    from finishadvisor.plan.weather import read_weather

    path = folder / "weather"

    def read() -> None:
        weather = read_weather(path, "America/Chicago")
        assert all(row.time.tzinfo is not None for row in weather.rows)
        assert all(note.isprintable() for note in weather.missing)

    def take(data: bytes) -> None:
        path.write_bytes(data)
        answered(read)

    return take


def sound_prices() -> list[bytes]:
    rows = [("flake", 40, 130.0), ("penetrating-enhancer", 1, 60), ("penetrating-enhancer", 5, 250.5)]
    text = "".join(f'[[price]]\nmaterial = "{name}"\nsize = {size}\nprice = {price}\n' for name, size, price in rows)
    return [text.encode(), b'currency = "EUR"\nunits = "metric"\n' + text.encode()]


def sound_weather() -> list[bytes]:
    head = "time,air_f,rh_pct,slab_f,rain_in,rain_chance_pct,wind_mph,cloud_pct\n"
    rows = "".join(f"2026-09-21T{hour:02d}:00,{58 + hour},81,60,0,10,4,25\n" for hour in range(4))
    metric = "time;air_c;rh_pct;wind_kmh\n2026-09-21T07:00+02:00;14,5;81;7\n2026-09-21 08:00;15;80;7\n"
    period = {"startTime": "2026-09-21T07:00:00-05:00", "temperature": 61, "temperatureUnit": "F",
              "relativeHumidity": {"unitCode": "wmoUnit:percent", "value": 60}, "windSpeed": "5 to 10 mph",
              "probabilityOfPrecipitation": {"value": None}, "shortForecast": "Mostly Sunny"}  # fmt: skip
    later = {**period, "startTime": "2026-09-21T08:00:00-05:00", "temperatureUnit": "C", "windSpeed": "10 km/h"}
    place = {"type": "Polygon", "coordinates": [[[-87.6, 41.8], [-87.5, 41.8], [-87.5, 41.9]]]}
    forecast = json.dumps({"geometry": place, "properties": {"periods": [period, later]}})
    return [(head + rows).encode(), metric.encode(), forecast.encode()]


READERS = {
    "job": Reader(job_reader, sound_jobs),
    "prices": Reader(price_reader, sound_prices),
    "own-rows": Reader(row_reader, lambda: [SOUND_ROWS.read_bytes(), OWN_RULES.encode(), *_kept("rows-*.toml")]),
    "weather": Reader(weather_reader, lambda: [*sound_weather(), *_kept("weather-*")]),
    "photo": Reader(photo_reader, photo_bytes, text=False),
    "photo-header": Reader(header_reader, photo_bytes, text=False),
    "marks": Reader(mark_reader, sound_marks),
    "forms": Reader(form_reader, sound_forms),
}


def _kept(pattern: str) -> list[bytes]:
    return [path.read_bytes() for path in sorted(SAVED.glob(pattern)) if path.stat().st_size < 60_000]


def kept_inputs(name: str) -> list[bytes]:
    """Return the saved corpus of a reader: what led the fuzzer into new code."""
    return [path.read_bytes() for path in sorted((CORPUS / name).glob("*"))]


def ready(name: str, folder: Path) -> Take:
    """Return a reader by its name, made ready in an emptied folder."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    return READERS[name].ready(folder)
