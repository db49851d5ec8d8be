"""Lengths and temperatures as people type them, and lengths as the trade writes them."""

import math
import re
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final

from finishadvisor.errors import EntryError
from finishadvisor.job.entries import shown
from finishadvisor.units import INCHES_PER_FOOT, METERS_PER_FOOT, fahrenheit_from_celsius, feet_from_meters

if TYPE_CHECKING:
    from pydantic import ValidationInfo

LONGEST_FT: Final = 10_000.0
"""Longer than any floor: beyond it an entry is a slip of the finger or the unit."""
COLDEST_F: Final = -80.0
HOTTEST_F: Final = 300.0

_NUMBER = r"(?:\d+(?:\.\d*)?|\.\d+)"
_FRACTION = rf"(?:\d+[\s-]+\d+\s*/\s*\d+|\d+\s*/\s*\d+|{_NUMBER})"
_FEET_AND_INCHES = re.compile(
    rf"(?P<feet>{_FRACTION})\s*(?:'|feet|foot|ft\.?)\s*(?:[\s,-]*(?P<inches>{_FRACTION})\s*(?:\"|inches|inch|in\.?)?)?"
)
_INCHES_ALONE = re.compile(rf"(?P<inches>{_FRACTION})\s*(?:\"|inches|inch|in\.?)")
_METRIC = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>mm|cm|m|meters?|metres?)")
_BARE = re.compile(_NUMBER)
_UNITLESS = re.compile(_FRACTION)
_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)(?!\d{3}(?!\d))")
"""The comma of "6,1 m". Before three digits it may as well part thousands, so "1,200 mm" stays refused."""
_TEMPERATURE = re.compile(rf"(?P<number>[+-]?{_NUMBER})\s*(?:°|º|deg\.?|degrees)?\s*(?P<unit>[fc]?)")

_METERS: Final = {"mm": 0.001, "cm": 0.01}
_MARKS: Final = str.maketrans({"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "−": "-", "⁄": "/"})
_VULGAR: Final = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_EXAMPLES: Final = 'Write it like "24ft 6in", "24.5 ft", "7.5 m", "750 cm" or "3in".'


def read_length_ft(value: Any, info: "ValidationInfo | None" = None) -> float:
    """Return a length above zero in feet, from a number or a text with its unit.

    Args:
        value: a text such as `24' 6 1/2"`, `24ft 6in`, `7.5 m`; or a number, in feet, or in meters in a metric job.
        info: the validation whose context says whether the job is `metric`; left out: US units.

    Raises:
        EntryError: the value is no length, or is not above zero, or is longer than any floor.
    """
    length_ft = _signed_feet(value, metric=is_metric(info))
    if length_ft <= 0:
        raise EntryError(f"{shown(value)} is not a length above zero. {_EXAMPLES}")
    return length_ft


def read_length_or_zero_ft(value: Any, info: "ValidationInfo | None" = None) -> float:
    """Return a length of zero or more in feet, typed as in `read_length_ft`.

    Raises:
        EntryError: the value is no length, is below zero, or is longer than any floor.
    """
    length_ft = _signed_feet(value, metric=is_metric(info))
    if length_ft < 0:
        raise EntryError(f"{shown(value)} is below zero; a length of zero or more is needed. {_EXAMPLES}")
    return length_ft


def read_place_ft(value: Any, info: "ValidationInfo | None" = None) -> float:
    """Return one coordinate on the plan in feet; it may be zero or negative. Typed as in `read_length_ft`.

    Raises:
        EntryError: the value is no length, or is farther off than any floor is long.
    """
    return _signed_feet(value, metric=is_metric(info))


def read_small_length_ft(value: Any, info: "ValidationInfo | None" = None) -> float:
    """Return a length that the trade states in inches (a slump, a joint's width), in feet.

    A bare number in a job file is refused: 4 would be 4 feet where 4 inches was meant.

    Raises:
        EntryError: the value is no length above zero, has no unit, or is 4 ft or more.
    """
    in_file = info is not None and info.context is not None
    if in_file and (isinstance(value, int | float) or (isinstance(value, str) and _UNITLESS.fullmatch(value.strip()))):
        raise EntryError(f'{shown(value)} has no unit. Write the unit, for example "4in" or "100 mm".')
    length_ft = read_length_ft(value, info)
    if length_ft >= 4:
        raise EntryError(f'{shown(value)} is too long here; less than 4 ft is needed, for example "4in" or "100 mm".')
    return length_ft


def read_size_ft(value: Any, info: "ValidationInfo | None" = None) -> Any:
    """Return first and second side in feet from "20ft x 15ft"; anything but a text is handed back as it came.

    Raises:
        EntryError: the text is not two lengths above zero.
    """
    if not isinstance(value, str):
        return value
    sides = value.lower().replace("×", "x").split("x")
    if len(sides) != 2:
        raise EntryError(f'{shown(value)} is not two lengths. Write first side x second side, like "20ft x 15ft".')
    return tuple(read_length_ft(side, info) for side in sides)


def read_temperature_f(value: Any, info: "ValidationInfo | None" = None) -> float:
    """Return a temperature in °F, from a number or a text with its unit.

    Args:
        value: a text such as "72F" or "22 °C"; or a number, in °F, or in °C in a metric job.
        info: the validation whose context says whether the job is `metric`; left out: US units.

    Raises:
        EntryError: the value is no temperature, or lies outside -80 to 300 °F.
    """
    if isinstance(value, str):
        found = _TEMPERATURE.fullmatch(value.strip().lower().translate(_MARKS))
        number, unit = (float(found["number"]), found["unit"]) if found else (math.nan, "")
    else:
        number, unit = _plain_number(value), ""
    if math.isnan(number):
        raise EntryError(f'{shown(value)} is not a temperature. Write it like "72F" or "22 °C".')
    in_celsius = unit == "c" or (not unit and is_metric(info))
    temperature_f = fahrenheit_from_celsius(number) if in_celsius else number
    if not COLDEST_F <= temperature_f <= HOTTEST_F:
        raise EntryError(
            f"{shown(value)} is {temperature_f:.0f} °F; a temperature between {COLDEST_F:.0f} and {HOTTEST_F:.0f} °F "
            'is needed. Write the unit with it: "72F" or "22 °C".'
        )
    return temperature_f


def is_metric(info: "ValidationInfo | None") -> bool:
    """Return whether bare numbers are meters and °C."""
    return bool(info is not None and info.context and info.context.get("metric"))


def write_length(length_ft: float, *, metric: bool = False) -> str:
    """Return a length as the trade writes it, to the nearest 1/16 in or 1 mm: `24' 6 1/2"`, `7.468 m`."""
    if metric:
        return f"{length_ft * METERS_PER_FOOT:.3f}".rstrip("0").rstrip(".") + " m"
    sign = "-" if length_ft < 0 else ""
    sixteenths = round(abs(length_ft) * INCHES_PER_FOOT * 16)
    feet, rest = divmod(sixteenths, 12 * 16)
    inches, part = divmod(rest, 16)
    words = [f"{feet}'"] if feet or not rest else []
    if rest:
        fraction = str(Fraction(part, 16)) if part else ""
        words.append(" ".join(filter(None, [str(inches) if inches or not fraction else "", fraction])) + '"')
    return sign + " ".join(words)


def _plain_number(value: Any) -> float:
    """Return a number as it is, and NaN for whatever is no finite number."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return math.nan
    try:
        return float(value) if math.isfinite(value) else math.nan
    except OverflowError:
        return math.nan


def _signed_feet(value: Any, *, metric: bool) -> float:
    """Return the length in feet, of either sign.

    Raises:
        EntryError: the value is no length, or is longer than any floor.
    """
    if isinstance(value, str):
        length_ft = _text_in_feet(value, metric=metric)
    else:
        length_ft = _in_feet(_plain_number(value), metric=metric)
    if math.isnan(length_ft):
        raise EntryError(f"{shown(value)} is not a length. {_EXAMPLES}")
    if abs(length_ft) > LONGEST_FT:
        raise EntryError(f"{shown(value)} is longer than {LONGEST_FT:,.0f} ft. Check the number and its unit.")
    return length_ft


def _in_feet(number: float, *, metric: bool) -> float:
    return feet_from_meters(number) if metric else number


def _text_in_feet(text: str, *, metric: bool) -> float:
    """Return the length that a text states in feet, NaN when it states none."""
    if len(text) > 60:
        return math.nan
    plain = text.strip().lower().translate(_MARKS).replace("''", '"')
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}")
    factor = -1.0 if plain.startswith("-") else 1.0
    plain = plain.removeprefix("-").strip()
    with_point = _DECIMAL_COMMA.sub(".", plain)
    if found := _METRIC.fullmatch(with_point):
        return factor * feet_from_meters(float(found["number"]) * _METERS.get(found["unit"], 1.0))
    if found := _FEET_AND_INCHES.fullmatch(plain):
        return factor * _feet_and_inches(_number_and_fraction(found["feet"]), found["inches"])
    if found := _INCHES_ALONE.fullmatch(plain):
        return factor * _number_and_fraction(found["inches"]) / INCHES_PER_FOOT
    bare = with_point if metric else plain
    if _BARE.fullmatch(bare):
        return factor * _in_feet(float(bare), metric=metric)
    return math.nan


def _feet_and_inches(feet: float, inches_text: str | None) -> float:
    """Return feet; inches behind feet must be under 12, and the feet whole, else the entry is a slip."""
    if inches_text is None:
        return feet
    inches = _number_and_fraction(inches_text)
    if inches >= INCHES_PER_FOOT or not feet.is_integer():
        return math.nan
    return feet + inches / INCHES_PER_FOOT


def _number_and_fraction(text: str) -> float:
    """Return the value of "6", "6.5", "1/2" or "6 1/2"; NaN for a fraction over zero."""
    parts = [part for part in re.split(r"[\s-]+(?=\d+\s*/)", text.strip()) if part]
    try:
        return sum(float(Fraction(part.replace(" ", ""))) if "/" in part else float(part) for part in parts)
    except ZeroDivisionError:
        return math.nan
