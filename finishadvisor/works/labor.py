"""Crew-hours of a task: its rate times its extent, and the time to set up."""

from finishadvisor.catalog.supplies import WorkItem
from finishadvisor.records.works import Hours


def crew_hours(item: WorkItem, quantity: float) -> Hours:
    """Return the crew-hours of a task; one worker for one hour counts 1.

    Args:
        item: the work item with its rate per 100 ft² or ft, or per piece.
        quantity: extent of the task: ft², ft, pieces, or 1.
    """
    per_unit = [(rate, share) for rate, share in ((item.hours_per_100, 0.01), (item.hours_each, 1.0)) if rate]
    low, expected, high = (
        item.setup_hours + sum(getattr(rate, end) * share * quantity for rate, share in per_unit)
        for end in ("low", "expected", "high")
    )
    return Hours(low=low, expected=expected, high=high)
