"""What mock-ups and past use say about spread rates: measured amounts against expected ones."""

import math
from collections.abc import Iterable, Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Floor, Job, MockUp, Used
from finishadvisor.order.amounts import Amount, amount_of, together
from finishadvisor.order.belief import Measured
from finishadvisor.records.works import Band, FloorWorks, MaterialUse
from finishadvisor.works.limits import limit
from finishadvisor.works.make import make_works
from finishadvisor.works.stack import source_note
from finishadvisor.works.surface import absorption

_COATED = ("film", "rate", "weight")


def measured_on(floor: Floor, works: FloorWorks | None, catalog: Catalog) -> tuple[Measured, ...]:
    """Return what the mock-ups of a floor and what was really used on it say.

    Args:
        floor: the floor with its mock-ups and amounts used.
        works: the works that are ordered for; None: those of the decided finish, as far as they are known.
        catalog: the catalog as this job sees it.
    """
    on = works or _works_of(floor, catalog)
    from_mock_ups = [_of_mock_up(mock_up, on, catalog) for mock_up in floor.mock_ups]
    from_use = [_of_used(used, on, catalog) for used in floor.used]
    return tuple(one for one in (*from_mock_ups, *from_use) if one is not None)


def measured_before(jobs: Iterable[Job], catalog: Catalog) -> tuple[Measured, ...]:
    """Return what was measured on every floor of other jobs of the same user.

    The names of their floors are told apart from those of this job, so that only what carries over is shared: the
    product, the crew's hand and its losses, not the slab.
    """
    found: list[Measured] = []
    for number, job in enumerate(jobs, start=1):
        for floor in job.floors:
            renamed = floor.model_copy(update={"name": f"{floor.name} (past job {number})"})
            found += measured_on(renamed, None, catalog)
    return tuple(found)


def _works_of(floor: Floor, catalog: Catalog) -> FloorWorks:
    """Return the works of the decided finish; without a finish or an outline, a floor with no tasks."""
    if floor.outline is not None and floor.decision is not None and floor.decision.finish in catalog.finishes:
        return make_works(floor, catalog.finishes[floor.decision.finish], (), floor.answers, catalog)
    return FloorWorks(
        floor=floor.name,
        finish="",
        area_ft2=0,
        edge_ft=0,
        joint_ft=0,
        zones=(),
        absorption=absorption(floor.answers),
        profile_fill_mils=Band(low=0, expected=0, high=0),
        tasks=(),
    )


def _of_mock_up(mock_up: MockUp, works: FloorWorks, catalog: Catalog) -> Measured | None:
    if mock_up.material not in catalog.materials or catalog.materials[mock_up.material].basis not in _COATED:
        return None
    uses = [use for use in _uses(works, mock_up.material) if use.layer is not None]
    if uses:
        use = uses[min(mock_up.coat, len(uses)) - 1]
    else:
        use = _lone_use(mock_up.material, catalog, first_coat=mock_up.coat == 1)
    return _measured(
        mock_up.used, mock_up.area_ft2, [amount_of(use, works, catalog)], limit(catalog, "mock-up-sd"), zones=1
    )


def _of_used(used: Used, works: FloorWorks, catalog: Catalog) -> Measured | None:
    if used.material not in catalog.materials or catalog.materials[used.material].basis not in _COATED:
        return None
    if used.used <= 0:
        return None
    laid = [use for use in _uses(works, used.material) if use.layer == used.layer][: used.coats]
    later = _lone_use(used.material, catalog, first_coat=False)
    laid += [later] * (used.coats - len(laid))
    amounts = [amount_of(use, works, catalog) for use in laid]
    return _measured(used.used, used.area_ft2, amounts, limit(catalog, "past-use-sd"), zones=max(1, len(works.zones)))


def _measured(used: float, area_ft2: float, coats: Sequence[Amount], own_sd: float, *, zones: int) -> Measured:
    """Set what coats took together against what was expected of them."""
    expected = together(coats)
    error_sd = math.sqrt(own_sd**2 + expected.zone_sd**2 / zones)
    return Measured(math.log(used / area_ft2 / expected.median), expected.weights, error_sd)


def _uses(works: FloorWorks, material: str) -> list[MaterialUse]:
    return [use for task in works.tasks for use in task.materials if use.material == material]


def _lone_use(material_id: str, catalog: Catalog, *, first_coat: bool) -> MaterialUse:
    material = catalog.materials[material_id]
    return MaterialUse(
        material=material_id,
        layer=None,
        coats=1,
        basis=material.basis,
        first_coat=first_coat,
        source=source_note(material.source),
    )
