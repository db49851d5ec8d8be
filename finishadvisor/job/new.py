"""A first job.toml, with the first answers in it and a place for everything that comes later."""

import textwrap
from collections.abc import Mapping
from pathlib import Path
from typing import Final, Literal

import tomlkit

from finishadvisor.catalog.models import Fact
from finishadvisor.errors import EntryError, JobError
from finishadvisor.job.catalog_check import answer_mistake
from finishadvisor.job.entries import read_name, shown
from finishadvisor.job.folder import JOB_FILE, PAPERS, PHOTOS, OpenJob, open_job
from finishadvisor.job.schema import SCHEMA_LINE, write_schema
from finishadvisor.job.writing import locked, write_whole

_WIDTH: Final = 100
_HEAD: Final = """\
{schema_line}
# What is known of this job. Whatever is not known may be left out, or stay behind its #.
# Take the # away in front of a line to fill it in. Bare numbers are {bare}; a text may bear
# its unit: "24ft 6in", "7.5 m", "72F", "22 °C".

name = {name}
# client = "the client's name as their papers print it"
units = "{units}"                  # us or metric
# currency = "USD"
# time_zone = "America/Chicago"
# crew = 2
# voc_rules = "us-national"     # us-national, otc-phase-2, south-coast or none

# [workday]
# start = 07:00:00
# end = 15:30:00
# days = ["mon", "tue", "wed", "thu", "fri"]

# [business]                    # left out: ranges for the whole trade
# labor_per_hour = 55
# margin = 0.3                  # share of the selling price

[[floor]]
name = {floor}
# pour = {{ date = 2026-09-14 }}  # write about = true beside a date that is not certain
# last_wetting = 2026-10-02     # rain, hose, wet saw

# [floor.outline]               # without an outline nothing can be ordered
# origin = "which corner x and y start from"
# x_direction = "along which wall x runs"
# [[floor.outline.rectangle]]
# x = "24ft 6in"
# y = "18ft"

[floor.answers]
"""

_TAIL: Final = """
# [[floor.reading]]
# kind = "slab-rh"              # or calcium-chloride, ph, sheet-test, water-drop, pull-off ...
# value = 82
# date = 2026-10-20
# place = [6, 5]                # x and y on the plan, or words

# [[floor.photo]]
# file = "slab.jpg"             # in the folder photos
# size = ["24ft 6in", "18ft"]   # first and second side of the slab within the corners
# corners = [[120, 840], [3890, 860], [3300, 240], [700, 230]]

# [floor.decision]
# finish = "densified"
# by = "the client"
# date = 2026-10-21
"""


def new_job(
    folder: Path,
    name: str,
    answers: Mapping[str, str | float | bool],
    facts: Mapping[str, Fact],
    *,
    floor: str = "Floor",
    units: Literal["us", "metric"] = "us",
) -> OpenJob:
    """Write a first job.toml and the folders around it; a job that is there already is never touched.

    Args:
        folder: the folder to make; it may exist, but not with a job in it.
        name: what the job is called.
        answers: answers by fact id.
        facts: the facts of the catalog by id.
        floor: what its first floor is called.
        units: what bare numbers in the file mean.

    Raises:
        JobError: there is a job already, a name or an answer cannot be used, or the folder cannot be written to.
    """
    text = _first_text(name, floor, answers, facts, units)
    try:
        for inner in (folder, folder / PHOTOS, folder / PAPERS):
            inner.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise JobError(f"The folder {folder} cannot be made: {error.strerror}. Choose another place.") from None
    with locked(folder):
        check_beginning(folder, name)
        write_schema(folder, facts)
        write_whole(folder / JOB_FILE, text.encode())
    return open_job(folder)


def check_beginning(folder: Path, name: str) -> None:
    """Refuse a place or a name that no job can be begun with, before anybody answers a question.

    Raises:
        JobError: the folder is a file, or holds a job already, or the name cannot be used.
    """
    if (folder / JOB_FILE).exists():
        raise JobError(f"There is a job in {folder} already; it was not changed. Choose another folder.")
    if folder.exists() and not folder.is_dir():
        raise JobError(f"{folder} is a file. Name a folder for the job.")
    try:
        read_name(name)
    except EntryError as error:
        raise JobError(f"The name of the job {error}") from None


def _first_text(
    name: str, floor: str, answers: Mapping[str, str | float | bool], facts: Mapping[str, Fact], units: str
) -> str:
    """Return the text of a first job.toml.

    Raises:
        JobError: a name or an answer cannot be used.
    """
    try:
        quoted = {key: tomlkit.item(read_name(value)).as_string() for key, value in (("name", name), ("floor", floor))}
    except EntryError as error:
        raise JobError(f"The name of the job or its floor {error}") from None
    bare = "meters and °C" if units == "metric" else "feet and °F"
    lines = [_answer_line(facts, fact, value) for fact, value in answers.items()]
    lines += [_open_line(fact) for fact in facts.values() if fact.asked_by_new and fact.id not in answers]
    head = _HEAD.format(schema_line=SCHEMA_LINE, bare=bare, units=units, **quoted)
    return head + "".join(lines) + _TAIL


def _answer_line(facts: Mapping[str, Fact], id_: str, value: str | float | bool) -> str:
    """Return the line of one answer, with the other answers that the fact takes beside it.

    Raises:
        JobError: there is no such fact, or it does not take this answer.
    """
    fact = facts.get(id_)
    mistake = answer_mistake(fact, value) if fact else "is not a fact."
    if fact is None or mistake:
        raise JobError(f"The answer to {shown(id_)}: {mistake}")
    return _with_choices(fact, f"{id_} = {tomlkit.item(value).as_string()}", value)


def _open_line(fact: Fact) -> str:
    """Return the line of a question that nobody answered yet, behind its #."""
    example = fact.values[0] if fact.values else fact.type == "flag" or fact.least or 0
    return _with_choices(fact, f"# {fact.id} = {tomlkit.item(example).as_string()}", example)


def _with_choices(fact: Fact, line: str, value: str | float | bool) -> str:
    """Return the line with the other answers that the fact takes: behind it, or above it where they are many."""
    others = [str(word) for word in fact.values or () if word != value]
    beside = f"{line}  # or {', '.join(others)}"
    if not others:
        return f"{line}\n"
    if len(beside) <= _WIDTH:
        return f"{beside}\n"
    above = textwrap.fill(", ".join(fact.values or ()), _WIDTH, initial_indent="# ", subsequent_indent="# ")
    return f"{above}\n{line}\n"
