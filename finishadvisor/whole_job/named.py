"""What a person names: a floor of the job, a finish or a material of the catalog, by its id or by its name."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.catalog.supplies import Material
from finishadvisor.errors import JobError, UsageError, nearest_of
from finishadvisor.job.folder import open_job


def floor_named(path: Path, typed: str | None) -> str:
    """Return a floor's name as its job writes it: the one typed, or the only floor that there is.

    Args:
        path: the job folder or its job.toml.
        typed: the name, capitals or not; None where none was given.

    Raises:
        UsageError: no name was given and the job has several floors.
        JobError: the job cannot be used, or has no floor of that name.
    """
    names = [floor.name for floor in open_job(path).job.floors]
    if typed is not None:
        return same_name(typed, names)
    if len(names) > 1:
        raise UsageError(f"The job has several floors; say which with --floor: {_listed(names)}.")
    return names[0]


def same_name(typed: str, names: Iterable[str]) -> str:
    """Return the name among those of a job's floors that is meant; capitals make no difference.

    Raises:
        JobError: there is none.
    """
    known = {name.casefold(): name for name in names}
    found = known.get(typed.strip().casefold())
    if found is None:
        nearest = nearest_of(typed, known.values()) if len(known) > 1 else ""
        raise JobError(f'There is no floor "{typed}" in this job; it has {_listed(known.values())}.{nearest}')
    return found


def finish_named(typed: str, catalog: Catalog) -> str:
    """Return the id of the finish that is meant.

    Raises:
        JobError: there is none.
    """
    return _id_of(typed, catalog.finishes, f"Allowed are {', '.join(catalog.finishes)}.", "finish")


def material_named(typed: str, catalog: Catalog) -> str:
    """Return the id of the material that is meant.

    Raises:
        JobError: there is none.
    """
    return _id_of(typed, catalog.materials, "The order of the job prints the ids of its materials.", "material")


def _id_of(typed: str, rows: Mapping[str, Finish] | Mapping[str, Material], allowed: str, what: str) -> str:
    ids = {row.name.casefold(): id_ for id_, row in rows.items()} | {id_.casefold(): id_ for id_ in rows}
    found = ids.get(typed.strip().casefold())
    if found is None:
        raise JobError(f'There is no {what} "{typed}". {allowed}{nearest_of(typed, rows)}')
    return found


def _listed(names: Iterable[str]) -> str:
    return ", ".join(f'"{name}"' for name in names)
