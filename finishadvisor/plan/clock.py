"""The plan's clock: quarter hours counted from a full hour, with the crew's working hours in the job's zone."""

import datetime
import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final
from zoneinfo import ZoneInfo

from finishadvisor.job.document import Workday

SLOTS_PER_HOUR: Final = 4
_MINUTES_PER_SLOT: Final = 60 / SLOTS_PER_HOUR
_SLOT: Final = datetime.timedelta(hours=1) / SLOTS_PER_HOUR
WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True)
class Clock:
    """Slots of a quarter hour from the midnight, in the job's zone, of the first day.

    Counting runs in UTC, so a day of daylight-saving change simply has 92 or 100 slots and nothing is laid twice.
    """

    zone: ZoneInfo
    first_day: datetime.date
    days: int
    workday: Workday

    @cached_property
    def start(self) -> datetime.datetime:
        """The full UTC hour at or before the first midnight."""
        midnight = datetime.datetime.combine(self.first_day, datetime.time(), self.zone).astimezone(datetime.UTC)
        return midnight.replace(minute=0, second=0, microsecond=0)

    @property
    def hours(self) -> int:
        """Hours that the clock spans."""
        return self.days * 24 + 2

    @property
    def slots(self) -> int:
        """Slots that the clock spans."""
        return self.hours * SLOTS_PER_HOUR

    def moment(self, slot: float) -> datetime.datetime:
        """Return the first full minute, in the job's zone, that is not before a slot: what may begin from then on."""
        minutes = math.ceil(slot * _MINUTES_PER_SLOT - 1e-6)
        return (self.start + datetime.timedelta(minutes=minutes)).astimezone(self.zone)

    def moment_by(self, slot: float) -> datetime.datetime:
        """Return the last full minute that is not after a slot: what must be done by then."""
        minutes = math.floor(slot * _MINUTES_PER_SLOT + 1e-6)
        return (self.start + datetime.timedelta(minutes=minutes)).astimezone(self.zone)

    def slot_of(self, moment: datetime.datetime) -> float:
        """Return an aware time as slots, with the part of a slot."""
        return (moment - self.start) / _SLOT

    def slot_of_day(self, day: datetime.date) -> int:
        """Return the first slot at or after the midnight that begins a day."""
        return math.ceil(self.slot_of(datetime.datetime.combine(day, datetime.time(), self.zone)))

    def workday_of(self, day: datetime.date) -> tuple[datetime.datetime, datetime.datetime]:
        """Return when work begins on a day and when it ends: on the next day where the crew works through midnight."""
        through = datetime.timedelta(days=self.workday.end < self.workday.start)
        return (
            datetime.datetime.combine(day, self.workday.start, self.zone),
            datetime.datetime.combine(day + through, self.workday.end, self.zone),
        )

    @cached_property
    def stretches(self) -> tuple[tuple[int, int], ...]:
        """First slot and end slot of each working day or night, in order; none where it has no length."""
        found = []
        for number in range(self.days):
            day = self.first_day + datetime.timedelta(days=number)
            if WEEKDAYS[day.weekday()] not in self.workday.days:
                continue
            begin, finish = self.workday_of(day)
            first, end = math.ceil(self.slot_of(begin)), math.floor(self.slot_of(finish))
            if first < end <= self.slots:
                found.append((max(first, 0), end))
        return tuple(found)

    @cached_property
    def longest_stretch(self) -> int:
        """Slots of the longest working day, 0 where there is none."""
        return max((end - first for first, end in self.stretches), default=0)
