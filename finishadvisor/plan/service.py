"""When a floor comes back into service, and when its finish is to be looked at."""

import calendar
import datetime
import math

from finishadvisor.plan.clock import SLOTS_PER_HOUR, Clock
from finishadvisor.plan.placing import ROUNDING
from finishadvisor.plan.planned import PlannedFloor
from finishadvisor.plan.setting import Event
from finishadvisor.records.plan import BackInService
from finishadvisor.works.limits import limit


def back_in_service(floor: PlannedFloor) -> BackInService:
    """Return when a floor can be used again: when the slowest of its coats allows it.

    Each time is the next full hour: nothing here is known to the minute. A floor without coats is back when its last
    task and wait are over. None: the last coat sets no such limit, no plan fits, or the time lies behind the end of
    the plan.
    """
    clock, plan = floor.site.clock, floor.plan
    down = (plan.laid,) if plan.laid else ()
    coats = [placed for placed in (*down, *plan.placed) if placed.link.setting is not None]
    if not plan.feasible or not (coats or plan.placed):
        return BackInService(foot=None, water=None, furniture=None, cover=None, vehicle=None)
    if not coats:
        done = _full_hour(max(placed.end + placed.link.wait_slots for placed in plan.placed), clock)
        return BackInService(foot=done, water=done, furniture=done, cover=done, vehicle=done)

    def over(event: Event) -> datetime.datetime | None:
        last = coats[-1].link.setting
        if last is None or not last.gives(event):
            return None
        ends = [placed.link.setting.over(event, placed.end) for placed in coats if placed.link.setting]
        given = [
            end
            for end, placed in zip(ends, coats, strict=True)
            if placed.link.setting and placed.link.setting.gives(event)
        ]
        return None if None in given else _full_hour(max(end for end in given if end is not None), clock)

    return BackInService(
        foot=over("foot_h"), water=over("water_h"), furniture=over("furniture_h"), cover=over("cover_h"),
        vehicle=over("vehicle_h"),
    )  # fmt: skip


def _full_hour(slot: float, clock: Clock) -> datetime.datetime:
    """Return the first full hour that is no earlier than a slot."""
    return clock.moment(math.ceil((slot - ROUNDING) / SLOTS_PER_HOUR) * SLOTS_PER_HOUR)


def inspect_days(floor: PlannedFloor) -> tuple[datetime.date, ...]:
    """Return days on which to look whether water beads and whether it is dull; what is found decides, no date does.

    They are counted from the last coat, or where there is none from the end of the work.
    """
    if not floor.plan.feasible or not (floor.plan.placed or floor.plan.laid):
        return ()
    coats = [placed.end for placed in floor.plan.placed if placed.link.coat is not None]
    laid = [floor.plan.laid.end] if floor.plan.laid else []
    done = floor.site.clock.moment(max(coats or laid or [floor.plan.end])).date()
    every = max(1, round(floor.finish.upkeep.inspect_months))
    listed = int(limit(floor.site.catalog, "inspections-listed"))
    return tuple(months_later(done, every * number) for number in range(1, listed + 1))


def months_later(day: datetime.date, months: int) -> datetime.date:
    """Return the same day of a later month, the month's last where it has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return datetime.date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))
