"""A job on disk: one folder with job.toml, photos and papers."""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from finishadvisor.errors import JobError
from finishadvisor.job.checks import find_mistakes
from finishadvisor.job.document import Job
from finishadvisor.job.mistakes import lines_of
from finishadvisor.job.toml_text import decode, parse, read_bytes

if TYPE_CHECKING:
    import tomlkit

JOB_FILE: Final = "job.toml"
PHOTOS: Final = "photos"
PAPERS: Final = "papers"
OWN_FOLDER_VARIABLE: Final = "FINISHADVISOR_FOLDER"


@dataclass(frozen=True)
class OpenJob:
    """A job that was read and found valid. `own_paths`: the user's catalog files, in the order they overlay."""

    folder: Path
    job: Job
    own_paths: tuple[Path, ...]


def open_job(path: Path) -> OpenJob:
    """Return the job of a folder, or of the job.toml inside it.

    Raises:
        JobError: there is no job, or job.toml cannot be used; `mistakes` lists everything found.
    """
    folder = find_folder(path)
    text = decode(read_bytes(folder / JOB_FILE), JOB_FILE)
    job = read_job(text, folder)
    return OpenJob(folder, job, (*user_files(), *_own_files(job, folder)))


def find_folder(path: Path) -> Path:
    """Return the job folder that a path names.

    Raises:
        JobError: the path is neither a folder with a job.toml nor such a file.
    """
    if path.is_dir():
        if not (path / JOB_FILE).exists():
            raise JobError(f"There is no {JOB_FILE} in {path}. Begin a job with: finishadvisor new {path}")
        return path
    if not path.exists():
        raise JobError(f"There is no job at {path}. Check the name, or begin a job with: finishadvisor new {path}")
    if path.name != JOB_FILE:
        raise JobError(f"{path} is not a job. Name a job folder, or the {JOB_FILE} inside it.")
    return path.parent


def read_job(text: str, folder: Path) -> Job:
    """Return the job that a text states.

    Args:
        text: the text of a job.toml.
        folder: the job folder, for the photos and own files that it names.

    Raises:
        JobError: the text is not TOML, an entry is wrong, or entries do not agree; `mistakes` lists everything found.
    """
    plain = parse(text, JOB_FILE)
    try:
        job = _validated(plain)
    except ValidationError as error:
        raise JobError(*lines_of(error, plain, JOB_FILE)) from None
    mistakes = find_mistakes(job, folder)
    if mistakes:
        raise JobError(*(f"{JOB_FILE}: {mistake}" for mistake in mistakes))
    return job


def _validated(plain: Mapping[str, Any]) -> Job:
    """Return the job; a file uses the singular keys of lists only, one spelling for each."""
    context = {"metric": plain.get("units") == "metric"}
    return Job.model_validate(plain, context=context, by_alias=True, by_name=False)


def job_version(folder: Path) -> str:
    """Return the mark of what job.toml holds now; `edit_job` takes it to refuse a change thought out for older content.

    Raises:
        JobError: there is no job, or it cannot be read.
    """
    from finishadvisor.job.writing import version_of

    return version_of(read_bytes(find_folder(folder) / JOB_FILE))


def edit_job(folder: Path, change: "Callable[[tomlkit.TOMLDocument], None]", version: str | None = None) -> OpenJob:
    """Change job.toml: comments stay, the previous version is kept, nothing is written unless the result is valid.

    Args:
        folder: the job folder.
        change: alters the document in place.
        version: the mark that `job_version` gave when the change was thought out; None where any content will do.

    Raises:
        ChangedMeanwhileError: the job is not of that version any more; nothing was written.
        JobError: another program is writing the job, the result is not a valid job, or the file cannot be written.
    """
    from finishadvisor.job.writing import change_file

    place = find_folder(folder)
    change_file(place / JOB_FILE, change, lambda text: read_job(text, place), version)
    return open_job(place)


def user_folder() -> Path:
    """Return the folder for catalog files that hold for all of the user's jobs; it need not exist."""
    named = os.environ.get(OWN_FOLDER_VARIABLE)
    if named:
        return Path(named)
    from platformdirs import user_data_path

    return user_data_path("finishadvisor", appauthor=False)


def user_files() -> tuple[Path, ...]:
    """Return the catalog files of the user folder, by name."""
    folder = user_folder()
    return tuple(sorted(folder.glob("*.toml"))) if folder.is_dir() else ()


def _own_files(job: Job, folder: Path) -> tuple[Path, ...]:
    own = job.own_files
    return tuple(folder / file for file in (*own.materials, *own.finishes, *own.rules))
