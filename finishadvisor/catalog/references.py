"""Refuses rows that name a row which does not exist, across every file that makes up a catalog."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, get_args

from finishadvisor.catalog.models import Catalog, Fact, Finish, Rule
from finishadvisor.catalog.row import Row, SourceRef
from finishadvisor.catalog.supplies import Material, WorkItem
from finishadvisor.errors import CatalogError, nearest_of

PROTECTIVE: Final = "protective"
"""The chemistry of protective equipment: what `ppe` may name."""

Named = tuple[str, str, str]
"""The key that names another row, the table that it must stand in, and the id named."""

_ATTRIBUTE_WORDS: Final = ("family", "cover", "film", "sheen", "deepens")
_ATTRIBUTE_IDS: Final = {
    "finish": "finish",
    "material": "material",
    "preparation": "work_item",
    "caution": "caution",
    "cause": "cause",
}
_ATTRIBUTE_CHEMISTRIES: Final = ("layer", "top", "first")
_ABOUT: Final = ("all", *_ATTRIBUTE_IDS, *_ATTRIBUTE_WORDS, *_ATTRIBUTE_CHEMISTRIES, "carrier")


@dataclass(frozen=True)
class _Known:
    """Every id by table, and the words that attributes may take."""

    ids: Mapping[str, Iterable[str]]
    words: Mapping[str, Iterable[str]]

    def mistake(self, named: Named) -> str | None:
        key, table, row_id = named
        allowed = self.ids[table]
        if row_id in allowed:
            return None
        return f'key "{key}": there is no {table.replace("_", " ")} "{row_id}".{_hint(row_id, allowed)}'


def check_references(catalog: Catalog, places: Mapping[tuple[str, str], str]) -> None:
    """Refuse a catalog in which a row names something that does not exist.

    Args:
        catalog: rows that are each sound by themselves.
        places: by table and id, the file that the row came from.

    Raises:
        CatalogError: names file, row, key, what is missing, and the nearest right name.
    """
    known = _known(catalog)
    for (table, row_id), file in places.items():
        row = _row(catalog, table, row_id)
        mistakes = (*filter(None, map(known.mistake, _names_in(row))), *_about_mistakes(row, known))
        for mistake in mistakes:
            raise CatalogError(f'{file}, {table} "{row_id}": {mistake}')


def _known(catalog: Catalog) -> _Known:
    materials = catalog.materials.values()
    ids: dict[str, Iterable[str]] = {
        "source": catalog.sources,
        "fact": catalog.facts,
        "material": catalog.materials,
        "work_item": catalog.work_items,
        "finish": catalog.finishes,
        "caution": catalog.cautions,
        "cause": catalog.causes,
        "protective equipment": [material.id for material in materials if material.chemistry == PROTECTIVE],
    }
    words: dict[str, Iterable[str]] = {name: _literal_words(Finish, name) for name in _ATTRIBUTE_WORDS}
    words |= dict.fromkeys(_ATTRIBUTE_CHEMISTRIES, sorted({material.chemistry for material in materials}))
    words |= {"carrier": _literal_words(Material, "carrier"), "all": ("finishes",)}
    return _Known(ids, words)


def _row(catalog: Catalog, table: str, row_id: str) -> Row:
    if table == "rule":
        return catalog.rules.get(row_id) or catalog.cause_rules[row_id]
    rows: Mapping[str, Row] = getattr(catalog, PLURALS[table])
    return rows[row_id]


PLURALS: Final[Mapping[str, str]] = {
    "source": "sources",
    "fact": "facts",
    "material": "materials",
    "work_item": "work_items",
    "finish": "finishes",
    "rule": "rules",
    "cause": "causes",
    "outside_kind": "outside_kinds",
    "caution": "cautions",
    "limit": "limits",
    "criterion": "criteria",
}
"""The catalog's field for each table; rules about causes have one of their own."""


# --- what each kind of row names -------------------------------------------------------------------------------------


def _names_in(row: Row) -> Iterator[Named]:
    source: SourceRef | None = getattr(row, "source", None)
    if source is not None:
        yield "source", "source", source.id
    source_of: Mapping[str, SourceRef] = getattr(row, "source_of", {})
    yield from (("source_of", "source", ref.id) for ref in source_of.values())
    for kind, names in _NAMES.items():
        if isinstance(row, kind):
            yield from names(row)
    yield from (("when", "fact", fact_id) for fact_id in _facts_in(getattr(row, "when", {})))


def _material(material: Material) -> Iterator[Named]:
    yield from (("cautions", "caution", name) for name in material.cautions)
    yield from (("ppe", "protective equipment", name) for name in material.ppe)


def _work_item(item: WorkItem) -> Iterator[Named]:
    yield from (("materials", "material", used.material) for used in item.materials)
    yield from (("cautions", "caution", name) for name in item.cautions)
    yield from (("ppe", "protective equipment", name) for name in item.ppe)


def _finish(finish: Finish) -> Iterator[Named]:
    for layer in finish.layers:
        yield "layers", "material", layer.material
        yield from (("layers", "work_item", name) for name in (layer.work_item, *layer.before))
    yield from (("preparation", "work_item", name) for name in finish.preparation)
    yield from (("afterwards", "work_item", name) for name in finish.afterwards)
    yield from (("upkeep", "work_item", name) for name in finish.upkeep.recoat_preparation)
    yield from (("closes", "finish", name) for name in finish.closes)


def _fact(fact: Fact) -> Iterator[Named]:
    for row in fact.follows:
        yield from (("follows", "fact", fact_id) for fact_id in _facts_in(row.when))


def _rule(rule: Rule) -> Iterator[Named]:
    if rule.work_item is not None:
        yield "work_item", "work_item", rule.work_item
    if rule.answered_by is not None:
        yield "answered_by", "work_item", rule.answered_by
    if rule.restates is not None:
        yield "restates", "caution", rule.restates
    for attribute, table in _ATTRIBUTE_IDS.items():
        yield from ((f"about.{attribute}", table, name) for name in _as_tuple(rule.about.get(attribute, ())))


_NAMES: Final[Mapping[type[Row], Callable[[Any], Iterator[Named]]]] = {
    Material: _material,
    WorkItem: _work_item,
    Finish: _finish,
    Fact: _fact,
    Rule: _rule,
}


def _facts_in(when: Any) -> Iterator[str]:
    """Yield the facts that a condition names; what stands behind a fact is checked where conditions are understood."""
    for key, value in when.items() if isinstance(when, Mapping) else ():
        if key == "not":
            yield from _facts_in(value)
        elif key == "any_of":
            for branch in value if isinstance(value, list | tuple) else ():
                yield from _facts_in(branch)
        else:
            yield key


# --- what a rule speaks of -------------------------------------------------------------------------------------------


def _about_mistakes(row: Row, known: _Known) -> Iterator[str]:
    if not isinstance(row, Rule):
        return
    for attribute, wanted in row.about.items():
        if attribute not in _ABOUT:
            yield f'key "about" has no "{attribute}". Allowed are {", ".join(_ABOUT)}.{nearest_of(attribute, _ABOUT)}'
        words = known.words.get(attribute, ())
        for word in _as_tuple(wanted) if words else ():
            if word not in words:
                yield (
                    f'key "about.{attribute}" is "{word}"; it must be one of {", ".join(words)}.'
                    f"{nearest_of(word, words)}"
                )


def _as_tuple(words: str | tuple[str, ...]) -> tuple[str, ...]:
    return (words,) if isinstance(words, str) else words


def _literal_words(model: type[Row], name: str) -> tuple[str, ...]:
    """Return the words of a field that is a literal, or a tuple of literals."""
    annotation = model.__annotations__[name]
    first = get_args(annotation)[0]
    return get_args(annotation) if isinstance(first, str) else get_args(first)


def _hint(row_id: str, allowed: Iterable[str]) -> str:
    near = nearest_of(row_id, allowed)
    return near or " Add it, or name one that is there (docs/ lists them)."
