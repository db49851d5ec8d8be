"""Air, slab and dew point over one floor, hour by hour: measured, from the room, or by the simple stated model.

The model of the slab is one lump of heat that follows its surroundings with a lag (`formulas.slab_heat`): indoors the
room air, outdoors the air with sun and night sky. It may err by several °F; a thermometer on the slab beats it, and a
measured slab temperature in the weather file or the room always wins over it.
"""

import datetime
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.formulas.air import LOWEST_AIR_F, dew_point_f
from finishadvisor.formulas.slab_heat import (
    INDOOR_FILM_BTU_PER_H_FT2_F,
    OUTDOOR_FILM_BTU_PER_H_FT2_F,
    lagged_f,
    slab_lag_h,
    sol_air_f,
    sun_w_per_m2,
)
from finishadvisor.job.document import Floor
from finishadvisor.job.readings import latest_reading
from finishadvisor.plan.clock import Clock
from finishadvisor.plan.hourly import Hour, State, hourly, hours_before
from finishadvisor.plan.sky import place_of_zone, sun_altitudes_deg
from finishadvisor.plan.weather_rows import Weather
from finishadvisor.records.finding import FactValue
from finishadvisor.works.limits import limit

Facts = Mapping[str, FactValue | None]


_LONGEST_SPIN_UP_H: Final = 72


@dataclass(frozen=True)
class Site:
    """One floor with what the plan knows of it, on the plan's clock."""

    floor: Floor
    facts: Facts
    catalog: Catalog
    clock: Clock

    @property
    def place(self) -> str:
        """Indoors, covered or outdoors; where nobody said, a floor with a room lies indoors and any other outdoors."""
        place = self.facts.get("place")
        if place is None:
            return "indoors" if self.floor.room is not None else "outdoors"
        return str(place)


@dataclass(frozen=True)
class FloorAir:
    """Conditions over a floor by hour of the plan's clock; every list has one value an hour."""

    floor: str
    outdoors: bool
    """True: rain falls on it."""
    state: tuple[State, ...]
    air_f: tuple[float, ...]
    rh_pct: tuple[float, ...]
    slab_f: tuple[float, ...]
    dew_point_f: tuple[float, ...]
    rain: tuple[bool, ...]
    hours_since_rain: tuple[float, ...]
    direct_sun: tuple[bool, ...]
    wind_mph: tuple[float | None, ...]
    assumptions: tuple[str, ...]
    """What was taken for granted, a sentence each."""
    steady: bool = False
    """True: every hour is like the first."""


def floor_air(site: Site, weather: Weather | None) -> FloorAir:
    """Return the conditions over a floor.

    A floor indoors has its room; without a room, or outdoors, the weather file counts; without that a floor indoors
    has its latest readings of air and humidity; else 70 °F and 50 % are taken, and said.

    Args:
        site: the floor; of its facts place, sun, color depth and thickness are read.
        weather: a weather file, None where there is none.
    """
    room = site.floor.room
    if site.place == "indoors" and room is not None:
        slab_f = room.air if room.slab is None else room.slab
        said = f"{site.floor.name}: the slab is taken as warm as the room, {room.air:g} °F."
        return _steady(site, (room.air, room.rh_pct, slab_f), () if room.slab is not None else (said,))
    found = _from_weather(site, weather) if weather is not None else None
    return found or _without_weather(site, ended=weather is not None)


def _without_weather(site: Site, *, ended: bool) -> FloorAir:
    floor, day = site.floor, site.clock.first_day
    air, rh = latest_reading(floor, "air-temperature", day), latest_reading(floor, "air-rh", day)
    slab = latest_reading(floor, "slab-temperature", day)
    if site.place == "indoors" and air is not None and rh is not None:
        read = (float(air.value), float(rh.value), float((slab or air).value))
        said = f"the air stays as read on {air.date.isoformat()}, {read[0]:g} °F and {read[1]:g} %."
        return _steady(site, read, (f"{floor.name}: {said}",))
    assumed_f, assumed_pct = (limit(site.catalog, id_) for id_ in ("room-temperature-f", "assumed-air-rh-pct"))
    steady = f"a steady {assumed_f:g} °F and {assumed_pct:g} % are assumed"
    if ended:
        said = f"the weather file ends before {day.isoformat()}; {steady}. Save a new forecast and plan again."
    elif site.place == "indoors":
        said = f"nothing is known of the room's air; {steady}. Give the floor a room, or read air and slab."
    else:
        said = f"it lies outdoors, so a forecast is needed; until then {steady}, without rain or sun."
    return _steady(site, (assumed_f, assumed_pct, assumed_f), (f"{floor.name}: {said}",), "assumed")


def _steady(
    site: Site, air_rh_slab: tuple[float, float, float], said: tuple[str, ...], state: State = "known"
) -> FloorAir:
    return replace(_same_each_hour(site.clock.hours, *air_rh_slab, state), floor=site.floor.name, assumptions=said)


@lru_cache(maxsize=64)
def _same_each_hour(hours: int, air_f: float, rh_pct: float, slab_f: float, state: State) -> FloorAir:
    return FloorAir(
        floor="",
        outdoors=False,
        state=(state,) * hours,
        air_f=(air_f,) * hours,
        rh_pct=(rh_pct,) * hours,
        slab_f=(slab_f,) * hours,
        dew_point_f=(_dew_point_f(air_f, rh_pct),) * hours,
        rain=(False,) * hours,
        hours_since_rain=(math.inf,) * hours,
        direct_sun=(False,) * hours,
        wind_mph=(None,) * hours,
        assumptions=(),
        steady=True,
    )


@lru_cache(maxsize=4096)
def _dew_point_f(air_f: float, rh_pct: float) -> float:
    return dew_point_f(air_f, max(1.0, rh_pct))


def _from_weather(site: Site, weather: Weather) -> FloorAir | None:
    """Return the conditions of a weather file, None where it ends before the plan begins."""
    clock, place, catalog = site.clock, site.place, site.catalog
    gap_h = limit(catalog, "weather-gap-h")
    if hourly(weather, clock.start, 1, gap_h) is None:
        return None
    lead = min(hours_before(weather, clock.start), _LONGEST_SPIN_UP_H)
    first = clock.start - datetime.timedelta(hours=lead)
    course = hourly(weather, first, clock.hours + lead, gap_h) or ()
    latitude, longitude = weather.latitude_deg, weather.longitude_deg
    said = [f"{site.floor.name}: {line}" for line in weather.missing]
    if latitude is None and place != "indoors":
        latitude, longitude = place_of_zone(clock.zone.key) or (None, None)
        said.append(f"{site.floor.name}: the sun is reckoned for the city of the time zone {clock.zone.key}.")
    altitudes = sun_altitudes_deg(first.astimezone(clock.zone), len(course), latitude, longitude)
    rain_chance, overcast = limit(catalog, "rain-chance-pct"), limit(catalog, "overcast-share")
    low_sun_deg = limit(catalog, "low-sun-deg")
    exposed = place != "indoors" and site.facts.get("sun") in {"full", None}
    kept = slice(lead, None)
    rained = tuple(place == "outdoors" and (h.rain_in > 0 or h.rain_chance_pct >= rain_chance) for h in course)
    return FloorAir(
        floor=site.floor.name,
        outdoors=place == "outdoors",
        state=tuple(hour.state for hour in course[kept]),
        air_f=tuple(hour.air_f for hour in course[kept]),
        rh_pct=tuple(hour.rh_pct for hour in course[kept]),
        slab_f=_slab_course(site, course, altitudes)[kept],
        dew_point_f=tuple(_dew_point_f(hour.air_f, hour.rh_pct) for hour in course[kept]),
        rain=rained[kept],
        hours_since_rain=_hours_since(rained)[kept],
        direct_sun=tuple(
            exposed and height > low_sun_deg and (hour.cloud_share or 0.0) < overcast
            for hour, height in zip(course[kept], altitudes[kept], strict=True)
        ),
        wind_mph=tuple(hour.wind_mph for hour in course[kept]),
        assumptions=tuple(said),
    )


def _hours_since(rained: Sequence[bool]) -> tuple[float, ...]:
    since, course = math.inf, []
    for rain in rained:
        since = 0.0 if rain else since + 1
        course.append(since)
    return tuple(course)


def _slab_course(site: Site, course: Sequence[Hour], altitudes_deg: Sequence[float]) -> tuple[float, ...]:
    """Return the slab's temperature by hour [°F]: measured where the file has it, the model in between."""
    around = _around_f(site, course, altitudes_deg)
    film = INDOOR_FILM_BTU_PER_H_FT2_F if site.place == "indoors" else OUTDOOR_FILM_BTU_PER_H_FT2_F
    lag_h = slab_lag_h(min(max(thickness_in(site), 2.0), 24.0), film)
    reading = latest_reading(site.floor, "slab-temperature", site.clock.first_day)
    fresh = reading is not None and (site.clock.first_day - reading.date).days <= 1
    mean_f = sum(around[:24]) / len(around[:24])
    slab_f = float(reading.value) if reading is not None and fresh else max(mean_f, LOWEST_AIR_F)
    slab: list[float] = []
    while len(slab) < len(course):
        measured = course[len(slab)].slab_f
        if measured is not None:
            slab_f = measured
            slab.append(measured)
            continue
        end = next((n for n in range(len(slab), len(course)) if course[n].slab_f is not None), len(course))
        piece = lagged_f(around[len(slab) : end], slab_f, lag_h)
        slab.extend(round(value, 1) for value in piece)
        slab_f = piece[-1]
    return tuple(slab)


def thickness_in(site: Site) -> float:
    """Return the slab's thickness [in], the usual one where nobody knows."""
    stated = site.facts.get("thickness_in")
    return float(stated) if isinstance(stated, int | float) else limit(site.catalog, "slab-thickness-unknown-in")


def _sun_share(site: Site) -> float:
    """Return how much of the day's sun falls on the floor; where nobody said, all of it outdoors and else none."""
    sun = site.facts.get("sun") or ("full" if site.place == "outdoors" else "none")
    return limit(site.catalog, "sun-share-part") if sun == "part" else float(sun == "full")


def _around_f(site: Site, course: Sequence[Hour], altitudes_deg: Sequence[float]) -> tuple[float, ...]:
    """Return the temperature that the slab tends to in each hour [°F]."""
    if site.place == "indoors":
        return tuple(hour.air_f for hour in course)
    sun_share = _sun_share(site)
    absorptance = limit(site.catalog, f"absorptance-{site.facts.get('color_depth') or 'unknown'}")
    around = []
    for hour, height in zip(course, altitudes_deg, strict=True):
        cloud = hour.cloud_share or 0.0
        sun_w = sun_share * sun_w_per_m2(height, cloud)
        around.append(sol_air_f(hour.air_f, sun_w, cloud if site.place == "outdoors" else 1.0, absorptance))
    return tuple(around)
