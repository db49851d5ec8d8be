"""When the crew stops: the limits of each coat on the floor, and the signs of a coat going wrong."""

from collections.abc import Iterator
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import AirLimits, Material
from finishadvisor.papers.blocks import Block, table
from finishadvisor.papers.wording import number_text, temperature_text
from finishadvisor.records.works import FloorWorks, Task

FAHRENHEIT_PER_CELSIUS: Final = 1.8


def coats(works: FloorWorks, catalog: Catalog) -> Iterator[tuple[Task, Material]]:
    """Yield each task that lays a material with limits of air and slab, with that material."""
    for task in works.tasks:
        for use in task.materials:
            material = catalog.materials[use.material]
            if material.limits is not None:
                yield task, material


def limits_table(works: FloorWorks, catalog: Catalog, units: str) -> Block:
    """Return what air, slab and dew point may be for each material, class-wide: the data sheet wins."""
    rows = {}
    for _, material in coats(works, catalog):
        limits = material.limits
        if limits is not None:
            rows[material.id] = (
                material.name,
                _span(limits.air_low_f, limits.air_high_f, units),
                _span(limits.slab_low_f, limits.slab_high_f, units),
                _humidity(limits),
                margin_text(limits.dew_margin_f, units),
            )
    head = ("Material", "Air", "Slab", "Air RH", "Slab above dew point")
    return table(head, rows.values(), align="lrrrr")


def stop_rules(works: FloorWorks, catalog: Catalog, units: str) -> list[str]:
    """Return the signs at which the crew stops, a sentence each."""
    laid = list(coats(works, catalog))
    rules = ["Stop when air, slab or dew point leaves the limits above, or rain is nearer than the coat is tack-free."]
    if any(material.limits and material.limits.dew_margin_f > 0 for _, material in laid):
        rules.append(
            "Lay films on a slab that is steady or cooling and out of direct sun: a warming slab breathes out and the "
            "film pinholes. Hold the margin above dew point until the film is tack-free."
        )
    if any(material.basis == "film" for _, material in laid):
        rules.append("Stop when the wet-film gauge reads more than a fifth off the target: spread anew, then go on.")
        rules.append("Stop when a batch covers less than its area: the film is too thick, or the slab drinks more.")
    if any(point.pot_life_min is not None for _, material in laid for point in material.cure):
        rules.append("Leave a batch that warms or strings in the pail: its pot life is over. Spread it thin outdoors.")
    films = [material for _, material in laid if material.basis == "film"]
    if any(point.recoat_max_h is not None for material in films for point in material.cure):
        rules.append("Past the end of a recoat window: screen to uniform dullness, vacuum, wipe, then coat.")
    rules.append("End a day's work at a joint, never in the middle of a zone.")
    return rules


def margin_text(margin_f: float, units: str) -> str:
    """Return a difference of temperatures in the job's units."""
    if margin_f <= 0:
        return "–"
    if units == "metric":
        return f"{number_text(margin_f / FAHRENHEIT_PER_CELSIUS)} °C"
    return f"{number_text(margin_f)} °F"


def _span(low_f: float, high_f: float, units: str) -> str:
    return f"{temperature_text(low_f, units).split()[0]} to {temperature_text(high_f, units)}"


def _humidity(limits: AirLimits) -> str:
    if limits.rh_low_pct > 0:
        return f"{number_text(limits.rh_low_pct)} to {number_text(limits.rh_high_pct)} %"
    return f"at most {number_text(limits.rh_high_pct)} %"
