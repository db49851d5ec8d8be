"""Moist air: vapor pressure, dew point, humidity ratio and wet bulb, over water, at -40 to 50 °C.

The phase is liquid water throughout, also below freezing, as weather services report relative humidity; frost on a
slab below 32 °F forms a little above the dew point returned here, and coating is out of the question there anyway.
"""

import math
from typing import Final

from finishadvisor.errors import OutOfRangeError, require_between
from finishadvisor.units import celsius_from_fahrenheit, fahrenheit_from_celsius

# Magnus form of Alduchov and Eskridge (1996), J. Appl. Meteor. 35:601-609, equation 21, over a plane water surface.
_MAGNUS_PA: Final = 610.94
_MAGNUS_FACTOR: Final = 17.625
_MAGNUS_C: Final = 243.04

LOWEST_AIR_C: Final = -40.0
HIGHEST_AIR_C: Final = 50.0
LOWEST_AIR_F: Final = fahrenheit_from_celsius(LOWEST_AIR_C)
HIGHEST_AIR_F: Final = fahrenheit_from_celsius(HIGHEST_AIR_C)
LOWEST_RH_PCT: Final = 1.0

STANDARD_PRESSURE_PA: Final = 101325.0
WATER_TO_AIR_MOLAR_MASS: Final = 0.621945
"""Ratio of the molar masses of water and dry air (ASHRAE Handbook Fundamentals 2017, ch. 1, equation 20)."""


def saturation_pressure_pa(temperature_c: float) -> float:
    """Return the pressure of water vapor in saturated air, over water [Pa].

    Args:
        temperature_c: temperature [°C], -40 to 50. Below 0 °C: over supercooled water, not ice.

    Raises:
        OutOfRangeError: the temperature is outside the range of the source.

    Source: Alduchov and Eskridge (1996), equation 21; relative error stated there below 0.4 % over the range.
    """
    require_between("Temperature", temperature_c, LOWEST_AIR_C, HIGHEST_AIR_C, "°C")
    return _magnus_pa(temperature_c)


def _magnus_pa(temperature_c: float) -> float:
    return _MAGNUS_PA * math.exp(_MAGNUS_FACTOR * temperature_c / (temperature_c + _MAGNUS_C))


def _require_air(air_f: float, rh_pct: float) -> None:
    require_between("Air temperature", air_f, LOWEST_AIR_F, HIGHEST_AIR_F, "°F")
    require_between("Relative humidity", rh_pct, LOWEST_RH_PCT, 100, "%")


def dew_point_f(air_f: float, rh_pct: float) -> float:
    """Return the temperature at which the air starts to condense [°F].

    Args:
        air_f: air temperature [°F], -40 to 122.
        rh_pct: relative humidity over water [%], 1 to 100.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: the Magnus form of Alduchov and Eskridge (1996), solved for the temperature. In very dry, very cold air
    the result may lie below -40 °F, outside the fit of the source.
    """
    _require_air(air_f, rh_pct)
    air_c = celsius_from_fahrenheit(air_f)
    log_ratio = math.log(rh_pct / 100) + _MAGNUS_FACTOR * air_c / (_MAGNUS_C + air_c)
    return fahrenheit_from_celsius(_MAGNUS_C * log_ratio / (_MAGNUS_FACTOR - log_ratio))


def dew_point_margin_f(slab_f: float, air_f: float, rh_pct: float) -> float:
    """Return how far the slab is above the dew point of the air over it [°F]; negative: the slab sweats.

    Args:
        slab_f: temperature of the slab's surface [°F], -40 to 200.
        air_f: air temperature next to the slab [°F], -40 to 122.
        rh_pct: relative humidity next to the slab [%], 1 to 100.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: the margin itself is arithmetic; the 5 °F that is usually asked stands in UFC 3-190-06 (2004), par. 9.6.6.
    """
    require_between("Slab temperature", slab_f, LOWEST_AIR_F, 200, "°F")
    return slab_f - dew_point_f(air_f, rh_pct)


def rh_of_dew_point_pct(air_f: float, dew_point_f: float) -> float:
    """Return the relative humidity of air whose dew point is known [%].

    Args:
        air_f: air temperature [°F], -40 to 122.
        dew_point_f: dew point [°F], -40 up to the air temperature.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: quotient of two saturation pressures, Alduchov and Eskridge (1996).
    """
    require_between("Air temperature", air_f, LOWEST_AIR_F, HIGHEST_AIR_F, "°F")
    require_between("Dew point", dew_point_f, LOWEST_AIR_F, air_f, "°F")
    return 100 * _magnus_pa(celsius_from_fahrenheit(dew_point_f)) / _magnus_pa(celsius_from_fahrenheit(air_f))


def most_rh_for_margin_pct(slab_f: float, air_f: float, margin_f: float) -> float:
    """Return the highest relative humidity that keeps the slab a margin above the dew point [%].

    Args:
        slab_f: temperature of the slab's surface [°F], -40 to 200.
        air_f: air temperature [°F], -40 to 122.
        margin_f: margin asked [°F], 0 to 40.

    Returns:
        0 to 100; 100 where the slab is warm enough in any air.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: `dew_point_f` solved for the humidity.
    """
    require_between("Slab temperature", slab_f, LOWEST_AIR_F, 200, "°F")
    require_between("Air temperature", air_f, LOWEST_AIR_F, HIGHEST_AIR_F, "°F")
    require_between("Margin above the dew point", margin_f, 0, 40, "°F")
    highest_dew_point_c = celsius_from_fahrenheit(slab_f - margin_f)
    return min(100.0, 100 * _magnus_pa(highest_dew_point_c) / _magnus_pa(celsius_from_fahrenheit(air_f)))


def humidity_ratio(air_f: float, rh_pct: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Return the mass of water vapor per mass of dry air, lb/lb or kg/kg.

    Args:
        air_f: air temperature [°F], -40 to 122.
        rh_pct: relative humidity over water [%], 1 to 100.
        pressure_pa: air pressure [Pa], 60000 to 110000.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: ASHRAE Handbook Fundamentals 2017, ch. 1, equation 20, with the saturation pressure of this module.
    """
    _require_air(air_f, rh_pct)
    require_between("Air pressure", pressure_pa, 60000, 110000, "Pa")
    return _humidity_ratio_of_pressure(_magnus_pa(celsius_from_fahrenheit(air_f)) * rh_pct / 100, pressure_pa)


def _humidity_ratio_of_pressure(vapor_pa: float, pressure_pa: float) -> float:
    return WATER_TO_AIR_MOLAR_MASS * vapor_pa / (pressure_pa - vapor_pa)


def _humidity_ratio_of_wet_bulb(air_c: float, wet_bulb_c: float, pressure_pa: float) -> float:
    """Humidity ratio by ASHRAE Fundamentals 2017, ch. 1, equation 33: a wick wet with liquid water."""
    saturated = _humidity_ratio_of_pressure(_magnus_pa(wet_bulb_c), pressure_pa)
    return ((2501 - 2.326 * wet_bulb_c) * saturated - 1.006 * (air_c - wet_bulb_c)) / (
        2501 + 1.86 * air_c - 4.186 * wet_bulb_c
    )


def wet_bulb_f(air_f: float, rh_pct: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Return the thermodynamic wet-bulb temperature [°F].

    Args:
        air_f: air temperature [°F], 32 to 122.
        rh_pct: relative humidity over water [%], 1 to 100.
        pressure_pa: air pressure [Pa], 60000 to 110000.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: ASHRAE Handbook Fundamentals 2017, ch. 1, equation 33, solved by bisection to 0.001 °C; the wick is taken
    as liquid water, also where the result lies below freezing.
    """
    require_between("Air temperature", air_f, 32, HIGHEST_AIR_F, "°F")
    wanted = humidity_ratio(air_f, rh_pct, pressure_pa)
    air_c = celsius_from_fahrenheit(air_f)
    low_c, high_c = LOWEST_AIR_C, air_c
    while high_c - low_c > 0.001:
        middle_c = (low_c + high_c) / 2
        if _humidity_ratio_of_wet_bulb(air_c, middle_c, pressure_pa) < wanted:
            low_c = middle_c
        else:
            high_c = middle_c
    return fahrenheit_from_celsius((low_c + high_c) / 2)


def rh_of_wet_bulb_pct(air_f: float, wet_bulb_f: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Return the relative humidity that a sling psychrometer shows [%].

    Args:
        air_f: dry-bulb temperature [°F], 32 to 122.
        wet_bulb_f: wet-bulb temperature [°F], 32 up to the dry bulb.
        pressure_pa: air pressure [Pa], 60000 to 110000.

    Raises:
        OutOfRangeError: an argument is outside its range, or no air has these two readings.

    Source: ASHRAE Handbook Fundamentals 2017, ch. 1, equations 20 and 33.
    """
    require_between("Dry-bulb temperature", air_f, 32, HIGHEST_AIR_F, "°F")
    require_between("Wet-bulb temperature", wet_bulb_f, 32, air_f, "°F")
    require_between("Air pressure", pressure_pa, 60000, 110000, "Pa")
    air_c = celsius_from_fahrenheit(air_f)
    ratio = _humidity_ratio_of_wet_bulb(air_c, celsius_from_fahrenheit(wet_bulb_f), pressure_pa)
    if ratio <= 0:
        raise OutOfRangeError(
            f"A wet bulb of {wet_bulb_f:g} °F at {air_f:g} °F dry is drier than any air; they must lie closer. "
            "Wet the wick, swing it again and read both."
        )
    vapor_pa = ratio * pressure_pa / (WATER_TO_AIR_MOLAR_MASS + ratio)
    return min(100.0, 100 * vapor_pa / _magnus_pa(air_c))
