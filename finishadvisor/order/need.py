"""What a floor needs, line by line: one material of one layer, or of the tasks between, with its arithmetic."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from finishadvisor.catalog.models import Catalog
from finishadvisor.errors import CatalogError
from finishadvisor.order.amounts import Amount, counted_amount, parts_of, together
from finishadvisor.order.wording import WORDS, Units, coat_words, extent_words, figure
from finishadvisor.records.base import SourceNote
from finishadvisor.records.works import Basis, FloorWorks, MaterialUse, Task, Zone
from finishadvisor.units import plural_of

_ALLOWED = {
    "area": ("film", "rate", "weight", "count"),
    "edge": ("length", "count"),
    "joint": ("length", "volume", "count"),
    "count": ("count",),
    "fixed": ("count",),
}


@dataclass(frozen=True)
class Coats:
    """One or more like coats over the same extent."""

    quantity: float
    """ft², ft, ft³ or pieces, the mock-up with it."""
    parts: tuple[Amount, ...]
    times: int
    words: str

    @cached_property
    def median(self) -> float:
        """Return what these coats take by the expected figures, in the material's unit."""
        return self.quantity * self.times * self.amount.median

    @cached_property
    def amount(self) -> Amount:
        """Return what one of these coats takes per unit of its extent, all parts together."""
        return together(self.parts)


@dataclass(frozen=True)
class Line:
    """One line of a floor's order before it is drawn."""

    floor: str
    material: str
    layer: str | None
    certain: bool
    basis: Basis
    coats: tuple[Coats, ...]
    source: SourceNote
    zones: tuple[Zone, ...] = field(default=())
    """The zones that the material is spread over; empty where it is not spread."""

    @cached_property
    def median(self) -> float:
        """Return the need by the expected figures, in the material's unit."""
        return sum(coats.median for coats in self.coats)

    @cached_property
    def log_sd(self) -> float:
        """Return the standard deviation of the log need, as if all its coats went up and down together."""
        return sum(coats.median * coats.amount.log_sd for coats in self.coats) / self.median if self.median else 0.0

    def words(self, shift: float, unit: str, factor: float, why: str) -> str:
        """Return the arithmetic in one line.

        Args:
            shift: what mock-up and past use moved the log need by.
            unit: unit that the result is printed in.
            factor: how many of it make one of the material's unit.
            why: what the correction comes from.
        """
        terms = " + ".join(coats.words for coats in self.coats)
        correction = ""
        if abs(shift) >= 0.0005:
            terms = f"({terms})" if len(self.coats) > 1 else terms
            correction = f" × {figure(math.exp(shift))} {why}"
        prefix = "" if self.certain else "Only if the open question asks for it: "
        needed = figure(self.median * math.exp(shift) * factor)
        return f"{prefix}{terms}{correction} = {needed} {unit if needed == '1' else plural_of(unit)}"


def lines_of(works: FloorWorks, catalog: Catalog, units: Units) -> tuple[Line, ...]:
    """Return the lines of a floor's works, in the order in which the materials are first used.

    Raises:
        CatalogError: a work item uses up a material whose basis does not fit its extent.
    """
    grouped: dict[tuple[str, str | None, bool], list[tuple[Task, MaterialUse]]] = {}
    for task in works.tasks:
        for use in task.materials:
            grouped.setdefault((use.material, use.layer, task.certain), []).append((task, use))
    return tuple(_line(works, uses, catalog, units) for uses in grouped.values())


def _line(works: FloorWorks, uses: Sequence[tuple[Task, MaterialUse]], catalog: Catalog, units: Units) -> Line:
    task, use = uses[0]
    return Line(
        floor=works.floor,
        material=use.material,
        layer=use.layer,
        certain=task.certain,
        basis=use.basis,
        coats=_alike(works, uses, catalog, units),
        source=use.source,
        zones=works.zones if task.extent == "area" else (),
    )


def _alike(
    works: FloorWorks, uses: Iterable[tuple[Task, MaterialUse]], catalog: Catalog, units: Units
) -> tuple[Coats, ...]:
    """Gather coats that take the same over the same extent, so that the arithmetic stays short."""
    times: dict[tuple[float, float, str, bool], int] = {}
    firsts: dict[tuple[float, float, str, bool], MaterialUse] = {}
    for task, use in uses:
        quantity, unit = _extent(task, use)
        extra = works.mock_up_ft2 if use.layer is not None else 0.0
        key = (quantity, extra, unit, use.first_coat)
        again = use.coats - 1 if use.first_coat else use.coats
        if use.first_coat:
            times[key] = times.get(key, 0) + 1
            firsts.setdefault(key, use)
        if again:
            later = (quantity, extra, unit, False)
            times[later] = times.get(later, 0) + again
            firsts.setdefault(later, use.model_copy(update={"first_coat": False}))
    words = WORDS[units]
    return tuple(
        Coats(
            quantity + extra,
            (counted_amount if unit == "pieces" else parts_of)(firsts[key], works, catalog),
            count,
            extent_words(quantity, extra, unit, words) + coat_words(firsts[key], count, works, catalog, words),
        )
        for key, count in times.items()
        for quantity, extra, unit, _ in [key]
    )


def _extent(task: Task, use: MaterialUse) -> tuple[float, str]:
    """Return the extent that a material is reckoned over, and its unit.

    Raises:
        CatalogError: the material's basis does not fit the extent of the task.
    """
    if use.basis not in _ALLOWED[task.extent]:
        raise CatalogError(
            f'Work item "{task.work_item}" has extent "{task.extent}" but uses up "{use.material}", which is '
            f"reckoned by {use.basis}. Allowed with that extent: {', '.join(_ALLOWED[task.extent])}."
        )
    if use.basis == "volume":
        return task.volume_ft3 or 0.0, "ft³"
    if use.basis == "count":
        return (task.quantity, "pieces") if task.extent == "count" else (1.0, "job")
    return task.quantity, task.unit
