"""Where nothing fits: the nearest change that would let it fit, tried one at a time from the easiest."""

import datetime
import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import Material
from finishadvisor.formulas.air import HIGHEST_AIR_F, LOWEST_AIR_F, dew_point_f, rh_of_dew_point_pct
from finishadvisor.plan.chain import Link, with_conditions
from finishadvisor.plan.clock import WEEKDAYS, Clock
from finishadvisor.plan.screening import fits_with_screening
from finishadvisor.plan.slab import FloorAir, Site, floor_air
from finishadvisor.plan.weather_rows import Weather
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.limits import limit

_MOST_TOLD: Final = 3
_SHADE: Final = "shade over the floor (a canopy or tent)"
_TENT: Final = "a rain-tight tent over the floor"


@dataclass(frozen=True)
class Stuck:
    """A floor on which nothing fits, with what was tried."""

    site: Site
    works: FloorWorks
    chain: tuple[Link, ...]
    air: FloorAir
    weather: Weather | None
    crew: int


def nearest_changes(stuck: Stuck) -> tuple[str, ...]:
    """Return up to three single changes, from the easiest, each of which would let the floor fit on a free calendar.

    Where no single one does, cover over the floor and other hours are tried together.
    """
    single = (words for words, helps in _tries(stuck) if helps)
    return tuple(itertools.islice(single, _MOST_TOLD)) or tuple(itertools.islice(_cover_and_hours(stuck), 1))


def _cover_and_hours(stuck: Stuck) -> Iterator[str]:
    """Yield what cover over the floor and other hours together would let it fit: in the heat, shade at first light."""
    shaded = replace(stuck.site, facts={**stuck.site.facts, "sun": "none"})
    airs = []
    if any(stuck.air.direct_sun):
        airs.append((_SHADE, floor_air(shaded, stuck.weather)))
    if any(stuck.air.rain):
        airs.append((_TENT, _rainless(floor_air(shaded, stuck.weather))))
    for cover, air in airs:
        for words, clock in _other_hours(stuck):
            if _fits(stuck, air=air, clock=clock):
                yield f"{cover} and {words} together"


def _tries(stuck: Stuck) -> Iterable[tuple[str, bool]]:
    site = stuck.site
    if any(stuck.air.direct_sun):
        shaded = floor_air(replace(site, facts={**site.facts, "sun": "none"}), stuck.weather)
        yield _SHADE, _fits(stuck, air=shaded)
    for words, clock in _other_hours(stuck):
        yield words, _fits(stuck, clock=clock)
    if any(stuck.air.rain):
        yield _TENT, _fits(stuck, air=_rainless(stuck.air))
    if site.place != "outdoors":
        dried_pct = limit(site.catalog, "dried-to-pct")
        yield f"a dehumidifier that holds {dried_pct:g} %", _fits(stuck, air=_dried(stuck.air, dried_pct))
    yield from _other_temperatures(stuck)
    most = int(limit(site.catalog, "most-in-team"))
    if stuck.crew < most:
        more = min(2 * stuck.crew, most)
        yield f"a crew of {more}", _fits(stuck, crew=more)
    yield from _other_materials(stuck)


def _other_hours(stuck: Stuck) -> Iterator[tuple[str, Clock]]:
    clock, catalog = stuck.site.clock, stuck.site.catalog
    early, late = (datetime.time(int(limit(catalog, id_))) for id_ in ("morning-start-hour", "evening-end-hour"))

    def with_workday(**changes: object) -> Clock:
        return replace(clock, workday=clock.workday.model_copy(update=changes))

    by_day = clock.workday.start < clock.workday.end
    if by_day and clock.workday.start > early:
        yield f"work from {early:%H:%M} on", with_workday(start=early)
    if by_day and clock.workday.end < late:
        yield f"work in the evening, until {late:%H:%M}", with_workday(end=late)
    yield "work on every day of the week", with_workday(days=WEEKDAYS)


def _other_temperatures(stuck: Stuck) -> Iterable[tuple[str, bool]]:
    """Try the floor warmer, and a room cooler, each by the least step that lets it fit."""
    catalog, outdoors = stuck.site.catalog, stuck.site.place == "outdoors"
    step_f = limit(catalog, "heat-step-f")
    warmer = [step_f * number for number in range(1, int(limit(catalog, "most-heat-f") / step_f) + 1)]
    cooler = [step_f * number for number in range(1, int(limit(catalog, "most-cooling-f") / step_f) + 1)]
    where = "the floor in a heated tent" if outdoors else "the room and the slab"
    for heat_f in warmer:
        if _fits(stuck, air=_heated(stuck.air, heat_f)):
            yield f"{where} {heat_f:g} °F warmer, by vented heat from some days before", True
            break
    for cooling_f in () if outdoors else cooler:
        if _fits(stuck, air=_cooled(stuck.air, cooling_f)):
            yield f"the room and the slab {cooling_f:g} °F cooler, by air conditioning from some days before", True
            break


def _fits(
    stuck: Stuck,
    *,
    air: FloorAir | None = None,
    clock: Clock | None = None,
    crew: int | None = None,
    chain: Sequence[Link] | None = None,
) -> bool:
    links = with_conditions(chain or stuck.chain, air or stuck.air, stuck.site.catalog)
    site = replace(stuck.site, clock=clock) if clock else stuck.site
    return fits_with_screening(links, site, stuck.works, air or stuck.air, crew or stuck.crew)


def _rainless(air: FloorAir) -> FloorAir:
    return replace(air, rain=(False,) * len(air.rain), hours_since_rain=(1e6,) * len(air.rain))


def _heated(air: FloorAir, heat_f: float) -> FloorAir:
    """Return the air warmed with the water vapor in it unchanged, the slab with it."""
    air_f = tuple(min(value + heat_f, HIGHEST_AIR_F) for value in air.air_f)
    rh_pct = tuple(
        max(1.0, rh_of_dew_point_pct(warm_f, max(-40.0, min(dew_f, warm_f))))
        for warm_f, dew_f in zip(air_f, air.dew_point_f, strict=True)
    )
    return replace(air, air_f=air_f, rh_pct=rh_pct, slab_f=tuple(value + heat_f for value in air.slab_f))


def _cooled(air: FloorAir, cooling_f: float) -> FloorAir:
    """Return the air cooled at the same relative humidity: air conditioning takes the water out. The slab follows."""
    air_f = tuple(max(value - cooling_f, LOWEST_AIR_F) for value in air.air_f)
    dew_f = tuple(dew_point_f(cool_f, max(1.0, rh)) for cool_f, rh in zip(air_f, air.rh_pct, strict=True))
    return replace(air, air_f=air_f, dew_point_f=dew_f, slab_f=tuple(value - cooling_f for value in air.slab_f))


def _dried(air: FloorAir, dried_pct: float) -> FloorAir:
    rh_pct = tuple(min(value, dried_pct) for value in air.rh_pct)
    dew_f = tuple(dew_point_f(warm_f, max(1.0, rh)) for warm_f, rh in zip(air.air_f, rh_pct, strict=True))
    return replace(air, rh_pct=rh_pct, dew_point_f=dew_f)


def _other_materials(stuck: Stuck) -> Iterable[tuple[str, bool]]:
    """Try, for each coat, the films of other chemistry and the same carrier or none that are sold in the same unit."""
    coats = {link.coat.id: link.coat for link in stuck.chain if link.coat is not None}
    for coat in coats.values():
        for other in _alternatives(coat, stuck.site.catalog):
            swapped = [replace(link, coat=other) if link.coat is coat else link for link in stuck.chain]
            if _fits(stuck, chain=swapped):
                yield f"{other.name} in place of {coat.name}, if its maker allows it in this build-up", True
                return


def _alternatives(coat: Material, catalog: Catalog) -> list[Material]:
    return [
        other
        for other in catalog.materials.values()
        if other.cure and other.limits and other.basis == coat.basis and other.one_lot == coat.one_lot
        and other.id != coat.id and other.unit == coat.unit
    ]  # fmt: skip
