"""What a rule may speak of: the attributes of a finish, as words that a rule's `about` matches."""

from collections.abc import Iterable

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.catalog.supplies import Material
from finishadvisor.rules.evaluate import Subject


def finish_subject(finish: Finish, catalog: Catalog) -> Subject:
    """Return the attributes of a finish for the selectors of rules.

    finish, family, cover, film, sheen and deepens are words of the finish itself. Of its layers, bottom up: layer
    holds every chemistry, top and first that of the uppermost and the lowest layer, carrier every carrier, material
    every material id. preparation holds the work items before the layers, caution what its materials and work items
    warn of.

    Args:
        finish: the finish; its materials and work items are in the catalog.
        catalog: the catalog as this job sees it.
    """
    materials = [catalog.materials[layer.material] for layer in finish.layers]
    films = [material for material in materials if material.chemistry != "supply"]
    return {
        "finish": frozenset({finish.id}),
        "family": frozenset({finish.family}),
        "cover": frozenset({finish.cover}),
        "film": frozenset({finish.film}),
        "sheen": frozenset(finish.sheen),
        "deepens": frozenset({finish.deepens}),
        "layer": frozenset(material.chemistry for material in films),
        "top": _chemistry(films[-1:]),
        "first": _chemistry(films[:1]),
        "carrier": frozenset(material.carrier for material in films),
        "preparation": frozenset(finish.preparation),
        "caution": frozenset(cautions_of(finish, catalog)),
        "material": frozenset(material.id for material in materials),
    }


def cautions_of(finish: Finish, catalog: Catalog) -> tuple[str, ...]:
    """Return the ids of the usual cautions of a finish: of its work items and materials, in the order of the work."""
    items = [*finish.preparation]
    for layer in finish.layers:
        items += [*layer.before, layer.work_item]
    rows = [catalog.work_items[id_] for id_ in (*items, *finish.afterwards)]
    used = [use.material for row in rows for use in row.materials] + [layer.material for layer in finish.layers]
    named = [caution for row in rows for caution in row.cautions]
    named += [caution for id_ in used for caution in catalog.materials[id_].cautions]
    return tuple(dict.fromkeys(named))


def _chemistry(materials: Iterable[Material]) -> frozenset[str]:
    return frozenset(material.chemistry for material in materials)
