"""What holds for every record: frozen, closed, given by keyword, and printed with each value checked by its field."""

import numpy as np
import pytest
from msgspec import ValidationError

from finishadvisor.catalog.row import Range
from finishadvisor.records.base import Money, SourceNote
from finishadvisor.records.works import FloorWorks, Zone

MONEY = Money(low=1.0, expected=2.0, high=3.0, basis="class-wide")


def test_a_record_is_frozen():
    with pytest.raises(AttributeError):
        MONEY.low = 0.0


def test_a_record_takes_no_key_that_it_has_not_and_wants_every_key_that_it_has():
    with pytest.raises(TypeError):
        Money(low=1.0, expected=2.0, high=3.0, basis="class-wide", currency="USD")
    with pytest.raises(TypeError):
        Money(low=1.0, expected=2.0, high=3.0)
    with pytest.raises(TypeError):
        Money(1.0, 2.0, 3.0, "class-wide")
    with pytest.raises(TypeError):
        MONEY.model_copy(update={"currency": "USD"})


def test_plain_values_are_checked_key_by_key():
    plain = {"low": 1, "expected": 2, "high": 3}
    assert Range.model_validate(plain) == Range(low=1.0, expected=2.0, high=3.0)
    for wrong in ({**plain, "high": "3"}, {**plain, "high": True}, {**plain, "hihg": 3}, {"low": 1, "high": 3}):
        with pytest.raises(ValidationError):
            Range.model_validate(wrong)


def test_whole_numbers_and_numbers_of_numpy_are_printed_as_the_field_has_them():
    works = FloorWorks(
        floor="Walk", finish="bare", area_ft2=np.float64(12.5), edge_ft=7, joint_ft=np.float32(0.5),
        zones=(Zone(name="A", area_ft2=12),), absorption="low", tasks=(),
    )  # fmt: skip
    printed = works.as_json()
    assert [repr(printed[key]) for key in ("area_ft2", "edge_ft", "joint_ft")] == ["12.5", "7.0", "0.5"]
    assert repr(printed["zones"]) == "[{'name': 'A', 'area_ft2': 12.0}]"


def test_what_is_not_known_is_printed_as_null():
    assert SourceNote(id="common-practice").as_json() == {"id": "common-practice", "clause": None, "from_memory": False}


def test_a_value_of_the_wrong_type_is_not_printed():
    with pytest.raises(ValidationError):
        MONEY.model_copy(update={"low": "1"}).as_json()
    with pytest.raises(ValidationError):
        MONEY.model_copy(update={"low": float("nan")}).as_json()
