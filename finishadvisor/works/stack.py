"""The layers of a finish as tasks in order: what is laid, what goes between, what is thrown into a wet coat."""

from collections.abc import Iterable
from dataclasses import dataclass

from finishadvisor.catalog.models import Catalog, Finish, Layer
from finishadvisor.catalog.row import SourceRef
from finishadvisor.catalog.supplies import WorkItem
from finishadvisor.errors import CatalogError, nearest_of
from finishadvisor.records.base import SourceNote

LAYER_PHASE = 70
"""Layers and everything between them keep the order of the stack, whatever phase a work item has elsewhere."""


@dataclass(frozen=True)
class Piece:
    """One task that has no extent yet."""

    id: str
    item: WorkItem
    phase: int
    title: str
    layer: str | None
    coat: int | None
    material: str | None
    """The material of the layer; what the work item itself uses up is in its row."""
    certain: bool
    why: str
    rule: str | None
    source: SourceNote


def source_note(source: SourceRef) -> SourceNote:
    """Return a row's source as results carry it."""
    return SourceNote(id=source.id, clause=source.clause, from_memory=source.from_memory)


def finish_pieces(finish: Finish, catalog: Catalog) -> tuple[Piece, ...]:
    """Return all tasks that are always part of a finish, in order: preparation, layers bottom up, what follows."""
    why = f"Part of {finish.name}"
    return (
        *(item_piece(work_item(id_, catalog), why) for id_ in finish.preparation),
        *_layer_pieces(finish, finish.layers, why, catalog),
        *(item_piece(work_item(id_, catalog), why) for id_ in finish.afterwards),
    )


def recoat_pieces(finish: Finish, catalog: Catalog) -> tuple[Piece, ...]:
    """Return the tasks of a recoat: its preparation, then one coat of each layer that is renewed."""
    why = f"Recoat of {finish.name}"
    named = finish.upkeep.recoat_layers
    layers = [
        layer.model_copy(update={"coats": 1, "before": (), "into": layer.into if layer.into in named else None})
        for layer in finish.layers
        if layer.name in named
    ]
    return (
        *(item_piece(work_item(id_, catalog), why) for id_ in finish.upkeep.recoat_preparation),
        *_layer_pieces(finish, layers, why, catalog),
    )


def item_piece(
    item: WorkItem, why: str, *, rule: str | None = None, certain: bool = True, source: SourceNote | None = None
) -> Piece:
    """Return a work item as a task of its own."""
    return Piece(
        id=item.id,
        item=item,
        phase=item.phase,
        title=item.title,
        layer=None,
        coat=None,
        material=None,
        certain=certain,
        why=why,
        rule=rule,
        source=source or source_note(item.source),
    )


def work_item(item_id: str, catalog: Catalog) -> WorkItem:
    """Return a work item of the catalog.

    Raises:
        CatalogError: there is no such work item.
    """
    item = catalog.work_items.get(item_id)
    if item is None:
        raise CatalogError(f'There is no work item "{item_id}".{nearest_of(item_id, catalog.work_items)}')
    return item


def in_order(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Return tasks by phase, otherwise as they stand, each with an id of its own."""
    counts: dict[str, int] = {}
    ordered = []
    for piece in sorted(pieces, key=lambda piece: piece.phase):
        counts[piece.id] = counts.get(piece.id, 0) + 1
        again = counts[piece.id]
        ordered.append(piece if again == 1 else _renamed(piece, f"{piece.id}-{again}"))
    return tuple(ordered)


def _renamed(piece: Piece, id_: str) -> Piece:
    return Piece(**{**vars(piece), "id": id_})


def _layer_pieces(finish: Finish, layers: Iterable[Layer], why: str, catalog: Catalog) -> tuple[Piece, ...]:
    """Return coats bottom up, each layer after what is done before it, broadcasts behind the coat they go into.

    Raises:
        CatalogError: a layer is thrown into one that does not lie below it.
    """
    pieces: list[Piece] = []
    for layer in layers:
        coats = _coats(finish, layer, why, catalog)
        if layer.into is not None:
            below = [n for n, piece in enumerate(pieces, start=1) if piece.layer == layer.into]
            if not below:
                raise CatalogError(
                    f'Finish "{finish.id}": layer "{layer.name}" is thrown into "{layer.into}", which does not lie '
                    "below it. Name a layer that stands before it."
                )
            pieces[below[-1] : below[-1]] = coats
            continue
        for id_ in layer.before:
            between = item_piece(work_item(id_, catalog), why)
            pieces.append(Piece(**{**vars(between), "phase": LAYER_PHASE}))
        pieces += coats
    return tuple(pieces)


def _coats(finish: Finish, layer: Layer, why: str, catalog: Catalog) -> list[Piece]:
    """Return one task for each coat of a layer.

    Raises:
        CatalogError: the layer names a material that does not exist.
    """
    material = catalog.materials.get(layer.material)
    if material is None:
        raise CatalogError(
            f'Finish "{finish.id}", layer "{layer.name}": there is no material "{layer.material}".'
            f"{nearest_of(layer.material, catalog.materials)}"
        )
    item = work_item(layer.work_item, catalog)
    return [
        Piece(
            id=f"{layer.name}-coat-{coat}",
            item=item,
            phase=LAYER_PHASE,
            title=f"{item.title}: {layer.name}" + (f", coat {coat} of {layer.coats}" if layer.coats > 1 else ""),
            layer=layer.name,
            coat=coat,
            material=layer.material,
            certain=True,
            why=why,
            rule=None,
            source=source_note(material.source),
        )
        for coat in range(1, layer.coats + 1)
    ]
