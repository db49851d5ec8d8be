import datetime
from typing import Any

import pytest
from pydantic import ValidationError

from finishadvisor.job.document import Floor, Job, Reading
from finishadvisor.job.readings import latest_reading, sort_readings, worst_reading
from tests.plain_jobs import job_from_plain


def day(number: int) -> datetime.date:
    return datetime.date(2026, 9, number)


def floor(*readings: tuple[Any, ...], **keys: Any) -> Floor:
    rows = [dict(zip(("kind", "value", "date", "place"), row, strict=False)) for row in readings]
    return Floor.model_validate({"name": "Shed", "reading": rows, **keys})


def test_the_latest_is_the_newest_and_on_one_day_the_worst() -> None:
    shed = floor(("slab-rh", 90, day(1)), ("slab-rh", 78, day(9)), ("slab-rh", 81, day(9)), ("ph", 9, day(12)))
    latest = latest_reading(shed, "slab-rh", day(20))
    assert latest is not None
    assert latest.value == 81


def test_a_newer_reading_takes_the_place_of_an_older_one_there_only() -> None:
    shed = floor(
        ("slab-rh", 95, day(1), [2, 2]), ("slab-rh", 80, day(9), [2, 2]), ("slab-rh", 84, day(1), "by the door"),
        ("slab-rh", 70, day(10), [8, 8]),
    )  # fmt: skip
    worst = worst_reading(shed, "slab-rh", day(20))
    assert worst is not None
    assert worst.value == 84
    earlier = worst_reading(shed, "slab-rh", day(5))
    assert earlier is not None
    assert earlier.value == 95


@pytest.mark.parametrize(
    ("kind", "values", "worst"),
    [("pull-off", (250, 180), 180), ("scratch-hardness", (6, 4), 4), ("ph", (9, 11), 11), ("water-drop", (20, 90), 90),
     ("sheet-test", ("damp", "dry"), "damp"), ("sounding", ("solid", "hollow"), "hollow")],
)  # fmt: skip
def test_the_worst_is_low_or_high_by_kind(kind: Any, values: Any, worst: Any) -> None:
    for order in (values, values[::-1]):
        found = worst_reading(
            floor(*[(kind, value, day(3), [place, 1]) for place, value in enumerate(order)]), kind, day(4)
        )
        assert found is not None
        assert found.value == worst


def test_conditions_have_no_worst_but_the_latest() -> None:
    shed = floor(("air-rh", 90, day(1), [1, 1]), ("air-rh", 40, day(2), [2, 2]))
    found = worst_reading(shed, "air-rh", day(3))
    assert found is not None
    assert found.value == 40


def test_drying_readings_up_to_the_last_wetting_are_stale_and_others_are_not() -> None:
    shed = floor(("slab-rh", 80, day(1)), ("slab-rh", 82, day(5)), ("slab-rh", 85, day(6)), ("pull-off", 200, day(1)),
                 last_wetting=day(5))  # fmt: skip
    sorted_ = sort_readings(shed, day(9))
    assert [reading.value for reading in sorted_.stale] == [80, 82]
    assert {reading.value for reading in sorted_.valid} == {85, 200}


def test_a_wetting_that_has_not_happened_yet_makes_nothing_stale() -> None:
    shed = floor(("slab-rh", 80, day(1)), last_wetting=day(5))
    assert latest_reading(shed, "slab-rh", day(4)) is not None
    assert latest_reading(shed, "slab-rh", day(5)) is None


def test_readings_after_the_day_and_before_the_pour_do_not_count() -> None:
    shed = floor(("slab-rh", 80, day(1)), ("slab-rh", 70, day(20)), ("air-rh", 50, day(1)),
                 pour={"date": day(2), "about": True})  # fmt: skip
    sorted_ = sort_readings(shed, day(10))
    assert [reading.value for reading in sorted_.before_pour] == [80]
    assert [reading.value for reading in sorted_.future] == [70]
    assert [reading.value for reading in sorted_.valid] == [50]


def test_a_reading_counts_from_its_own_day_on() -> None:
    shed = floor(("ph", 9, day(5)))
    assert latest_reading(shed, "ph", day(4)) is None
    assert latest_reading(shed, "ph", day(5)) is not None


def test_no_reading_is_none() -> None:
    assert latest_reading(floor(), "ph", day(1)) is None
    assert worst_reading(floor(), "ph", day(1)) is None


def read_one(kind: str, value: Any, units: str = "us") -> Any:
    plain = {"name": "n", "floor": [{"name": "f", "reading": [{"kind": kind, "value": value, "date": day(1)}]}]}
    job: Job = job_from_plain(plain, metric=units == "metric")
    return job.floors[0].readings[0].value


def test_values_are_held_in_the_units_used_inside() -> None:
    assert read_one("slab-temperature", "20 °C") == pytest.approx(68)
    assert read_one("slab-temperature", 20, "metric") == pytest.approx(68)
    assert read_one("water-drop", "2 min") == 120
    # 1 MPa = 145.038 psi (NIST SP 811, table of factors, 6 digits)
    assert read_one("pull-off", "1 MPa") == pytest.approx(145.038, abs=5e-4)
    assert read_one("pull-off", 1, "metric") == pytest.approx(145.038, abs=5e-4)
    # 3 lb/1000 ft² = 14.6 g/m² by hand: 3 x 453.59237 / 92.90304
    assert read_one("calcium-chloride", "14.647 g/m2") == pytest.approx(3, abs=1e-3)
    assert read_one("calcium-chloride", 3, "us") == 3


@pytest.mark.parametrize(
    ("kind", "value"),
    [("slab-rh", 101), ("slab-rh", 0.82), ("slab-rh", "wet"), ("slab-rh", True), ("ph", 15), ("ph", -1),
     ("ph", "9 psi"), ("sheet-test", "wet"), ("sheet-test", True), ("sounding", 1), ("scratch-hardness", 11),
     ("pull-off", float("nan")), ("pull-off", float("inf")), ("slab-temperature", "hot")],
)  # fmt: skip
def test_what_no_instrument_shows_is_refused(kind: Any, value: Any) -> None:
    with pytest.raises(ValidationError):
        Reading(kind=kind, value=value, date=day(1))
