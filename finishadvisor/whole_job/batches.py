"""The batches of a whole job: what to mix, for which zones, how thick and how soon."""

from finishadvisor.records.order import Batch
from finishadvisor.records.whole import WholeJob


def batches_of(whole: WholeJob) -> tuple[Batch, ...]:
    """Return the batches of every coat on every floor, in the order of the work."""
    from finishadvisor.order.batches import make_batches

    works = [outcome.works for outcome in whole.floors if outcome.works is not None]
    return make_batches(works, whole.plan, whole.job, whole.catalog)
