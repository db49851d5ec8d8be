"""The user's own catalog rows on paper: named where one decided or was used, in plain words for the client."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.wording import sentence
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.order import Order
from finishadvisor.records.works import FloorWorks

_OWN_ROW: Final = re.compile(r"(?P<table>\w+) (?P<id>\S+) \((?P<file>.*)\)")
"""How the catalog names a row of the user's: `rule no-epoxy-on-porch (my-rules.toml)`."""


@dataclass(frozen=True)
class OwnRow:
    """One row of the user's own: its table and id, and the file that it stands in."""

    table: str
    id: str
    file: str


def own_rows(catalog: Catalog) -> list[OwnRow]:
    """Return the user's own rows that are in force."""
    found = (_OWN_ROW.fullmatch(row) for row in catalog.own_rows)
    return [OwnRow(**match.groupdict()) for match in found if match is not None]


def of_finishes(shown: Sequence[FinishAdvice], catalog: Catalog) -> list[OwnRow]:
    """Return the own rows that decided about finishes or describe them: rules that are met, the finish, its layers."""
    rules = {finding.rule for finish in shown for finding in finish.reasons if finding.met == "yes"}
    ids = {finish.id for finish in shown}
    layers = {layer.material for id_ in ids if id_ in catalog.finishes for layer in catalog.finishes[id_].layers}
    added = {work.work_item for finish in shown for work in finish.adds}
    return _among(catalog, {"rule": rules, "finish": ids, "material": layers, "work_item": added})


def of_works(works: FloorWorks, catalog: Catalog) -> list[OwnRow]:
    """Return the own rows that the work of a floor is made of."""
    items = {task.work_item for task in works.tasks}
    materials = {use.material for task in works.tasks for use in task.materials}
    cautions = {id_ for item in items for id_ in catalog.work_items[item].cautions}
    cautions |= {id_ for material in materials for id_ in catalog.materials[material].cautions}
    return _among(catalog, {"finish": {works.finish}, "work_item": items, "material": materials, "caution": cautions})


def of_order(order: Order, catalog: Catalog) -> list[OwnRow]:
    """Return the own rows among the materials of an order."""
    return _among(catalog, {"material": {packs.material for packs in order.packs}})


def of_causes(evenness: FloorEvenness, catalog: Catalog) -> list[OwnRow]:
    """Return the own rows among the likely causes of unevenness."""
    causes = {cause.cause for photo in (evenness.together, *evenness.photos) if photo for cause in photo.causes or ()}
    return _among(catalog, {"cause": causes})


def named_with_file(rows: Iterable[OwnRow], catalog: Catalog) -> list[str]:
    """Return each row as the contractor knows it: "Material: Clear sealer (my-rows.toml)"."""
    return [f"{row.table.replace('_', ' ').capitalize()}: {_name(row, catalog)} ({row.file})" for row in rows]


def in_plain_words(rows: Iterable[OwnRow], catalog: Catalog) -> list[str]:
    """Return each row as a client understands it; files and ids are the contractor's."""
    return [sentence(words) for row in rows for words in _plain(row, catalog)]


def _plain(row: OwnRow, catalog: Catalog) -> Iterator[str]:
    name = _name(row, catalog)
    if row.table == "rule":
        yield name
    elif row.table in {"finish", "material"}:
        yield f"{name}: described from the contractor's own experience or data sheet"
    elif row.table == "work_item":
        yield f"{name}: a step of the contractor's own"


def _name(row: OwnRow, catalog: Catalog) -> str:
    if row.table == "rule":
        return catalog.rules[row.id].because
    if row.table == "work_item":
        return catalog.work_items[row.id].title
    if row.table == "caution":
        return catalog.cautions[row.id].sentence
    if row.table == "finish":
        return catalog.finishes[row.id].name
    return catalog.causes[row.id].name if row.table == "cause" else catalog.materials[row.id].name


def _among(catalog: Catalog, used: dict[str, set[str]]) -> list[OwnRow]:
    return [row for row in own_rows(catalog) if row.id in used.get(row.table, ())]
