"""Reads the limits of the evenness measurement from data/evenness_limits.toml."""

from functools import cache
from importlib import resources

import tomli
from msgspec import ValidationError

from finishadvisor.catalog.models import Limit
from finishadvisor.errors import CatalogError, nearest_of


@cache
def evenness_limits() -> dict[str, Limit]:
    """Return every limit by id.

    Raises:
        CatalogError: a row is malformed or an id is there twice.
    """
    file = resources.files("finishadvisor.catalog") / "data" / "evenness_limits.toml"
    limits: dict[str, Limit] = {}
    for row in tomli.loads(file.read_text(encoding="utf-8"))["limit"]:
        try:
            limit = Limit.model_validate(row)
        except ValidationError as error:
            raise CatalogError(f"evenness_limits.toml, row {row.get('id')!r}: {error}.") from error
        if limit.id in limits:
            raise CatalogError(f"evenness_limits.toml, row {limit.id!r} is there twice. Keep one.")
        limits[limit.id] = limit
    return limits


def evenness_limit(limit_id: str) -> float:
    """Return the value of one limit.

    Raises:
        CatalogError: there is no such limit.
    """
    limits = evenness_limits()
    if limit_id not in limits:
        raise CatalogError(f"evenness_limits.toml has no limit {limit_id!r}.{nearest_of(limit_id, limits)}")
    return limits[limit_id].value
