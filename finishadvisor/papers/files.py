"""A file that can be made of a job: its name, and who it is for."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal

from finishadvisor.records.whole import WholeJob

Reader = Literal["client", "supplier", "crew", "contractor"]

LONGEST_STEM: Final = 40


@dataclass(frozen=True)
class Paper:
    """One file that can be made: its name, what it is, who it is for, and how it is made."""

    name: str
    title: str
    reader: Reader
    make: Callable[[], bytes]


def file_stem(name: str) -> str:
    """Return a name with only the signs that every system allows in a file name."""
    plain = "".join(sign if sign.isalnum() else "-" for sign in name.lower())
    return re.sub("-+", "-", plain)[:LONGEST_STEM].strip("-") or "floor"


def file_stems(whole: WholeJob) -> list[str]:
    """Return how the files of each floor begin; floors whose names come out alike get a number."""
    stems: list[str] = []
    for outcome in whole.floors:
        stem, number = file_stem(outcome.floor.name), 2
        while stem in stems:
            stem, number = f"{file_stem(outcome.floor.name)}-{number}", number + 1
        stems.append(stem)
    return stems
