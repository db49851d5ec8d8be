"""Per hour and task: allowed or blocked, and why. The limits are those of the material's row and of `limits.toml`."""

import bisect
import itertools
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, Literal

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import AirLimits, Material
from finishadvisor.plan.clock import SLOTS_PER_HOUR, Clock
from finishadvisor.plan.slab import FloorAir

Reason = Literal[
    "air-cold",
    "air-hot",
    "slab-cold",
    "slab-hot",
    "rh-low",
    "rh-high",
    "dew",
    "warming",
    "sun",
    "rain",
    "rain-soon",
    "wet",
    "no-weather",
]


@dataclass(frozen=True)
class Why:
    """One reason against an hour, with the value that it rests on."""

    reason: Reason
    value: float


@dataclass(frozen=True)
class Conditions:
    """What one task asks of the air on one floor, hour by hour.

    `next_bad_to_lay[h]` is the first hour from `h` on in which it may not be laid, `next_bad_to_set[h]` the first in
    which it may not lie there wet, `next_rain[h]` the first with rain; all are past the last hour where there is none.
    """

    air: FloorAir
    limits: AirLimits | None
    film: bool
    dry_h: float
    """Hours without rain that the slab needs before."""
    steady_f_per_h: float
    next_bad_to_lay: tuple[int, ...] = ()
    next_bad_to_set: tuple[int, ...] = ()
    next_rain: tuple[int, ...] = ()

    def whys_to_lay(self, hour: int) -> tuple[Why, ...]:
        """Return every reason against laying in an hour, none where it is allowed.

        All limits of the material count; a film also wants the slab steady or falling and out of direct sun.
        """
        air, limits = self.air, self.limits
        whys = [Why("rain", 0)] if air.rain[hour] else []
        if not air.rain[hour] and air.hours_since_rain[hour] < self.dry_h:
            whys.append(Why("wet", air.hours_since_rain[hour]))
        if limits is None:
            return tuple(whys)
        if air.state[hour] == "missing":
            return (Why("no-weather", 0),)
        whys += _outside(air.air_f[hour], limits.air_low_f, limits.air_high_f, "air-cold", "air-hot")
        whys += _outside(air.slab_f[hour], limits.slab_low_f, limits.slab_high_f, "slab-cold", "slab-hot")
        whys += _outside(air.rh_pct[hour], limits.rh_low_pct, limits.rh_high_pct, "rh-low", "rh-high")
        whys += self._dew(hour)
        if self.film and self._warming_f_per_h(hour) > self.steady_f_per_h:
            whys.append(Why("warming", self._warming_f_per_h(hour)))
        if self.film and air.direct_sun[hour]:
            whys.append(Why("sun", 0))
        return tuple(whys)

    def whys_to_set(self, hour: int) -> tuple[Why, ...]:
        """Return every reason against lying wet in an hour: rain, cold, and for a film a slab near the dew point."""
        air, limits = self.air, self.limits
        if limits is None:
            return ()
        if air.state[hour] == "missing":
            return (Why("no-weather", 0),)
        whys = [Why("rain", 0)] if air.rain[hour] else []
        whys += _outside(air.air_f[hour], limits.air_low_f, None, "air-cold", "air-hot")
        whys += _outside(air.slab_f[hour], limits.slab_low_f, None, "slab-cold", "slab-hot")
        return (*whys, *self._dew(hour))

    def _dew(self, hour: int) -> list[Why]:
        margin_f = self.air.slab_f[hour] - self.air.dew_point_f[hour]
        return [Why("dew", margin_f)] if self.film and self.limits and margin_f < self.limits.dew_margin_f else []

    def _warming_f_per_h(self, hour: int) -> float:
        after = min(hour + 1, len(self.air.slab_f) - 1)
        return self.air.slab_f[after] - self.air.slab_f[hour]


def _outside(value: float, low: float, high: float | None, below: Reason, above: Reason) -> list[Why]:
    if value < low:
        return [Why(below, value)]
    return [Why(above, value)] if high is not None and value > high else []


def is_film(material: Material) -> bool:
    """Return whether a material is laid as a film: its row asks for a margin above the dew point."""
    return material.limits is not None and material.limits.dew_margin_f > 0


def conditions_for(material: Material | None, air: FloorAir, catalog: Catalog, *, on_bare_slab: bool) -> Conditions:
    """Return what a task asks of the air.

    Args:
        material: the material of a coat; None for any other task, which only wants no rain.
        air: the conditions over the floor.
        catalog: for the named limits.
        on_bare_slab: the first coat, which outdoors wants the slab dry for some time after rain.
    """
    plain = Conditions(
        air=air,
        limits=material.limits if material else None,
        film=material is not None and is_film(material),
        dry_h=catalog.limits["repellent-dry-hours"].value if on_bare_slab and air.outdoors else 0.0,
        steady_f_per_h=catalog.limits["slab-steady-f-per-h"].value,
    )
    if air.steady:
        lay, set_, rain = _same_in_every_hour(plain)
    else:
        lay, set_, rain = _next_bad_hours(replace(plain, air=replace(air, floor="", assumptions=())))
    return replace(plain, next_bad_to_lay=lay, next_bad_to_set=set_, next_rain=rain)


_Hours = tuple[int, ...]


def _same_in_every_hour(asked: Conditions) -> tuple[_Hours, _Hours, _Hours]:
    """Return the three look-up tables of steady conditions: all hours are bad, or none."""
    hours = len(asked.air.air_f)
    found = (bool(asked.whys_to_lay(0)), bool(asked.whys_to_set(0)), asked.air.rain[0])
    lay, set_, rain = (tuple(range(hours + 1)) if bad else (hours,) * (hours + 1) for bad in found)
    return lay, set_, rain


@lru_cache(maxsize=64)
def _next_bad_hours(asked: Conditions) -> tuple[_Hours, _Hours, _Hours]:
    """Return the three look-up tables of conditions; floors with the same air share them."""
    air = asked.air
    after_f = (*air.slab_f[1:], air.slab_f[-1])
    wet = (since < asked.dry_h for since in air.hours_since_rain)
    alike = tuple(
        zip(air.state, air.air_f, air.rh_pct, air.slab_f, after_f, air.dew_point_f, air.rain, wet, air.direct_sun,
            strict=True)
    )  # fmt: skip
    return (
        _next_bad(asked.whys_to_lay, alike),
        _next_bad(asked.whys_to_set, alike),
        _next_bad(lambda hour: air.rain[hour], air.rain),
    )


def _next_bad(whys: Callable[[int], object], alike: Sequence[Hashable]) -> _Hours:
    """Return the next bad hour of each hour; hours that are alike are asked about once."""
    bad: dict[Hashable, bool] = {}
    course = [len(alike)]
    last = len(alike) - 1
    for kind, run in itertools.groupby(reversed(alike)):
        length = sum(1 for _ in run)
        if kind not in bad:
            bad[kind] = bool(whys(last))
        course += range(last, last - length, -1) if bad[kind] else [course[-1]] * length
        last -= length
    return tuple(reversed(course))


# --- in words --------------------------------------------------------------------------------------------------------

_WORDS: Final[dict[Reason, str]] = {
    "air-cold": "the air is {values} °F; at least {air_low_f:g} °F is needed",
    "air-hot": "the air is {values} °F; at most {air_high_f:g} °F is allowed",
    "slab-cold": "the slab is {values} °F; at least {slab_low_f:g} °F is needed",
    "slab-hot": "the slab is {values} °F; at most {slab_high_f:g} °F is allowed",
    "rh-low": "the air's humidity is {values} %; at least {rh_low_pct:g} % is needed",
    "rh-high": "the air's humidity is {values} %; at most {rh_high_pct:g} % is allowed",
    "dew": "the slab is {values} °F above the dew point; {dew_margin_f:g} °F is needed until tack-free",
    "warming": "the slab warms by {values} °F an hour; a film wants it steady or falling",
    "sun": "direct sun on the floor; a film wants shade",
    "rain": "rain",
    "rain-soon": "rain {values} h later, before the coat bears water",
    "wet": "the slab is still drying from rain",
    "no-weather": "the weather file has a gap here",
}


NIGHT: Final = "outside the crew's working hours, though the air would allow it"


def words_of(reason: Reason, values: Sequence[float], limits: AirLimits | None) -> str:
    """Return a reason in words, with the range of its values over a span and what is allowed."""
    low, high = f"{min(values):.0f}", f"{max(values):.0f}"
    named = limits.model_dump() if limits else {}
    return _WORDS[reason].format(values=low if low == high else f"{low} to {high}", **named)


@dataclass(frozen=True)
class Span:
    """Hours of the plan's clock, one behind the other, that are blocked for the same reasons."""

    first_slot: int
    end_slot: int
    why: str


def blocked_spans(
    conditions: Conditions,
    clock: Clock,
    from_slot: int,
    to_slot: int,
    *,
    needed_h: float = 0.0,
    rainless_h: float = 0.0,
) -> tuple[Span, ...]:
    """Return the working hours between two slots in which a task may not be done, and why.

    Hours are told for the reason that laying meets, or, where laying would be allowed, that the wet coat would meet
    before it is tack-free. The hours outside the workday are told only where the air would allow the task.

    Args:
        conditions: what the task asks of the air.
        clock: the plan's clock.
        from_slot: first slot looked at.
        to_slot: end of the slots looked at.
        needed_h: hours from laying to tack-free, to look ahead for what spoils a wet coat.
        rainless_h: hours from laying until the coat bears water, to look ahead for rain.
    """
    hours = range(from_slot // SLOTS_PER_HOUR, -(-to_slot // SLOTS_PER_HOUR))
    whys_of = {hour: _whys(conditions, hour, needed_h, rainless_h) for hour in hours}

    def kind_of(hour: int) -> tuple[tuple[Reason, ...], bool]:
        return tuple(why.reason for why in whys_of[hour]), _works(clock, hour)

    spans = []
    for (reasons, works), group in itertools.groupby(hours, key=kind_of):
        run = list(group)
        if bool(reasons) == works:
            said = _said([why for hour in run for why in whys_of[hour]], conditions.limits) if works else NIGHT
            first, end = run[0] * SLOTS_PER_HOUR, (run[-1] + 1) * SLOTS_PER_HOUR
            spans.append(Span(max(from_slot, first), min(to_slot, end), said))
    return tuple(spans)


def _whys(conditions: Conditions, hour: int, needed_h: float, rainless_h: float) -> tuple[Why, ...]:
    whys = conditions.whys_to_lay(hour)
    if whys:
        return whys
    last, bad, rain = len(conditions.air.air_f), conditions.next_bad_to_set[hour], conditions.next_rain[hour]
    if bad < min(last, hour + 1 + needed_h):
        return conditions.whys_to_set(bad)
    return (Why("rain-soon", rain - hour),) if rain < min(last, hour + 1 + rainless_h) else ()


def _works(clock: Clock, hour: int) -> bool:
    first = hour * SLOTS_PER_HOUR
    begun = bisect.bisect_left(clock.stretches, (first + SLOTS_PER_HOUR,))
    return begun > 0 and first < clock.stretches[begun - 1][1]


def _said(whys: Sequence[Why], limits: AirLimits | None) -> str:
    """Return reasons in words, each once, with the range of its values."""
    values: dict[Reason, list[float]] = {}
    for why in whys:
        values.setdefault(why.reason, []).append(why.value)
    return "; ".join(words_of(reason, found, limits) for reason, found in values.items())
