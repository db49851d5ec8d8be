"""Plain entries: times of day as people write them, on a clock of 24 hours or of 12."""

import datetime
from typing import Any

import pytest

from finishadvisor.errors import EntryError, nearest_of
from finishadvisor.job.entries import read_clock


@pytest.mark.parametrize(
    ("typed", "hour", "minute"),
    [
        ("7:00", 7, 0),
        ("14:30", 14, 30),
        ("07:30:00", 7, 30),
        ("0:05", 0, 5),
        ("2:30 PM", 14, 30),
        ("2:30pm", 14, 30),
        ("7 a.m.", 7, 0),
        ("12:00 AM", 0, 0),
        ("12:15 PM", 12, 15),
        (datetime.time(6, 45), 6, 45),
    ],
)
def test_a_time_of_day_is_read_as_people_write_it(typed: Any, hour: int, minute: int) -> None:
    assert read_clock(typed) == datetime.time(hour, minute)


@pytest.mark.parametrize("typed", ["24:00", "7:60", "7", "13:00 PM", "0:30 AM", "noon", "", 7, None, "7:00:30"])
def test_what_is_no_time_of_day_is_refused_with_both_ways_to_write_one(typed: Any) -> None:
    with pytest.raises(EntryError, match=r'"14:30" or "2:30 PM"'):
        read_clock(typed)


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("Slab.JPG", ' Did you mean "slab.jpg"?'),
        ("heat", ' Did you mean "heat_in_slab" or "heating_done"?'),
        ("s", ""),
        ("quartz", ""),
    ],
)
def test_the_nearest_words_are_found_whatever_their_capitals(word: str, said: str) -> None:
    assert nearest_of(word, ["slab.jpg", "heat_in_slab", "heating_done"]) == said
