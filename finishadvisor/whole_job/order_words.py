"""What to mind with an order: what is left out of it, what the plan added to it, what will be too old for it."""

from collections.abc import Collection, Iterator, Mapping, Sequence

from finishadvisor.records.plan import Plan
from finishadvisor.records.whole import WholeJob
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.remaining import supplied


def order_words(works: Sequence[FloorWorks], whole: WholeJob, plan: Plan) -> tuple[str, ...]:
    """Return what to mind with the order of these works, a sentence each."""
    from finishadvisor.order.shelf import shelf_warnings

    told = (*_left_out(works, plan.done), *_begun(plan), *_added(plan))
    return (*told, *shelf_warnings(works, plan, whole.on, whole.catalog))


def _left_out(works: Sequence[FloorWorks], done: Mapping[str, Collection[str]]) -> Iterator[str]:
    for each in works:
        tasks = supplied(each, done.get(each.floor, ()))
        corrects = " What a coat really took, recorded as used, corrects what is still to buy."
        if tasks:
            titles = "; ".join(task.title for task in tasks)
            coats = any(task.coat is not None for task in tasks)
            yield f"{each.floor}: left out because it is done: {titles}.{corrects if coats else ''}"


def _begun(plan: Plan) -> Iterator[str]:
    for floor, begun in plan.begun.items():
        parts = [f"{part.rest.title}, {part.said}" for part in begun.values() if part.rest.materials]
        if parts:
            yield f"{floor}: of these only the rest is on this order: {'; '.join(parts)}."


def _added(plan: Plan) -> Iterator[str]:
    for floor, tasks in plan.added.items():
        for added in tasks:
            if added.task.id not in plan.done.get(floor, ()):
                yield f'{floor}: the plan adds "{added.task.title}" ({added.task.why}); its material is on this order.'
