"""The advice for one floor: finishes in order with reasons, costs and conditions, and what to find out next."""

import datetime
import math
from collections.abc import Mapping, Sequence
from typing import Final

from finishadvisor.advice.conditions import own_work, tell_conditions, unless_open
from finishadvisor.advice.life_cost import life_cost, upkeep_costs
from finishadvisor.advice.ranking import Contender, Ranked, rank, weights_of, wish_points
from finishadvisor.advice.stability import winner_stability
from finishadvisor.advice.told import before_the_pour, cautions_for, matters, none_fits, out_of_reach, weightiest_first
from finishadvisor.advice.verdict import Judgement
from finishadvisor.catalog.models import Catalog
from finishadvisor.job.document import Floor, Job
from finishadvisor.records.advice import AddedWork, FinishAdvice, FloorAdvice
from finishadvisor.records.base import Money
from finishadvisor.records.works import FloorWorks
from finishadvisor.rules.conditions import Values
from finishadvisor.rules.open_facts import find_out_next
from finishadvisor.works.takeoff import UNITS

_WARNED_OF = 3
"""The usual cautions, and what is asked of the pour, are told of so many finishes, the best placed ones."""
_BEGINS_WITH_THE_POUR: Final = frozenset({"age_days"})
"""What nobody can find out while the pour lies ahead."""


def advise_floor(  # noqa: PLR0917 - one argument for each result of the layers above
    job: Job,
    floor: Floor,
    facts: Values,
    judgements: Sequence[Judgement],
    first_costs: Mapping[str, Money | None],
    recoat_costs: Mapping[str, Money | None],
    days_out: Mapping[str, float | None],
    works: Mapping[str, FloorWorks],
    catalog: Catalog,
    on: datetime.date,
) -> FloorAdvice:
    """Return the advice for one floor.

    Args:
        job: weights, years of analysis and rates.
        floor: the floor.
        facts: every fact of the catalog, None where it is unknown.
        judgements: every finish of the catalog as judged on this floor.
        first_costs: the contractor's own cost of each finish; none where the floor has no outline.
        recoat_costs: the contractor's own cost of one recoat, None where a finish is not recoated.
        days_out: how long the floor is out of use.
        works: everything to be done for each finish; empty where the floor has no outline.
        catalog: the catalog as this job sees it.
        on: the day that holds are reckoned from.

    Raises:
        JobError: the job's weights add up to nothing.
        CatalogError: the catalog lacks a limit that ranking asks for.
    """
    weights = weights_of(job, catalog)
    candidates = {
        judged.finish: _candidate(judged, first_costs, recoat_costs, days_out, works, job=job, catalog=catalog)
        for judged in judgements
    }
    running = [candidates[judged.finish] for judged in judgements if judged.verdict != "does-not-suit"]
    ranked = rank(running, weights, catalog)
    places = {one.finish: one for one in ranked}
    in_order = sorted(judgements, key=lambda judged: _place(judged, places))
    order = [candidates[one.finish] for one in ranked]
    best = [one.finish for one in ranked[:_WARNED_OF]]
    return FloorAdvice(
        floor=floor.name,
        facts=dict(facts),
        finishes=tuple(
            _finish_advice(
                judged, candidates[judged.finish], places.get(judged.finish), works.get(judged.finish), facts,
                catalog=catalog, on=on,
            )
            for judged in in_order
        ),
        none_fits=none_fits(judgements, facts, catalog),
        winner_stability=winner_stability(order, weights, job.business, catalog) if order else None,
        find_out_next=tuple(
            fact
            for fact in find_out_next({one.finish: one.findings for one in judgements}, facts, catalog.facts)
            if not (facts.get("pour_ahead") and fact.fact in _BEGINS_WITH_THE_POUR)
        ),
        cautions=(*out_of_reach(floor, judgements, catalog), *cautions_for(judgements, best, catalog)),
        before_the_pour=before_the_pour(judgements, facts, catalog, _of_use(floor, best)),
    )  # fmt: skip


def _of_use(floor: Floor, best: Sequence[str]) -> list[str]:
    """Return the finishes whose own wishes for the pour are told: the decided one, and the best placed."""
    decided = [floor.decision.finish] if floor.decision else []
    return list(dict.fromkeys([*decided, *best]))


def _candidate(
    judged: Judgement,
    first_costs: Mapping[str, Money | None],
    recoat_costs: Mapping[str, Money | None],
    days_out: Mapping[str, float | None],
    works: Mapping[str, FloorWorks],
    *,
    job: Job,
    catalog: Catalog,
) -> Contender:
    """Gather what a finish is ranked by; costs stay unknown where the floor has no outline."""
    id_ = judged.finish
    first, work = first_costs.get(id_), works.get(id_)
    upkeep = None
    if first is not None and work is not None:
        upkeep = upkeep_costs(
            catalog.finishes[id_], first, recoat_costs.get(id_), work.area_ft2, business=job.business, catalog=catalog
        )
    return Contender(
        finish=id_,
        settled=judged.verdict in {"suits", "suits-if"},
        first_cost=first,
        life_cost=life_cost(first, upkeep, job.business) if first is not None and upkeep is not None else None,
        upkeep=upkeep,
        days_out=days_out.get(id_),
        merits=catalog.finishes[id_].merits,
        wish_points=wish_points(judged.findings, catalog),
    )


def _place(judged: Judgement, places: Mapping[str, Ranked]) -> tuple[float, str]:
    """Return the rank, and behind all ranks what does not suit, by id."""
    place = places.get(judged.finish)
    return (place.rank if place else math.inf), judged.finish


def _finish_advice(
    judged: Judgement,
    candidate: Contender,
    place: Ranked | None,
    work: FloorWorks | None,
    facts: Values,
    *,
    catalog: Catalog,
    on: datetime.date,
) -> FinishAdvice:
    finish = catalog.finishes[judged.finish]
    ruled_out = judged.verdict == "does-not-suit"
    own = own_work(finish)
    told = (one for one in judged.findings if matters(one, ruled_out=ruled_out))
    dated = tell_conditions(judged.findings, facts, catalog, on, own) if judged.verdict == "suits-if" else ()
    return FinishAdvice(
        id=finish.id,
        name=finish.name,
        rank=place.rank if place else None,
        verdict=judged.verdict,
        conditions=dated,
        reasons=tuple(sorted(told, key=lambda one: weightiest_first(one, catalog))),
        adds=() if ruled_out else _adds(judged, work, facts, catalog),
        first_cost=candidate.first_cost,
        life_cost=candidate.life_cost,
        days_out=candidate.days_out,
        score=place.score if place else None,
        dominated_by=place.dominated_by if place else None,
        closes=finish.closes,
    )


def _adds(
    judged: Judgement, work: FloorWorks | None, facts: Values, catalog: Catalog
) -> tuple[AddedWork, ...]:  # fmt: skip
    """Return each required work item once, what is certain first; its extent is 0 as long as there is no outline.

    What may be needed and is part of the finish anyway is not added.
    """
    whys: dict[str, list[str]] = {}
    own = own_work(catalog.finishes[judged.finish])
    required = [
        one
        for one in judged.findings
        if one.effect == "require" and (one.met == "yes" or (one.met == "unknown" and one.work_item not in own))
    ]
    for one in sorted(required, key=lambda one: one.met != "yes"):
        why = one.because if one.met == "yes" else f"{one.because} (if {unless_open(one, facts, catalog)})"
        whys.setdefault(str(one.work_item), []).append(why)
    return tuple(_added(item, "; ".join(dict.fromkeys(why)), work, catalog) for item, why in whys.items())


def _added(work_item: str, why: str, work: FloorWorks | None, catalog: Catalog) -> AddedWork:
    tasks = [task for task in work.tasks if task.work_item == work_item] if work else []
    if tasks:
        return AddedWork(work_item=work_item, extent=tasks[0].quantity, unit=tasks[0].unit, why=why)
    row = catalog.work_items.get(work_item)
    unit = UNITS[row.extent] if row else "job"
    return AddedWork(work_item=work_item, extent=1.0 if unit == "job" else 0.0, unit=unit, why=why)
