"""Every reader of what a stranger hands in, each as one function of bytes, for tests and for the fuzzer.

A reader ends quietly where the bytes are taken or answered in one clear line, and raises only where there is a fault.
"""

import datetime
import json
import shutil
import warnings
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode

from finishadvisor.errors import FinishAdvisorError
from tests.hostile.odd_jobs import OWN_RULES, full_text

SAVED = Path(__file__).with_name("saved")
CORPUS = Path(__file__).with_name("corpus")
SOUND_ROWS = Path(__file__).parents[1] / "catalog" / "sound" / "my-rows.toml"
ON = datetime.date(2026, 9, 21)
HERE = "http://127.0.0.1:8712"
FORMS = {
    "/job/shed/1/floor/about": {"first_side": "20ft 6in", "second_side": "4 m", "pour": "2026-08-01", "about": "on"},
    "/job/shed/1/floor/answers": {"heat_in_slab": "yes", "pets": "no", "thickness_in": "4.5", "sun": "none"},
    "/job/shed/1/floor/readings": {"kind": "slab-rh", "value": "78", "date": "2026-09-10", "place": "by the door"},
    "/job/shed/1/finishes/densified": {"by": "the client", "date": "2026-09-20"},
    "/job/shed/order/used": {"floor": "Bike shed", "material": "flake", "amount": "30", "area": "200"},
    "/job/shed/days/done": {"task": "Bike shed\nsweep", "date": "2026-09-21", "time": "12:00"},
    "/job/pottery/2/photos/kiln-yard.jpg/mark": {
        "marks": '{"corners": [[170, 980], [1420.5, 981], [1130, 279], [470, 279]], "cards": '
        '[{"at": [550, 678], "reflectance": 0.85}], "leave_out": [[[1, 1], [9, 1], [9, 9]]], "wet": []}',
        "first_side": "12ft", "second_side": "4.2 m", "origin_x": "22", "origin_y": "0", "turned": "90",
    },
}  # fmt: skip
"""Sound entries by the form that they are sent to."""

Take = Callable[[bytes], None]


@dataclass(frozen=True)
class Reader:
    """One reader: made ready in an empty folder, and what sound input looks like."""

    ready: Callable[[Path], Take]
    sound: Callable[[], list[bytes]] = field(repr=False)
    text: bool = True
    """False: what it reads is binary; its corpus is made anew each time and not kept."""


def one_clear_line(error: FinishAdvisorError) -> None:
    """Check each line of a refusal: printable, not endless, and a sentence."""
    for line in getattr(error, "mistakes", (str(error),)):
        assert line.isprintable(), repr(line)
        assert 10 < len(line) < 1000, line
        assert "object at 0x" not in line, line
        assert "Traceback" not in line, line


def answered(work: Callable[[], object]) -> None:
    try:
        work()
    except FinishAdvisorError as error:
        one_clear_line(error)


def example_job(folder: Path) -> Path:
    from finishadvisor.demo.example import copy_example

    job = folder / "jobs" / "pottery"
    job.parent.mkdir()
    copy_example(job)
    (job / "own-rules.toml").write_text(OWN_RULES, encoding="utf-8")
    return job


# --- job.toml, prices, own rows, weather -----------------------------------------------------------------------------
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


# --- photos and their marks ------------------------------------------------------------------------------------------
def photo_reader(folder: Path) -> Take:
    from finishadvisor.evenness.measure import PhotoMarks, measure
    from tests.hostile.odd_photos import SIZE_FT

    path = folder / "photo"

    def take(data: bytes) -> None:
        path.write_bytes(data)
        with warnings.catch_warnings():
            warnings.simplefilter("error", RuntimeWarning)
            answered(lambda: json.dumps(measure(path, PhotoMarks(size_ft=SIZE_FT)).evenness.as_json(), allow_nan=False))

    return take


def header_reader(folder: Path) -> Take:
    """Size, turning and color profile: what is read of a photo before and beside its pixels."""
    from finishadvisor.evenness.photo import picture_size
    from finishadvisor.evenness.profile import read_profile

    path = folder / "photo"

    def take(data: bytes) -> None:
        path.write_bytes(data)
        with warnings.catch_warnings():
            warnings.simplefilter("error", RuntimeWarning)
            answered(lambda: picture_size(path))
            answered(lambda: read_profile(data, high_bytes=False))

    return take


def mark_reader(_: Path) -> Take:
    """Option and text, as `--corners 4,4 124,4 124,92 4,92`; a line each."""
    from finishadvisor.cli.marks import marks_from_options

    def take(data: bytes) -> None:
        options: dict[str, object] = {"corners": None, "points": None, "size": None, "sheet": [], "leave_out": [],
                                      "wet": []}  # fmt: skip
        for line in data.decode("utf-8", "replace").splitlines()[:12]:
            name, _, value = line.removeprefix("--").partition(" ")
            name = name.replace("-", "_")
            held = options.get(name)
            if isinstance(held, list):
                held.append(value)
            elif name in options:
                options[name] = value
        answered(lambda: marks_from_options(options))

    return take


def sound_marks() -> list[bytes]:
    first = "--corners 4,4 124,4 124,92 4,92\n--size 2ft x 1.5ft\n--sheet 60,40=0.18\n--wet 50,50 80,50 80,80"
    second = "--points 4,4=0,0 124,4=2ft,0 124,92=24in,1ft6in 4,92=0,0.4m\n--leave-out 10,10 40,10 40,40\n--sheet 6,4"
    return [first.encode(), second.encode()]


def photo_bytes() -> list[bytes]:
    from tests.hostile.odd_photos import whole_photos, wide_gamut_profile

    return [*whole_photos().values(), wide_gamut_profile()]


# --- the page's forms ------------------------------------------------------------------------------------------------
def form_reader(folder: Path) -> Take:
    """The first line is the form's address, the rest its fields as a browser sends them."""
    from starlette.testclient import TestClient

    from finishadvisor.demo.example import EXAMPLE_DAY
    from finishadvisor.job.folder import job_version
    from finishadvisor.web.app import make_app
    from finishadvisor.web.guard import Door, hosts_for
    from finishadvisor.web.site import Site
    from finishadvisor.whole_job.changes import begin_job

    root = example_job(folder).parent
    begin_job(root / "shed", "Bike shed", {"place": "covered"})
    (folder / "cache").mkdir()
    site = Site(root, EXAMPLE_DAY, Door(hosts_for([], 8712), None), folder / "cache")
    client = TestClient(make_app(site), base_url=HERE, client=("127.0.0.1", 50_000))
    token = urlencode({"token": site.tokens.of("")}).encode()
    kept = {job: (root / job / "job.toml").read_bytes() for job in ("pottery", "shed")}
    headers = {"Origin": HERE, "Content-Type": "application/x-www-form-urlencoded"}

    def take(data: bytes) -> None:
        address, _, fields = data.partition(b"\n")
        path = address.decode("ascii", "replace").strip()
        if path not in FORMS:
            path = sorted(FORMS)[len(address) % len(FORMS)]
        name = path.split("/")[2]
        file = root / name / "job.toml"
        file.write_bytes(kept[name])
        version = urlencode({"version": job_version(file.parent)}).encode()
        body = b"&".join((token, version, fields))
        answer = client.post(path, content=body, headers=headers, follow_redirects=False)
        assert answer.status_code < 500, f"{path}: {answer.status_code}"
        if answer.status_code != 303:
            assert file.read_bytes() == kept[name], f"{path}: {answer.status_code}, and the job was changed"

    return take


def sound_forms() -> list[bytes]:
    return [f"{path}\n{urlencode(fields)}".encode() for path, fields in FORMS.items()]


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
