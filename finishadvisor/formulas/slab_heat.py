"""Simple models of a slab's surface temperature where nobody has measured it. A thermometer on the slab beats both.

The slab is one lump of heat that follows its surroundings with a lag. That is our choice: it has one number to
explain (the lag), needs only the air and the sky, and errs by several °F. It does not know the ground below, wind,
rain, heating tubes or shade that moves over the floor; near a limit, measure.
"""

import math
from collections.abc import Sequence
from typing import Final

from finishadvisor.errors import require_between, require_positive

# Heat that a square foot of slab holds: density and specific heat of normal-weight concrete as building-physics
# handbooks give them (from memory: 145 lb/ft³, 0.21 Btu/lb·°F).
_CONCRETE_LB_PER_FT3: Final = 145.0
_CONCRETE_BTU_PER_LB_F: Final = 0.21

INDOOR_FILM_BTU_PER_H_FT2_F: Final = 1.4
"""Surface conductance of a floor to still air and walls; between the handbook values for heat flowing up, 1.63, and
down, 1.08 (ASHRAE Handbook Fundamentals, still-air surface conductances, from memory)."""

OUTDOOR_FILM_BTU_PER_H_FT2_F: Final = 3.0
"""Surface conductance outdoors in the sol-air equation (ASHRAE Handbook Fundamentals, from memory)."""

CLEAR_NIGHT_DROP_F: Final = 7.0
"""How far a clear sky pulls a horizontal surface below the air in the sol-air equation (ASHRAE, from memory)."""

GROUND_FACTOR: Final = 2.0
"""The ground under a slab stores about as much heat over a day as the slab: our choice, a round number."""

_BTU_PER_H_FT2_PER_W_PER_M2: Final = 1 / 3.154591
_SUN_AT_TOP_W_PER_M2: Final = 1098.0


def slab_lag_h(thickness_in: float, film_btu_per_h_ft2_f: float = INDOOR_FILM_BTU_PER_H_FT2_F) -> float:
    """Return the time constant with which a slab on the ground follows its surroundings [h].

    Args:
        thickness_in: slab thickness [in], 2 to 24.
        film_btu_per_h_ft2_f: surface conductance [Btu/h·ft²·°F], 0.5 to 10.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: heat held per area over heat passed per area and degree; ground factor 2 is our choice.
    """
    require_between("Slab thickness", thickness_in, 2, 24, "in")
    require_between("Surface conductance", film_btu_per_h_ft2_f, 0.5, 10, "Btu/h·ft²·°F")
    held = thickness_in / 12 * _CONCRETE_LB_PER_FT3 * _CONCRETE_BTU_PER_LB_F * GROUND_FACTOR
    return held / film_btu_per_h_ft2_f


def lagged_f(surroundings_f: Sequence[float], start_f: float, lag_h: float, step_h: float = 1.0) -> tuple[float, ...]:
    """Return the slab's temperature at the end of each step as it follows its surroundings [°F].

    Indoors the surroundings are the room air; outdoors the sol-air temperature.

    Args:
        surroundings_f: temperature that the slab tends to during each step [°F], each -60 to 250.
        start_f: the slab's temperature before the first step [°F], -40 to 200.
        lag_h: time constant [h], > 0, see `slab_lag_h`.
        step_h: length of a step [h], > 0.

    Returns:
        As many values as `surroundings_f`.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: first-order lag, exact for surroundings that are steady within a step; using it is our choice.
    """
    require_between("Slab temperature at the start", start_f, -40, 200, "°F")
    require_positive("Time constant of the slab", lag_h, "h")
    require_positive("Time step", step_h, "h")
    kept = math.exp(-step_h / lag_h)
    slab_f, course = start_f, []
    for target_f in surroundings_f:
        require_between("Temperature around the slab", target_f, -60, 250, "°F")
        slab_f = target_f + (slab_f - target_f) * kept
        course.append(slab_f)
    return tuple(course)


def sol_air_f(air_f: float, sun_w_per_m2: float, cloud_share: float, absorptance: float) -> float:
    """Return the temperature that an exposed floor tends to: air, plus sun, less the night sky [°F].

    Args:
        air_f: air temperature [°F], -40 to 122.
        sun_w_per_m2: solar irradiance on the horizontal floor [W/m²], 0 in shade or at night, up to 1200.
        cloud_share: sky covered by cloud, 0 clear to 1 overcast.
        absorptance: share of the sun that the floor takes up, 0.2 to 0.98; about 0.65 for gray, 0.9 for charcoal.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: sol-air temperature of the ASHRAE Handbook Fundamentals, horizontal surface (constants from memory);
    that the pull of the sky fades in proportion to cloud is our choice.
    """
    require_between("Air temperature", air_f, -40, 122, "°F")
    require_between("Sun on the floor", sun_w_per_m2, 0, 1200, "W/m²")
    require_between("Cloud cover", cloud_share, 0, 1)
    require_between("Share of the sun taken up", absorptance, 0.2, 0.98)
    sun_f = absorptance * sun_w_per_m2 * _BTU_PER_H_FT2_PER_W_PER_M2 / OUTDOOR_FILM_BTU_PER_H_FT2_F
    return air_f + sun_f - CLEAR_NIGHT_DROP_F * (1 - cloud_share)


def sun_altitude_deg(latitude_deg: float, day_of_year: int, solar_hour: float) -> float:
    """Return the height of the sun above the horizon, negative below it [°].

    Args:
        latitude_deg: latitude, north positive [°], -66 to 66.
        day_of_year: 1 to 366.
        solar_hour: hour of the day by the sun, 12 at its highest, 0 to 24. Clock time differs by up to some two hours.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: Cooper (1969) for the declination, spherical trigonometry for the rest; within about 1°.
    """
    require_between("Latitude", latitude_deg, -66, 66, "°")
    require_between("Day of the year", day_of_year, 1, 366)
    require_between("Solar hour", solar_hour, 0, 24, "h")
    declination = math.radians(23.45) * math.sin(2 * math.pi * (284 + day_of_year) / 365)
    latitude, hour_angle = math.radians(latitude_deg), math.radians(15 * (solar_hour - 12))
    height = math.sin(latitude) * math.sin(declination)
    height += math.cos(latitude) * math.cos(declination) * math.cos(hour_angle)
    return math.degrees(math.asin(max(-1.0, min(1.0, height))))


def sun_w_per_m2(altitude_deg: float, cloud_share: float) -> float:
    """Return the solar irradiance on a level, unshaded floor [W/m²].

    Args:
        altitude_deg: height of the sun [°], -90 to 90; 0 W/m² below the horizon.
        cloud_share: sky covered by cloud, 0 clear to 1 overcast.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: Haurwitz (1945) for a clear sky, Kasten and Czeplak (1980) for cloud; both from memory.
    """
    require_between("Height of the sun", altitude_deg, -90, 90, "°")
    require_between("Cloud cover", cloud_share, 0, 1)
    rise = math.sin(math.radians(altitude_deg))
    if rise <= 0:
        return 0.0
    clear_w_per_m2 = _SUN_AT_TOP_W_PER_M2 * rise * math.exp(-0.057 / rise)
    return clear_w_per_m2 * (1 - 0.75 * math.pow(cloud_share, 3.4))
