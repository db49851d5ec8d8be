"""The example job copied to where a person can try things on it."""

import datetime
import shutil
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Final

from finishadvisor.catalog.load import load_catalog
from finishadvisor.errors import UsageError
from finishadvisor.job.schema import write_schema

EXAMPLE_DAY: Final = datetime.date(2026, 9, 21)
"""The day of the example: its readings, photos and weather are of that autumn."""


def copy_example(folder: Path) -> None:
    """Copy the example job into a folder that does not exist yet; it is there as a whole, or not at all.

    Raises:
        UsageError: the folder exists already.
    """
    if folder.exists():
        raise UsageError(f"{folder} exists already and is left as it is. Name another folder: finishadvisor demo DIR")
    unfinished = folder.with_name(f".{folder.name}.unfinished")
    shutil.rmtree(unfinished, ignore_errors=True)  # left by a copy that was stopped
    copy_tree(resources.files("finishadvisor.demo").joinpath("job"), unfinished)
    (unfinished / "papers").mkdir(exist_ok=True)
    write_schema(unfinished, load_catalog().facts)
    unfinished.rename(folder)


def copy_tree(source: Traversable, target: Path) -> None:
    """Copy packaged files and folders, wherever the package lies."""
    target.mkdir(parents=True)
    for entry in source.iterdir():
        if entry.is_dir():
            copy_tree(entry, target / entry.name)
        else:
            (target / entry.name).write_bytes(entry.read_bytes())
