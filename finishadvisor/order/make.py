"""Makes the order of a job: needs of every floor, drawn together, and the packs to buy."""

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import Material
from finishadvisor.job.document import Job
from finishadvisor.order.belief import Belief, Measured, believe
from finishadvisor.order.consumables import consumable_lines
from finishadvisor.order.draws import Draws, draw_needs
from finishadvisor.order.learn import measured_before, measured_on
from finishadvisor.order.need import Line, lines_of
from finishadvisor.order.pack_sets import (
    PackPrice,
    PackSet,
    basis_of,
    cheapest_cover,
    money_of,
    pack_prices,
    total_money,
    worthwhile_sets,
)
from finishadvisor.order.packs import Choice, choose_packs
from finishadvisor.order.wording import WORDS
from finishadvisor.records.base import Money, Spread
from finishadvisor.records.order import FloorOrder, MaterialPacks, Order, OrderLine, Pack
from finishadvisor.records.works import Begun, FloorWorks
from finishadvisor.works.limits import limit
from finishadvisor.works.remaining import remaining


@dataclass(frozen=True)
class UnderWay:
    """What is done of a job, by floor: ids of tasks that need no material any more, and what is left of others."""

    done: Mapping[str, Collection[str]] = field(default_factory=dict)
    begun: Mapping[str, Mapping[str, Begun]] = field(default_factory=dict)

    def left_of(self, works: FloorWorks) -> FloorWorks:
        """Return what is left of a floor's works."""
        return remaining(works, self.done.get(works.floor, ()), self.begun.get(works.floor, {}))


_NOTHING_DONE: Final = UnderWay()


@dataclass(frozen=True)
class Drawn:
    """A line with its drawn needs, shape (draws,), and its expected need."""

    line: Line
    needs: Draws
    expected: float


@dataclass(frozen=True)
class _Need:
    """What is kept of a drawn line: its expected need, and the 10th and 90th percentile of its draws."""

    line: Line
    low: float
    expected: float
    high: float


@dataclass(frozen=True)
class _Pooled:
    """What all floors together certainly need of one material."""

    needs: Draws
    expected: float


def make_order(
    works: Sequence[FloorWorks], job: Job, catalog: Catalog, past: Sequence[Job] = (), state: UnderWay = _NOTHING_DONE
) -> Order:
    """Return what to buy for what is left of the works of all floors.

    Args:
        works: the works of each floor that is ordered for.
        job: the job, with its prices, mock-ups and amounts used.
        catalog: the catalog as this job sees it.
        past: other jobs of the same user, whose mock-ups and amounts used count too.
        state: what is done of the works.

    Raises:
        CatalogError: a material lacks the figures of its basis, or does not fit the extent of its task.
    """
    lines, pooled = _told(draw_lines(works, job, catalog, past, state))
    packs, short_risk = _packs(pooled, job, catalog)
    possible = _possible_money(lines, job, catalog)
    costs = [each.cost for each in packs if each.cost is not None]
    return Order(
        floors=tuple(_floor_order(each, lines, job, catalog, _why_corrected([job, *past])) for each in works),
        packs=packs,
        short_risk=short_risk,
        total_cost=total_money([*costs, *possible]) if costs or possible else None,
    )


def draw_lines(
    works: Sequence[FloorWorks], job: Job, catalog: Catalog, past: Sequence[Job] = (), state: UnderWay = _NOTHING_DONE
) -> Iterator[Drawn]:
    """Yield every line of what is left on every floor with its drawn needs, after mock-ups and past use.

    What was used is set against all of the works: it was measured on what is done.
    """
    left = [state.left_of(each) for each in works]
    lines = [
        line for each in left for line in (*lines_of(each, catalog, job.units), *consumable_lines(each, job, catalog))
    ]
    lines = [line for line in lines if line.median > 0]
    belief = believe(
        (part for line in lines for coats in line.coats for part in coats.parts),
        [*_measured_here(works, job, catalog), *measured_before(past, catalog)],
    )
    needs = draw_needs(lines, belief, int(limit(catalog, "draws")))
    return (_drawn(line, drawn, belief) for line, drawn in zip(lines, needs, strict=True))


def _told(drawn: Iterable[Drawn]) -> tuple[list[_Need], dict[str, _Pooled]]:
    """Return what is printed of each line, and what each material is bought by; the draws themselves are let go."""
    lines: list[_Need] = []
    pooled: dict[str, _Pooled] = {}
    for each in drawn:
        low, high = (float(np.quantile(each.needs, share)) for share in (0.1, 0.9))
        lines.append(_Need(each.line, low, each.expected, high))
        if each.line.certain:
            before = pooled.get(each.line.material)
            pooled[each.line.material] = _Pooled(
                each.needs if before is None else before.needs + each.needs,
                each.expected if before is None else before.expected + each.expected,
            )
    return lines, pooled


def _drawn(line: Line, needs: Draws, belief: Belief) -> Drawn:
    expected = sum(
        coats.quantity * coats.times * part.median * math.exp(belief.log_shift(part))
        for coats in line.coats
        for part in coats.parts
    )
    return Drawn(line, needs, expected)


def _measured_here(works: Sequence[FloorWorks], job: Job, catalog: Catalog) -> list[Measured]:
    by_floor = {each.floor: each for each in works}
    return [one for floor in job.floors for one in measured_on(floor, by_floor.get(floor.name), catalog)]


def _floor_order(works: FloorWorks, needs: Sequence[_Need], job: Job, catalog: Catalog, why: str) -> FloorOrder:
    lines = [
        _order_line(each, catalog.materials[each.line.material], job, why)
        for each in needs
        if each.line.floor == works.floor
    ]
    return FloorOrder(floor=works.floor, finish=works.finish, area_ft2=works.area_ft2, lines=tuple(lines))


def _order_line(need: _Need, material: Material, job: Job, why: str) -> OrderLine:
    """Print a line: a possible need counts in its high end only."""
    line = need.line
    certain = float(line.certain)
    unit, factor = WORDS[job.units].amount(material.unit)
    return OrderLine(
        material=line.material,
        layer=line.layer,
        coats=sum(coats.times for coats in line.coats),
        need=Spread(low=need.low * certain, expected=need.expected * certain, high=need.high, unit=material.unit),
        basis=line.basis,
        working=line.words(math.log(need.expected / line.median), unit, factor, why),
        source=line.source,
    )


def _why_corrected(jobs: Sequence[Job]) -> str:
    """Return what corrects the catalog's figures, in words that stand behind the correction."""
    floors = [floor for job in jobs for floor in job.floors]
    sources = {
        "the mock-up": any(floor.mock_ups for floor in floors),
        "past use": any(floor.used for floor in floors),
    }
    return "as " + " and ".join(name for name, heard in sources.items() if heard) + " showed"


def _packs(pooled: Mapping[str, _Pooled], job: Job, catalog: Catalog) -> tuple[tuple[MaterialPacks, ...], float]:
    """Return the packs of every material that is certainly needed, and the risk that they leave."""
    prices = {id_: pack_prices(catalog.materials[id_], job) for id_ in pooled}
    choices = [_choice(catalog.materials[id_], prices[id_], pool.needs) for id_, pool in pooled.items()]
    chosen = choose_packs(choices, *risk_limits(job, catalog))
    packs = [
        _material_packs(catalog.materials[id_], prices[id_], pack_set, pool.expected, job)
        for (id_, pool), pack_set in zip(pooled.items(), chosen.sets, strict=True)
    ]
    return tuple(packs), chosen.short_risk


def _choice(material: Material, prices: Sequence[PackPrice], needs: Draws) -> Choice:
    sets = worthwhile_sets(prices, float(needs.min()), float(needs.max()), one_size=material.one_lot)
    return Choice(sets, needs, material.one_lot)


def risk_limits(job: Job, catalog: Catalog) -> tuple[float, float]:
    """Return the limit for the whole order and the one for one-lot materials; the user's own limit stands for both."""
    own = job.business.short_risk_limit
    if own is not None:
        return own, own
    return limit(catalog, "short-risk"), limit(catalog, "short-risk-one-lot")


def _material_packs(
    material: Material, prices: Sequence[PackPrice], pack_set: PackSet, expected: float, job: Job
) -> MaterialPacks:
    bought = [(price, count) for price, count in zip(prices, pack_set.counts, strict=True) if count]
    low, middle, high = money_of(pack_set.counts, prices)
    return MaterialPacks(
        material=material.id,
        packs=tuple(
            Pack(size=price.size, unit=material.unit, count=count, price=price.expected) for price, count in bought
        ),
        ordered=pack_set.total,
        left_over=pack_set.total - expected,
        cost=Money(
            low=low, expected=middle, high=high, basis=basis_of((price.yours for price, _ in bought), job.currency)
        ),
        notes=_notes(material),
    )


def _notes(material: Material) -> tuple[str, ...]:
    notes = []
    if material.one_lot:
        notes.append("One lot: the same lot number on every pack of a floor, all pails poured together before use.")
    if material.kit and material.mix_ratio:
        ratio = ":".join(f"{part:g}" for part in material.mix_ratio)
        notes.append(f"Kits stay whole; a smaller mix is measured at {ratio} by volume.")
    return tuple(notes)


def _possible_money(needs: Sequence[_Need], job: Job, catalog: Catalog) -> list[Money]:
    """Return what possible needs add to the high end of the cost; nothing is bought for them yet."""
    added = []
    for each in needs:
        if each.line.certain:
            continue
        material = catalog.materials[each.line.material]
        prices = pack_prices(material, job)
        cover = cheapest_cover(prices, each.high, one_size=material.one_lot)
        basis = basis_of((price.yours for price in prices), job.currency)
        added.append(Money(low=0, expected=0, high=money_of(cover.counts, prices)[2], basis=basis))
    return added
