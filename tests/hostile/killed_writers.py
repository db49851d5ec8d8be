"""Writers that are killed at a random moment, and what their folder must hold afterwards."""

import datetime
import json
import multiprocessing
import os
import random
import shutil
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

import tomlkit

from finishadvisor.job.document import Used
from finishadvisor.job.edits import add_used
from finishadvisor.job.folder import JOB_FILE, edit_job, open_job
from finishadvisor.job.new import new_job
from finishadvisor.job.writing import previous_of, write_whole
from finishadvisor.whole_job.files import write_json

ROWS = 60
TEXT = 'name = "0"  # comment\ncrew = 1\n\n[[floor]]\nname = "f"\n' + "".join(
    f'\n[[floor.reading]]\nkind = "slab-rh"\nvalue = {70 + number % 20}\ndate = 2026-09-17\nnote = "hole {number}"\n'
    for number in range(ROWS)
)
UNFINISHED = ".*.unfinished"
DAY = datetime.date(2026, 9, 21)
LONG_AGO = 1_000_000_000


def change_job(folder: Path, turn: int) -> None:
    """Write the turn into two places of job.toml at once."""

    def both(document: tomlkit.TOMLDocument) -> None:
        document["name"] = str(turn)
        document["client"] = str(turn)

    edit_job(folder, both)


def record_use(folder: Path, turn: int) -> None:
    add_used(folder, "f", Used(material="flake", layer="flake", area_ft2=10, used=turn + 1, date=DAY))


def write_result(folder: Path, turn: int) -> None:
    (folder / "papers").mkdir(exist_ok=True)
    write_json(folder / "papers" / "result.json", {"turn": turn, "cells": [turn] * 40_000})


def write_picture(folder: Path, turn: int) -> None:
    (folder / "papers").mkdir(exist_ok=True)
    write_whole(folder / "papers" / "map.png", bytes([turn % 256]) * 3_000_000)


def begin_job(folder: Path, turn: int) -> None:
    new_job(folder / f"job-{turn}", f"Job {turn}", {}, {})


def copy_demo(folder: Path, turn: int) -> None:
    from finishadvisor.demo.example import copy_example

    copy_example(folder / f"demo-{turn}")


def job_is_whole(folder: Path) -> None:
    """Check that job.toml and its previous version are each one turn's, comments and all, and can be changed."""
    for path in (folder / JOB_FILE, previous_of(folder / JOB_FILE)):
        if path.exists():
            document = tomlkit.parse(path.read_text(encoding="utf-8"))
            assert document.get("client", document["name"]) == document["name"]
            assert len(document["floor"][0]["reading"]) == ROWS  # type: ignore[index,arg-type]
            assert "# comment" in document.as_string()
    uses = [used.used for used in open_job(folder).job.floors[0].used]
    assert uses == list(range(1, len(uses) + 1))
    change_job(folder, 10**6)  # the lock of the dead holds nobody up
    assert open_job(folder).job.client == str(10**6)
    assert not list(folder.glob(UNFINISHED))


def written_again(path: Path, write: Callable[[], None]) -> None:
    """Check that what is left unfinished is left alone while another may be at it, and gone once it is old."""
    before = set(path.parent.glob(UNFINISHED))
    write()
    assert set(path.parent.glob(UNFINISHED)) == before
    for left in before:
        os.utime(left, (LONG_AGO, LONG_AGO))
    write()
    assert not list(path.parent.glob(UNFINISHED))


def result_is_whole(folder: Path) -> None:
    path = folder / "papers" / "result.json"
    if path.exists():
        content = json.loads(path.read_text(encoding="utf-8"))
        assert content["cells"] == [content["turn"]] * 40_000
    written_again(path, lambda: write_result(folder, 7))


def picture_is_whole(folder: Path) -> None:
    path = folder / "papers" / "map.png"
    if path.exists():
        content = path.read_bytes()
        assert len(content) == 3_000_000
        assert content == content[:1] * 3_000_000
    written_again(path, lambda: write_picture(folder, 7))


def begun_jobs_are_whole(folder: Path) -> None:
    """Check that each begun folder holds a whole job, or none yet and one can be begun there."""
    for place in folder.glob("job-*"):
        if (place / JOB_FILE).exists():
            assert open_job(place).job.name.startswith("Job ")
        else:
            new_job(place, "again", {}, {})
        schema = place / "job.schema.json"
        assert json.loads(schema.read_text(encoding="utf-8"))


def copied_demos_are_whole(folder: Path) -> None:
    """Check that each copy has every file of the example in full."""
    from importlib import resources

    source = Path(str(resources.files("finishadvisor.demo").joinpath("job")))
    for place in folder.glob("demo-*"):
        for path in source.rglob("*"):
            if path.is_file():
                assert (place / path.relative_to(source)).read_bytes() == path.read_bytes()
        assert json.loads((place / "job.schema.json").read_text(encoding="utf-8"))


@dataclass(frozen=True)
class Writer:
    """What is written again and again, and the check of the folder when it was killed at it."""

    write: Callable[[Path, int], None]
    check: Callable[[Path], None]
    fresh: bool = False
    """True: it makes new folders and needs no job."""


WRITERS = {
    "job.toml, two entries at once": Writer(change_job, job_is_whole),
    "job.toml, amounts used": Writer(record_use, job_is_whole),
    "a result as JSON": Writer(write_result, result_is_whole),
    "a picture": Writer(write_picture, picture_is_whole),
    "a new job": Writer(begin_job, begun_jobs_are_whole, fresh=True),
    "the example": Writer(copy_demo, copied_demos_are_whole, fresh=True),
}


def keep_writing(name: str, folder: Path, pipe: Connection) -> None:
    """Write for as long as the process lives, and say when the first is done."""
    writer = WRITERS[name]
    writer.write(folder, 0)
    pipe.send("writing")
    for turn in range(1, 10**6):
        writer.write(folder, turn)


def kill_one(name: str, folder: Path, chance: random.Random) -> None:
    """Start a writer in a new folder, kill it at a random moment, and check what it left.

    Raises:
        AssertionError: something is half-written or lost.
    """
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    if not WRITERS[name].fresh:
        (folder / JOB_FILE).write_text(TEXT, encoding="utf-8")
    context = multiprocessing.get_context("fork" if sys.platform == "linux" else "spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=keep_writing, args=(name, folder, theirs), daemon=True)
    process.start()
    theirs.close()
    assert ours.poll(60), "the writer does not begin"
    ours.recv()
    time.sleep(chance.random() * 0.05)
    process.kill()
    process.join()
    WRITERS[name].check(folder)
