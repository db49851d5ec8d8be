"""Makes the works of one finish on one floor: every task in order, with extent, hours and materials."""

from collections.abc import Iterable, Mapping, Sequence

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.catalog.supplies import Material
from finishadvisor.errors import CatalogError, nearest_of
from finishadvisor.job.document import Floor
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.records.works import Band, FloorWorks, MaterialUse, Task
from finishadvisor.works.labor import crew_hours
from finishadvisor.works.limits import limit
from finishadvisor.works.required import with_required
from finishadvisor.works.stack import Piece, finish_pieces, in_order, recoat_pieces, source_note
from finishadvisor.works.surface import absorption, is_open, profile_fill_mils
from finishadvisor.works.takeoff import Takeoff, extents_of, take_off

Facts = Mapping[str, FactValue | None]


def make_works(floor: Floor, finish: Finish, findings: Sequence[Finding], facts: Facts, catalog: Catalog) -> FloorWorks:
    """Return everything to be done for a finish on a floor.

    Args:
        floor: the floor with its outline.
        finish: the finish to lay.
        findings: what the rules said of this finish; met requirements add tasks, undecided ones possible tasks.
        facts: every fact of the catalog, None where unknown.
        catalog: the catalog as this job sees it.

    Raises:
        JobError: the floor has no outline.
        CatalogError: a work item, material, counting rule or limit does not exist.
    """
    pieces = in_order(with_required(finish_pieces(finish, catalog), findings, catalog))
    made = any(mock_up.finish == finish.id for mock_up in floor.mock_ups)
    mock_up_ft2 = 0.0 if made else limit(catalog, "mock-up-area-ft2")
    works = _works(floor, finish, pieces, facts, catalog, on_bare=is_open(pieces, facts))
    return works.model_copy(update={"mock_up_ft2": mock_up_ft2})


def make_recoat_works(floor: Floor, finish: Finish, facts: Facts, catalog: Catalog) -> FloorWorks | None:
    """Return what one recoat of a finish takes, None where the finish is not recoated.

    Raises:
        JobError: the floor has no outline.
        CatalogError: a work item, material, counting rule or limit does not exist.
    """
    if not finish.upkeep.recoat_layers:
        return None
    pieces = in_order(recoat_pieces(finish, catalog))
    return _works(floor, finish, pieces, facts, catalog, on_bare=False)


def _works(
    floor: Floor, finish: Finish, pieces: Sequence[Piece], facts: Facts, catalog: Catalog, *, on_bare: bool
) -> FloorWorks:
    takeoff = take_off(floor, catalog)
    nothing = Band(low=0, expected=0, high=0)
    tasks = [_task(piece, takeoff, facts, catalog) for piece in pieces]
    done = [task for task in tasks if task.quantity > 0]
    return FloorWorks(
        floor=floor.name,
        finish=finish.id,
        area_ft2=takeoff.area_ft2,
        edge_ft=takeoff.edge_ft,
        joint_ft=takeoff.joint_ft,
        crack_ft=takeoff.crack_ft,
        zones=takeoff.zones,
        absorption=absorption(facts),
        profile_fill_mils=profile_fill_mils(pieces, facts, catalog) if on_bare else nothing,
        tasks=tuple(_mark_first_coats(done, catalog) if on_bare else done),
    )


def _task(piece: Piece, takeoff: Takeoff, facts: Facts, catalog: Catalog) -> Task:
    extents = extents_of(piece.item, takeoff, catalog, asked_for=piece.rule is not None)
    uses = [_use(material.material, piece, material.coats, catalog) for material in piece.item.materials]
    if piece.material is not None:
        uses.insert(0, _use(piece.material, piece, 1, catalog))
    return Task(
        id=piece.id,
        work_item=piece.item.id,
        title=piece.title,
        layer=piece.layer,
        coat=piece.coat,
        extent=piece.item.extent,
        quantity=extents.quantity,
        unit=extents.unit,
        volume_ft3=extents.volume_ft3,
        crew_hours=crew_hours(piece.item, extents.quantity),
        materials=tuple(uses),
        certain=piece.certain,
        why=f"{piece.why}; {extents.allowed_for}" if extents.allowed_for else piece.why,
        rule=piece.rule,
        source=piece.source,
    )


def _use(material_id: str, piece: Piece, coats: int, catalog: Catalog) -> MaterialUse:
    """Return one material of a task.

    Raises:
        CatalogError: there is no such material.
    """
    material = catalog.materials.get(material_id)
    if material is None:
        raise CatalogError(
            f'Work item "{piece.item.id}": there is no material "{material_id}".'
            f"{nearest_of(material_id, catalog.materials)}"
        )
    is_layer = material_id == piece.material
    return MaterialUse(
        material=material_id,
        layer=piece.layer if is_layer else None,
        coats=coats,
        basis=material.basis,
        first_coat=False,
        source=source_note(material.source),
    )


def _mark_first_coats(tasks: Iterable[Task], catalog: Catalog) -> list[Task]:
    """Mark the coats that meet thirsty concrete: the first of each material until a film has closed the surface."""
    seen: set[str] = set()
    closed = False
    marked = []
    for task in tasks:
        uses = []
        for use in task.materials:
            drinks = _is_laid(catalog.materials[use.material])
            first = drinks and not closed and use.material not in seen
            uses.append(use.model_copy(update={"first_coat": True}) if first else use)
            if drinks:
                seen.add(use.material)
                closed = closed or (task.certain and use.basis == "film")
        marked.append(task.model_copy(update={"materials": tuple(uses)}))
    return marked


def _is_laid(material: Material) -> bool:
    """Return whether a material is laid on the floor as a coat and stays there."""
    return material.basis == "film" or (material.basis == "rate" and material.first_coat_factor is not None)
