"""The advice for the floors of a job: facts, judgements, prices, ranking. Nothing is planned or ordered."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from finishadvisor.advice.advise import advise_floor
from finishadvisor.advice.derive import derive_facts
from finishadvisor.advice.told import out_of_reach
from finishadvisor.advice.verdict import Judgement, judge, judge_finishes
from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Floor
from finishadvisor.records.advice import FloorAdvice
from finishadvisor.records.base import Money
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.finding import FactValue
from finishadvisor.records.why import WhyFinish
from finishadvisor.records.works import FloorWorks
from finishadvisor.whole_job.named import finish_named
from finishadvisor.whole_job.opened import Opened, open_for
from finishadvisor.whole_job.saved import kept
from finishadvisor.works.make import make_recoat_works, make_works


@dataclass(frozen=True)
class Priced:
    """Every finish of the catalog on one floor: works, the contractor's own costs, the selling price, days out."""

    works: Mapping[str, FloorWorks]
    first_costs: Mapping[str, Money | None]
    recoat_costs: Mapping[str, Money | None]
    selling_prices: Mapping[str, Money | None]
    days_out: Mapping[str, float | None]


def price_finishes(
    opened: Opened,
    floor: Floor,
    facts: Mapping[str, FactValue | None],
    judgements: Sequence[Judgement],
    begun: Mapping[str, FloorWorks],
) -> Priced:
    """Work out what each finish would take and cost on this floor; without an outline nothing can be priced.

    Args:
        opened: the job and the catalog as this job sees it.
        floor: the floor.
        facts: every fact of the catalog, None where unknown.
        judgements: every finish judged.
        begun: the works of finishes of which something lies on the floor already.
    """
    from finishadvisor.order.price import first_cost, selling_price
    from finishadvisor.plan.days import days_out

    job, catalog = opened.job, opened.catalog
    if floor.outline is None:
        return Priced({}, {}, {}, {}, {})
    works = {
        judged.finish: make_works(floor, catalog.finishes[judged.finish], judged.findings, facts, catalog)
        for judged in judgements
    }
    works |= begun
    recoats = {id_: make_recoat_works(floor, catalog.finishes[id_], facts, catalog) for id_ in works}
    costs = {id_: first_cost(made, job, catalog) for id_, made in works.items()}
    return Priced(
        works,
        costs,
        {id_: first_cost(made, job, catalog) if made else None for id_, made in recoats.items()},
        {id_: selling_price(cost, job, catalog) if cost else None for id_, cost in costs.items()},
        {id_: days_out(made, job, catalog) for id_, made in works.items()},
    )


@dataclass(frozen=True)
class Advised:
    """One floor advised: its facts, the judgement of every finish, the prices and the advice."""

    floor: Floor
    facts: Mapping[str, FactValue | None]
    evenness: FloorEvenness | None
    judgements: tuple[Judgement, ...]
    priced: Priced
    advice: FloorAdvice

    def reach(self, catalog: Catalog) -> tuple[str, ...]:
        """Return what can still be reached from what lies on the slab, and what is lost; empty on a bare slab."""
        return out_of_reach(self.floor, self.judgements, catalog)


def advise_one(opened: Opened, floor: Floor, evenness: FloorEvenness | None) -> Advised:
    """Advise one floor from what is known of it, with its measured evenness where there is one."""
    job, catalog = opened.job, opened.catalog
    facts = derive_facts(job, floor, catalog, opened.on, evenness)
    judgements = judge_finishes(facts, catalog)
    priced = price_finishes(opened, floor, facts, judgements, _begun_works(opened, floor, evenness))
    advice = advise_floor(
        job, floor, facts, judgements, priced.first_costs, priced.recoat_costs, priced.days_out, priced.works, catalog,
        opened.on,
    )  # fmt: skip
    return Advised(floor, facts, evenness, judgements, priced, advice)


def _begun_works(opened: Opened, floor: Floor, evenness: FloorEvenness | None) -> Mapping[str, FloorWorks]:
    """Return the works of finishes that are begun: those of the slab as it was before their own coats lay on it."""
    works = {}
    for finish in opened.catalog.finishes.values() if floor.outline is not None else ():
        own = {(layer.name, layer.material) for layer in finish.layers}
        before = tuple(row for row in floor.used if (row.layer, row.material) not in own)
        if len(before) < len(floor.used):
            bare = floor.model_copy(update={"used": before})
            facts = derive_facts(opened.job, bare, opened.catalog, opened.on, evenness)
            findings = judge(finish, facts, opened.catalog).findings
            works[finish.id] = make_works(floor, finish, findings, facts, opened.catalog)
    return works


def chosen_finish(advised: Advised, finish_id: str | None, catalog: Catalog) -> tuple[str | None, str]:
    """Return the finish to work with and why that one: asked for, decided, or the top of the ranking.

    Raises:
        JobError: the finish asked for is not in the catalog.
    """
    if finish_id is not None:
        return finish_named(finish_id, catalog), "asked for"
    decision = advised.floor.decision
    if decision is not None:
        by = f" by {decision.by}" if decision.by else ""
        when = f" on {decision.date.isoformat()}" if decision.date else ""
        return decision.finish, f"decided{by}{when}"
    top = next((finish.id for finish in advised.advice.finishes if finish.rank == 1), None)
    return (top, "the top of the ranking") if top else (None, "nothing suits")


def advise_job(path: Path, on: datetime.date, floor_name: str | None = None) -> tuple[Opened, tuple[Advised, ...]]:
    """Advise the floors of a job, using kept measurements of their photos."""
    opened = open_for(path, on)
    floors = opened.floors_named(floor_name)
    return opened, tuple(advise_one(opened, floor, kept(opened.folder, floor)) for floor in floors)


def why_finish(path: Path, on: datetime.date, floor_name: str, finish_id: str) -> WhyFinish:
    """Return every rule tried on one finish of one floor.

    Raises:
        JobError: there is no such floor or finish.
    """
    from finishadvisor.advice.why import explain

    opened, (advised,) = advise_job(path, on, floor_name)
    wanted = finish_named(finish_id, opened.catalog)
    found = next(judged for judged in advised.judgements if judged.finish == wanted)
    return explain(advised.floor.name, found, advised.facts, opened.catalog, on)
