"""Named numbers of the catalog, with the user's own rows laid over them."""

from finishadvisor.catalog.models import Catalog
from finishadvisor.errors import CatalogError, nearest_of


def limit(catalog: Catalog, limit_id: str) -> float:
    """Return the value of a limit, in the unit that its row states.

    Raises:
        CatalogError: the catalog has no such limit.
    """
    row = catalog.limits.get(limit_id)
    if row is None:
        raise CatalogError(
            f'The catalog has no limit "{limit_id}". Add a [[limit]] row with that id.'
            f"{nearest_of(limit_id, catalog.limits)}"
        )
    return row.value
