"""Slips in the writing of a job file are told with their line and their mend."""

import pytest

from finishadvisor.errors import JobError
from finishadvisor.job.toml_text import parse


@pytest.mark.parametrize(
    ("line", "mend"),
    [
        ("pour = { date = 09/14/2026 }  # about", "date year first"),
        ("pour = { date = 14.09.2026 }", "date year first"),
        ("date = 2026-02-30", "no such day"),
        ("date = 2026-9-4", "no such day"),
        ("place = indoors  # or covered, outdoors", "Write a word in quotes"),
        ("place = “indoors”", "plain quotes"),
        ('place = "indoors', "A quote is missing"),
        ('place = indoors"', "A quote is missing"),
        ("x = 20 ft", "number with its unit in quotes"),
        ("x = 24ft 6in", "number with its unit in quotes"),
        ("x = '20' 6\"'", "feet and inches in letters"),
        ("slab = 72 °F", "number with its unit in quotes"),
        ('file = "C:\\Users\\me\\slab.jpg"', "not a backslash"),
        ("crew", "Write the key"),
        ("crew: 2", "Write = between"),
        ("about = True", "in small letters"),
        ("start = 7:00", "07:30:00"),
        ("price = $140", "the number alone"),
        ("value = 82 %", "the number alone"),
        ("[floor", "Close the brackets"),
        ("[[floor]", "Close the brackets"),
    ],
)
def test_a_slip_is_told_with_its_line_and_its_mend(line: str, mend: str) -> None:
    with pytest.raises(JobError, match=rf"^job\.toml, line 2: .*(?:{mend})"):
        parse(f'name = "A job"\n{line}\n', "job.toml")


@pytest.mark.parametrize("line", ["corners = [[1, 2], [3, 4]", "place = 'indoors\""])
def test_what_is_left_open_is_not_blamed_on_the_line_below(line: str) -> None:
    with pytest.raises(JobError, match="a quote or a bracket opened above"):
        parse(f"{line}\ncrew = 1\n", "job.toml")


def test_a_very_long_line_is_told_at_once() -> None:
    with pytest.raises(JobError, match="line 1"):
        parse('a = "' + '"\\' * 900_000, "job.toml")
