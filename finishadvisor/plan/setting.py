"""How a coat sets on this floor: when each time of its data sheet is over at the temperatures that it meets."""

import bisect
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final, Literal

from finishadvisor.catalog.supplies import Material
from finishadvisor.formulas.cure import Bound, CureLine, CureTime, fit_cure_line
from finishadvisor.plan.clock import SLOTS_PER_HOUR

Event = Literal[
    "tack_free_h", "recoat_min_h", "recoat_max_h", "foot_h", "water_h", "furniture_h", "cover_h", "vehicle_h"
]
_LOWEST_F: Final = -40.0
_HIGHEST_F: Final = 160.0


def line_of(material: Material, event: Event | Literal["pot_life_min"]) -> CureLine | None:
    """Return a time of the data sheet as a function of temperature, None where the sheet does not give it.

    Raises:
        OutOfRangeError: the points of the sheet contradict each other.
    """
    points = tuple((point.slab_f, value) for point in material.cure if (value := getattr(point, event)) is not None)
    return _fitted(points, "at-most" if event in {"recoat_max_h", "pot_life_min"} else "at-least") if points else None


@cache
def _fitted(points: tuple[tuple[float, float], ...], bound: Bound) -> CureLine:
    return fit_cure_line(points, bound)


@cache
def _time_at(line: CureLine, slab_f: float) -> CureTime:
    return line.at(min(max(slab_f, _LOWEST_F), _HIGHEST_F))


@dataclass(frozen=True)
class _Course:
    """Shares of a time used up from the first hour to the start of each hour, and hours beyond the sheet likewise."""

    used: tuple[float, ...]
    beyond: tuple[int, ...]


class Setting:
    """One material over the hours of one floor. Times are slots of the plan's clock, with the part of a slot.

    Each hour uses up its length over the time that the data sheet's line gives at the hour's slab temperature, as
    `formulas.cure.hours_until_over` does step by step; sums kept from the first hour make each question one look-up.
    """

    def __init__(self, material: Material, slab_f: tuple[float, ...]) -> None:
        self.material = material
        self._slab_f = slab_f
        self._courses: dict[Event, _Course | None] = {}

    def over(self, event: Event, from_slot: float) -> float | None:
        """Return when a time that began at a slot is over; None: not within the plan, or the sheet does not give it.

        Before the plan's first hour, a negative slot, the slab is taken to have been as in that hour.
        """
        course = self._course(event)
        if course is None:
            return None
        used = course.used
        wanted = self._used_at(used, from_slot) + 1
        if wanted <= 0:
            return wanted / used[1] * SLOTS_PER_HOUR
        # A billionth less: a time that ends exactly on the hour is over on the hour.
        end = bisect.bisect_left(used, wanted - 1e-9)
        if end >= len(used):
            return None
        of_hour = used[end] - used[end - 1]
        return (end - 1 + (wanted - used[end - 1]) / of_hour) * SLOTS_PER_HOUR

    def gives(self, event: Event) -> bool:
        """Return whether the data sheet gives this time."""
        return line_of(self.material, event) is not None

    def beyond_sheet(self, event: Event, from_slot: float, to_slot: float) -> bool:
        """Return whether the slab leaves the temperatures of the data sheet between two slots."""
        course = self._course(event)
        if course is None:
            return False
        return course.beyond[self._hour(to_slot) + 1] > course.beyond[self._hour(from_slot)]

    def _used_at(self, used: tuple[float, ...], slot: float) -> float:
        if slot < 0:
            return slot / SLOTS_PER_HOUR * used[1]
        hour = self._hour(slot)
        return used[hour] + min(slot / SLOTS_PER_HOUR - hour, 1.0) * (used[hour + 1] - used[hour])

    def _hour(self, slot: float) -> int:
        return min(max(int(slot // SLOTS_PER_HOUR), 0), len(self._slab_f) - 1)

    def _course(self, event: Event) -> _Course | None:
        if event not in self._courses:
            line = line_of(self.material, event)
            self._courses[event] = None if line is None else _summed(line, self._slab_f)
        return self._courses[event]


@lru_cache(maxsize=256)
def _summed(line: CureLine, slab_f: tuple[float, ...]) -> _Course:
    used, beyond = [0.0], [0]
    for hour_f in slab_f:
        time = _time_at(line, hour_f)
        used.append(used[-1] + 1 / time.value)
        beyond.append(beyond[-1] + time.extrapolated)
    return _Course(tuple(used), tuple(beyond))
