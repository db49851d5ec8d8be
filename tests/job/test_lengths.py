import math
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import EntryError, FinishAdvisorError
from finishadvisor.job.lengths import (
    read_length_ft,
    read_length_or_zero_ft,
    read_place_ft,
    read_size_ft,
    read_small_length_ft,
    read_temperature_f,
    write_length,
)

METRIC: Any = SimpleNamespace(context={"metric": True})
US: Any = SimpleNamespace(context={"metric": False})


@pytest.mark.parametrize(
    ("typed", "length_in"),
    [
        ("24' 6\"", 294),
        ("24'6\"", 294),
        ("24ft 6in", 294),
        ("24 ft. 6 in.", 294),
        ("24 feet 6 inches", 294),
        ("24' 6", 294),
        ("24' 6 1/2\"", 294.5),
        ("24'-6 1/2\"", 294.5),
        ("24′ 6½″", 294.5),
        ("24’ 6”", 294),
        ("24' 6''", 294),
        ("24.5 ft", 294),
        ("24½ ft", 294),
        ("24 1/2'", 294),
        ("24.5", 294),
        (24.5, 294),
        (3, 36),
        ("3in", 3),
        ("1/2in", 0.5),
        ("6-1/2 in", 6.5),
        ("  12'  ", 144),
    ],
)  # fmt: skip
def test_feet_and_inches_are_read_as_people_write_them(typed: Any, length_in: float) -> None:
    assert read_length_ft(typed) == pytest.approx(length_in / 12, rel=1e-15)


@pytest.mark.parametrize(
    ("typed", "length_m"),
    [
        ("7.5 m", 7.5),
        ("750 cm", 7.5),
        ("7500mm", 7.5),
        ("7.5 meters", 7.5),
        ("7.5 METRES", 7.5),
        ("7,5 m", 7.5),
        ("7,50m", 7.5),
        ("750,0 cm", 7.5),
    ],
)
def test_metric_lengths_are_converted_by_the_exact_foot(typed: str, length_m: float) -> None:
    # 1 ft = 0.3048 m exactly
    assert read_length_ft(typed) == pytest.approx(length_m / 0.3048, rel=1e-15)


def test_a_bare_number_is_in_the_units_of_the_job() -> None:
    assert read_length_ft(3.048, METRIC) == pytest.approx(10, rel=1e-15)
    assert read_length_ft("3.048", METRIC) == pytest.approx(10, rel=1e-15)
    assert read_length_ft("3,05", METRIC) == pytest.approx(3.05 / 0.3048, rel=1e-15)
    assert read_length_ft(3.048, US) == 3.048
    assert read_length_ft("10ft", METRIC) == 10


@pytest.mark.parametrize("typed", [0, -3, "-3", "0", "-2ft 3in", "0 m", "-1/2in", "−4ft"])
def test_zero_and_negative_lengths_are_refused_with_the_entry_and_the_mend(typed: Any) -> None:
    with pytest.raises(EntryError, match="is not a length above zero") as refused:
        read_length_ft(typed)
    assert str(typed) in str(refused.value)


@pytest.mark.parametrize(
    "typed",
    ["", "ft", "long", "24' 14\"", "24.5' 6\"", "24½ ft 6in", "7,5", "7,5 ft", "7,500 mm", "7,5,1 m",
     "1/0 in", "24 yards of hose", "1e3", "3 4", "--3", "0x10",
     True, None, [3], math.nan, math.inf, 10**400, "nan", "inf", "9" * 5000],
)  # fmt: skip
def test_what_is_no_length_is_refused_in_one_line(typed: Any) -> None:
    with pytest.raises(FinishAdvisorError) as refused:
        read_length_ft(typed)
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 250


def test_a_length_beyond_any_floor_is_refused() -> None:
    assert read_length_ft(10_000) == 10_000
    with pytest.raises(EntryError, match="longer than 10,000 ft"):
        read_length_ft(10_001)


def test_zero_is_allowed_where_a_length_may_be_none_and_a_place_may_be_negative() -> None:
    assert read_length_or_zero_ft(0) == 0
    assert read_place_ft("-3ft 6in") == -3.5
    with pytest.raises(EntryError, match="below zero"):
        read_length_or_zero_ft("-1in")


@pytest.mark.parametrize("typed", [4, 4.5, "4", "4.5"])
def test_a_small_length_in_a_file_needs_its_unit(typed: Any) -> None:
    with pytest.raises(EntryError, match="has no unit"):
        read_small_length_ft(typed, US)
    assert read_small_length_ft("4 1/2in", US) == 0.375
    with pytest.raises(EntryError, match="too long"):
        read_small_length_ft("4 ft", US)


def test_a_size_is_two_lengths() -> None:
    assert read_size_ft("20ft x 15' 6") == (20, 15.5)
    assert read_size_ft("20FT×15ft") == (20, 15)
    with pytest.raises(EntryError, match="not two lengths"):
        read_size_ft("20ft")
    with pytest.raises(EntryError, match="above zero"):
        read_size_ft("0ft x 15ft")


@pytest.mark.parametrize(
    ("typed", "in_us_job", "in_metric_job"),
    [("72F", 72, 72), ("22 °C", 71.6, 71.6), ("22C", 71.6, 71.6), (72, 72, 161.6), ("-5 c", 23, 23), ("10", 10, 50)],
)
def test_temperatures_are_read_in_either_scale(typed: Any, in_us_job: float, in_metric_job: float) -> None:
    assert read_temperature_f(typed, US) == pytest.approx(in_us_job)
    assert read_temperature_f(typed, METRIC) == pytest.approx(in_metric_job)


@pytest.mark.parametrize("typed", ["warm", "72K", True, math.nan, None, 400, "-90F", "200C"])
def test_what_is_no_temperature_on_site_is_refused(typed: Any) -> None:
    with pytest.raises(EntryError, match="72F"):
        read_temperature_f(typed)


@given(st.integers(min_value=1, max_value=9_999 * 192))
def test_a_length_in_sixteenths_survives_writing_and_reading(sixteenths: int) -> None:
    length_ft = sixteenths / 192
    assert read_length_ft(write_length(length_ft)) == pytest.approx(length_ft, rel=1e-12)


@given(st.integers(min_value=1, max_value=3_000_000))
def test_a_length_in_millimeters_survives_writing_and_reading(length_mm: int) -> None:
    length_ft = length_mm / 304.8
    assert read_length_ft(write_length(length_ft, metric=True)) == pytest.approx(length_ft, rel=1e-12)


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_one_plain_line(text: str) -> None:
    try:
        assert 0 < read_length_ft(text) <= 10_000
    except EntryError as error:
        assert str(error).isprintable()


@pytest.mark.parametrize(
    ("length_ft", "written"),
    [(24.5, "24' 6\""), (24, "24'"), (0.25, '3"'), (1 / 24, '1/2"'), (0, "0'"), (-1.5, "-1' 6\"")],
)
def test_lengths_are_written_as_the_trade_writes_them(length_ft: float, written: str) -> None:
    assert write_length(length_ft) == written
