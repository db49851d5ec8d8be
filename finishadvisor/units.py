"""Exact conversions between the trade's units, used inside, and metric, used at the edges only.

Source: the international foot (0.3048 m) and pound (0.45359237 kg) and the US gallon (231 in³) are exact by definition
(NIST Handbook 44, Appendix C).
"""

from typing import Final

METERS_PER_FOOT: Final = 0.3048
INCHES_PER_FOOT: Final = 12.0
MILLIMETERS_PER_INCH: Final = 25.4
SQUARE_METERS_PER_SQUARE_FOOT: Final = METERS_PER_FOOT**2
LITERS_PER_GALLON: Final = 231 * 0.0254**3 * 1000
KILOGRAMS_PER_POUND: Final = 0.45359237
MICROMETERS_PER_MIL: Final = 25.4
CUBIC_METERS_PER_CUBIC_FOOT: Final = METERS_PER_FOOT**3
KILOMETERS_PER_MILE: Final = 1.609344
GRAMS_PER_OUNCE: Final = KILOGRAMS_PER_POUND * 1000 / 16
NANOGRAMS_PER_PASCAL_SECOND_SQUARE_METER_PER_PERM: Final = 64.79891e6 / (
    3600 * SQUARE_METERS_PER_SQUARE_FOOT * 3386.389
)
"""A perm is one grain per hour, square foot and inch of mercury (at 32 °F, 3386.389 Pa: NIST SP 811, App. B)."""
PASCALS_PER_PSI: Final = KILOGRAMS_PER_POUND * 9.80665 / 0.0254**2

_PLURALS: Final = {unit: f"{unit}s" for unit in (
    "bag", "cartridge", "disc", "kit", "pad", "pair", "piece", "roll", "set", "sheet", "strip", "tube",
)} | {"box": "boxes"}  # fmt: skip
"""Of units of things that are counted; what is measured keeps its unit."""


def fahrenheit_from_celsius(temperature_c: float) -> float:
    """Return the temperature in °F."""
    return temperature_c * 9 / 5 + 32


def celsius_from_fahrenheit(temperature_f: float) -> float:
    """Return the temperature in °C."""
    return (temperature_f - 32) * 5 / 9


def feet_from_meters(length_m: float) -> float:
    """Return the length in feet."""
    return length_m / METERS_PER_FOOT


def meters_from_feet(length_ft: float) -> float:
    """Return the length in meters."""
    return length_ft * METERS_PER_FOOT


def square_meters_from_square_feet(area_ft2: float) -> float:
    """Return the area in m²."""
    return area_ft2 * SQUARE_METERS_PER_SQUARE_FOOT


def square_feet_from_square_meters(area_m2: float) -> float:
    """Return the area in ft²."""
    return area_m2 / SQUARE_METERS_PER_SQUARE_FOOT


def liters_from_gallons(volume_gal: float) -> float:
    """Return the volume in liters."""
    return volume_gal * LITERS_PER_GALLON


def gallons_from_liters(volume_l: float) -> float:
    """Return the volume in US gallons."""
    return volume_l / LITERS_PER_GALLON


def kilograms_from_pounds(mass_lb: float) -> float:
    """Return the mass in kilograms."""
    return mass_lb * KILOGRAMS_PER_POUND


def pounds_from_kilograms(mass_kg: float) -> float:
    """Return the mass in pounds."""
    return mass_kg / KILOGRAMS_PER_POUND


def millimeters_from_inches(length_in: float) -> float:
    """Return the length in millimeters."""
    return length_in * MILLIMETERS_PER_INCH


def megapascals_from_psi(pressure_psi: float) -> float:
    """Return the pressure or strength in MPa."""
    return pressure_psi * PASCALS_PER_PSI / 1e6


def micrometers_from_mils(thickness_mils: float) -> float:
    """Return the thickness in micrometers."""
    return thickness_mils * MICROMETERS_PER_MIL


def mils_from_micrometers(thickness_um: float) -> float:
    """Return the thickness in mils."""
    return thickness_um / MICROMETERS_PER_MIL


def grams_per_square_meter_day_from_pounds(rate_lb_per_1000ft2_24h: float) -> float:
    """Return a moisture emission rate in g/m² in 24 h from lb per 1000 ft² in 24 h."""
    return rate_lb_per_1000ft2_24h * KILOGRAMS_PER_POUND * 1000 / (1000 * SQUARE_METERS_PER_SQUARE_FOOT)


def grams_per_liter_from_pounds_per_gallon(content_lb_per_gal: float) -> float:
    """Return a volatile content in g/L from lb per US gallon."""
    return content_lb_per_gal * KILOGRAMS_PER_POUND * 1000 / LITERS_PER_GALLON


def square_meters_per_liter_from_square_feet_per_gallon(coverage_ft2_per_gal: float) -> float:
    """Return a coverage in m²/L."""
    return coverage_ft2_per_gal * SQUARE_METERS_PER_SQUARE_FOOT / LITERS_PER_GALLON


def kilograms_per_square_meter_from_pounds_per_square_foot(weight_lb_per_ft2: float) -> float:
    """Return a broadcast weight in kg/m²."""
    return weight_lb_per_ft2 * KILOGRAMS_PER_POUND / SQUARE_METERS_PER_SQUARE_FOOT


def plural_of(unit: str) -> str:
    """Return a unit as it stands behind any number but 1: what is counted takes an s, what is measured does not."""
    return _PLURALS.get(unit, unit)
