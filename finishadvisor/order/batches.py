"""Batches of each coat: how much to mix, the area that it must cover, and how soon it must be on the floor."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import Material
from finishadvisor.formulas.cure import pot_life
from finishadvisor.formulas.film import wet_film_mils
from finishadvisor.job.document import Job
from finishadvisor.order.amounts import amount_of, film_figures
from finishadvisor.order.belief import believe
from finishadvisor.order.learn import measured_on
from finishadvisor.records.order import Batch
from finishadvisor.records.plan import Plan
from finishadvisor.records.works import FloorWorks, MaterialUse, Task, Zone
from finishadvisor.works.limits import limit

_HAIR = 1e-6
_LEAST_LEFT = 0.25
"""Less than this share of a batch is not mixed by itself: all batches of the zone are made a little smaller."""


@dataclass(frozen=True)
class Mix:
    """What one batch of a coat may be at most."""

    most_area_ft2: float
    gal_per_ft2: float
    wet_film_mils: float | None
    use_within_min: float | None
    whole_kits: bool


def make_batches(works: Sequence[FloorWorks], plan: Plan | None, job: Job, catalog: Catalog) -> tuple[Batch, ...]:
    """Return the batches of every coat that is laid by the gallon, in the order of the work.

    A batch ends at a joint where it can: it covers as many whole zones as the pot life allows, or a zone takes several
    batches, laid wet into wet. Where the mix is sold in kits, batches are whole kits as far as the pot life allows and
    the last of a zone is what is left. Of a coat that is begun, only the rest is mixed. If a batch covers less than its
    area, the film is too thick: stop and gauge.

    Args:
        works: the works of each floor.
        plan: the plan, for the slab's temperature at each coat; None: the room's, or the usual one.
        job: the job, for the crew's size, mock-ups and amounts used.
        catalog: the catalog as this job sees it.

    Raises:
        CatalogError: a material lacks the figures of its basis.
    """
    floors = {floor.name: floor for floor in job.floors}
    batches: list[Batch] = []
    for each in works:
        measured = measured_on(floors[each.floor], each, catalog) if each.floor in floors else ()
        begun = plan.begun.get(each.floor, {}) if plan is not None else {}
        for task, use in _coats(each, catalog):
            amount = amount_of(use, each, catalog)
            belief = believe([amount], measured)
            slab_f = _slab_f(each, task, plan, job, catalog)
            gal_per_ft2 = amount.median * math.exp(belief.log_shift(amount))
            within_min = _within_min(catalog.materials[use.material], slab_f, catalog)
            area_ft2 = _area_within(task, within_min, job, catalog)
            mix = _mix(catalog.materials[use.material], gal_per_ft2, area_ft2, within_min)
            batches += _batches(each, task, begun[task.id].zones_left if task.id in begun else each.zones, mix)
    return tuple(batches)


def _coats(works: FloorWorks, catalog: Catalog) -> list[tuple[Task, MaterialUse]]:
    """Return every certain coat of a liquid: those of layers, and films laid by a required task."""
    return [
        (task, use)
        for task in works.tasks
        for use in task.materials
        if task.certain
        and task.extent == "area"
        and catalog.materials[use.material].unit == "gal"
        and (use.layer is not None or use.basis == "film")
    ]


def _within_min(material: Material, slab_f: float, catalog: Catalog) -> float | None:
    """Return how soon a mix must be on the floor [min], None where the material has no pot life."""
    points = [(point.slab_f, point.pot_life_min) for point in material.cure if point.pot_life_min is not None]
    return pot_life(points, slab_f).value * limit(catalog, "pot-life-share") if points else None


def _area_within(task: Task, within_min: float | None, job: Job, catalog: Catalog) -> float:
    """Return what one of the crew's teams lays in that time [ft²]; without a pot life there is no end to it."""
    rate = catalog.work_items[task.work_item].hours_per_100
    if within_min is None or rate is None:
        return math.inf
    return within_min / 60 * (job.crew // job.teams) * 100 / rate.expected


def _mix(material: Material, gal_per_ft2: float, area_ft2: float, within_min: float | None) -> Mix:
    """Return the largest batch: whole kits, or less than the smallest kit mixed in parts by its ratio."""
    film = None
    if material.basis == "film":
        solids, dry_film = film_figures(material)
        film = wet_film_mils(dry_film.expected, solids.expected)
    kit = min((pack.size for pack in material.packs), default=math.inf)
    kits = area_ft2 * gal_per_ft2 // kit if material.kit and within_min is not None else 0
    most_area_ft2 = kits * kit / gal_per_ft2 if kits >= 1 else area_ft2
    return Mix(most_area_ft2, gal_per_ft2, film, within_min, whole_kits=kits >= 1)


def _slab_f(works: FloorWorks, task: Task, plan: Plan | None, job: Job, catalog: Catalog) -> float:
    steps = plan.steps if plan is not None else ()
    for step in steps:
        if step.floor == works.floor and step.task_id == task.id and step.air is not None:
            return step.air.slab_f
    room = next((floor.room for floor in job.floors if floor.name == works.floor), None)
    if room is not None:
        return room.slab if room.slab is not None else room.air
    return limit(catalog, "room-temperature-f")


def _batches(works: FloorWorks, task: Task, zones: Sequence[Zone], mix: Mix) -> list[Batch]:
    areas = [(name, area) for group in _together(zones, works, mix) for name, area in _split(group, mix)]
    return [
        Batch(
            floor=works.floor,
            task=task.id,
            number=number,
            zone=name,
            volume_gal=area * mix.gal_per_ft2,
            area_ft2=area,
            wet_film_mils=mix.wet_film_mils,
            use_within_min=mix.use_within_min,
        )
        for number, (name, area) in enumerate(areas, start=1)
    ]


def _together(zones: Sequence[Zone], works: FloorWorks, mix: Mix) -> list[list[Zone]]:
    """Gather neighboring zones that one batch covers; without a pot life each zone is taken by itself."""
    places = {zone.name: number for number, zone in enumerate(works.zones)}
    groups: list[list[Zone]] = []
    for zone in zones:
        neighbors = groups and places.get(zone.name, 0) == places.get(groups[-1][-1].name, 0) + 1
        area = sum(each.area_ft2 for each in groups[-1]) + zone.area_ft2 if neighbors else math.inf
        if mix.use_within_min is not None and area <= mix.most_area_ft2 + _HAIR:
            groups[-1].append(zone)
        else:
            groups.append([zone])
    return groups


def _split(zones: Sequence[Zone], mix: Mix) -> list[tuple[str, float]]:
    """Return the areas of the batches in these zones: whole kits and what is left, or like batches."""
    name = zones[0].name if len(zones) == 1 else f"{zones[0].name} to {zones[-1].name}"
    area = sum(zone.area_ft2 for zone in zones)
    full = math.floor(area / mix.most_area_ft2 + _HAIR)
    left = area - full * mix.most_area_ft2 if full else area
    if full and mix.whole_kits and left > _LEAST_LEFT * mix.most_area_ft2:
        return [(name, mix.most_area_ft2)] * full + [(name, left)]
    number = max(1, math.ceil(area / mix.most_area_ft2 - _HAIR))
    return [(name, area / number)] * number
