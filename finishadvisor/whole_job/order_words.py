"""What to mind with an order: what is left out of it, what the plan added to it, what will be too old for it."""

from collections.abc import Collection, Iterator, Mapping, Sequence

from finishadvisor.records.plan import Plan
from finishadvisor.records.whole import WholeJob
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.remaining import supplied


def done_on(whole: WholeJob, plan: Plan | None) -> Mapping[str, Collection[str]]:
    """Return, by floor, the ids of all tasks that are done by the record, or lie under a coat that is down."""
    by_plan = plan.done if plan else {}
    return {
        name: {*by_plan.get(name, ()), *(done.task for done in outcome.floor.done if done.date <= whole.on)}
        for outcome in whole.floors
        for name in [outcome.floor.name]
    }


def order_words(
    works: Sequence[FloorWorks], whole: WholeJob, plan: Plan | None, done: Mapping[str, Collection[str]]
) -> tuple[str, ...]:
    """Return what to mind with the order of these works, a sentence each."""
    from finishadvisor.order.shelf import shelf_warnings

    if plan is None:
        return ()
    return (*_left_out(works, done), *_added(plan), *shelf_warnings(works, plan, whole.on, whole.catalog))


def _left_out(works: Sequence[FloorWorks], done: Mapping[str, Collection[str]]) -> Iterator[str]:
    for each in works:
        titles = [task.title for task in supplied(each, done.get(each.floor, ()))]
        if titles:
            yield (
                f"{each.floor}: left out because it is done: {'; '.join(titles)}. What it really took, recorded as "
                "used, corrects what is still to buy."
            )


def _added(plan: Plan) -> Iterator[str]:
    for floor, tasks in plan.added.items():
        for added in tasks:
            yield f'{floor}: the plan adds "{added.task.title}" ({added.task.why}); its material is on this order.'
