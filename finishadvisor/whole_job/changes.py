"""What the command line and the page change in a job folder."""

from collections.abc import Mapping
from pathlib import Path

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Fact
from finishadvisor.errors import JobError, nearest_of
from finishadvisor.job.document import Used
from finishadvisor.job.edits import add_used
from finishadvisor.job.folder import OpenJob, user_files
from finishadvisor.job.new import new_job


def questions_for_new() -> tuple[Fact, ...]:
    """Return the decisive questions that a new job asks."""
    return tuple(fact for fact in load_catalog(user_files()).facts.values() if fact.asked_by_new)


def begin_job(folder: Path, name: str, answers: Mapping[str, str | float | bool]) -> OpenJob:
    """Write a first job.toml with these answers; a job that is there already is never touched."""
    return new_job(folder, name, answers, load_catalog(user_files()).facts)


def record_used(folder: Path, floor: str, used: Used) -> OpenJob:
    """Write down what was really used of a material.

    Raises:
        JobError: there is no such material, or the entry is refused; nothing is written then.
    """
    materials = load_catalog(user_files()).materials
    if used.material not in materials:
        raise JobError(f'There is no material "{used.material}".{nearest_of(used.material, materials)}')
    return add_used(folder, floor, used)
