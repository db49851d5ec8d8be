"""Quantities inside sentences, put into the units of the job.

The catalog's sentences and the notes of the plan give US units, since the trade's rules do. On a metric paper each
quantity in them is converted, and rounded no finer than the sentence was. Names of products and of standards are left
as they are: a roller of 18 in is sold under that name.
"""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache, partial
from typing import Any, Final

from finishadvisor import units as exact
from finishadvisor.papers.wording import number_text, plain_dates
from finishadvisor.records.whole import WholeJob

SENTENCES: Final = frozenset({
    "assumptions", "because", "before_the_pour", "care", "cautions", "changes", "check", "closes", "conditions", "do",
    "goes_wrong", "how", "look", "no", "none_fits", "notes", "only_if", "question", "sentence", "steps", "touch_up",
    "warnings", "why", "yes",
})  # fmt: skip
"""Fields of rows and records that hold sentences; names, titles, ids and what the user wrote are never touched."""

FINEST_CHANGE: Final = 0.025
"""A rounded number differs from the exact one by no more than this share: our choice, a handful of a foot."""
FINEST_CHANGE_OF_FIVES: Final = 0.02
"""The same where the last digit becomes 0 or 5, so that 93 does not become 95."""
MOST_DIGITS: Final = 6

_NUMBER: Final = r"(?:\d{1,3}(?:,\d{3})+|\d+/\d+|\d+)(?:\.\d+)?"
_SERIES: Final = (
    rf"(?<![\w.,/])(?:between {_NUMBER} and {_NUMBER}|-?{_NUMBER}(?:(?: to | or |–|-| ?[x×] ?)-?{_NUMBER})*)"
)
_ARTICLE: Final = r"\b(?P<article>[Ee]ach|[Ee]very|[Pp]er|[Aa]n?|[Oo]ne|[Hh]alf a)"
_NOT_IN: Final = r"(?! (?:the|an?|each|every|this|that|its|their|one|both|all|two|three|order|front|\d))"
_DIFFERENCE: Final = re.compile(
    r" (?:above the dew point|above dew point|warmer|colder|cooler|hotter|apart|an? (?:day|hour)|per (?:day|hour))\b"
)


@dataclass(frozen=True)
class Unit:
    """How one US unit is written in a sentence, and what it becomes."""

    pattern: str
    words: str
    """The metric unit in the sentence."""
    convert: Callable[[float], float]
    small: tuple[str, float] | None = None
    """The metric unit for amounts below one, and how many of it make one."""


def _times(factor: float) -> Callable[[float], float]:
    return lambda value: value * factor


EMISSION: Final = "(?:lb|pounds) ?(?:per |/)1,?000 ft² in 24 h"
UNITS: Final = (
    Unit(EMISSION, "g/m² in 24 h", exact.grams_per_square_meter_day_from_pounds),
    Unit("lb ?(?:per |/)ft²", "kg/m²", exact.kilograms_per_square_meter_from_pounds_per_square_foot),
    Unit("ft²/gal", "m²/L", exact.square_meters_per_liter_from_square_feet_per_gallon),
    Unit(
        "cubic feet per minute (?:for each|per) inch",
        "m³ per minute for each centimeter",
        _times(exact.CUBIC_METERS_PER_CUBIC_FOOT * 10 / exact.MILLIMETERS_PER_INCH),
    ),
    Unit("cubic f(?:ee|oo)t|ft³", "m³", _times(exact.CUBIC_METERS_PER_CUBIC_FOOT)),
    Unit("square f(?:ee|oo)t|ft²", "m²", exact.square_meters_from_square_feet, ("cm²", 1e4)),
    Unit("feet|foot|ft", "m", exact.meters_from_feet, ("cm", 100)),
    Unit(f"inch(?:es)?|in{_NOT_IN}", "mm", exact.millimeters_from_inches),
    Unit("mils?", "µm", exact.micrometers_from_mils),
    Unit("gallons?|gal", "L", exact.liters_from_gallons),
    Unit("pounds?|lbs?", "kg", exact.kilograms_from_pounds),
    Unit("ounces?|oz", "g", _times(exact.GRAMS_PER_OUNCE)),
    Unit("psi", "MPa", exact.megapascals_from_psi),
    Unit("mph", "km/h", _times(exact.KILOMETERS_PER_MILE)),
    Unit("perms?", "ng/(Pa·s·m²)", _times(exact.NANOGRAMS_PER_PASCAL_SECOND_SQUARE_METER_PER_PERM)),
)
_EMISSION_ALONE: Final = re.compile(rf"(?<!\d )(?<!\d)\b{EMISSION}")
_END: Final = r"(?![\w²³/])"
_DEGREES: Final = re.compile(rf"(?<![\d.])-?{_NUMBER}")
_TEMPERATURE: Final = re.compile(rf"(?P<series>{_SERIES}) ?°?F\b")


def in_units(text: str, units: str) -> str:
    """Return a sentence with its US quantities in the units of the job.

    Args:
        text: a sentence of the catalog or of a record.
        units: us or metric.
    """
    if units != "metric":
        return text
    text = _TEMPERATURE.sub(_celsius, text)
    text = _EMISSION_ALONE.sub("g/m² in 24 h", text)
    for unit, counted, each in _patterns():
        text = counted.sub(partial(_amounts, unit), text)
        text = text if each is None else each.sub(partial(_one, unit), text)
    return text


def said(text: str, units: str) -> str:
    """Return a sentence of a record as it is told: its quantities, dates and hours as such a job has them."""
    return plain_dates(in_units(text, units), units)


def in_job_units(whole: WholeJob) -> WholeJob:
    """Return a job whose catalog and results say what they say in the job's units; numbers and ids stay as they are."""
    if whole.job.units != "metric":
        return whole
    floors = tuple(
        replace(each, advice=_said(each.advice), works=_said(each.works), evenness=_said(each.evenness))
        for each in whole.floors
    )
    warnings = tuple(in_units(warning, "metric") for warning in whole.order_warnings)
    return replace(
        whole,
        catalog=_said(whole.catalog),
        floors=floors,
        advice=_said(whole.advice),
        order=_said(whole.order),
        plan=_said(whole.plan),
        order_warnings=warnings,
    )


# --- sentences of rows and records -----------------------------------------------------------------------------------


def _said(value: Any) -> Any:
    """Return a record, or what holds records, with its sentences converted; the same object where none changes."""
    if hasattr(value, "model_copy"):
        named = [(name, getattr(value, name)) for name in _names(type(value))]
        told = {name: _field(name, inner) for name, inner in named}
        changed = {name: told[name] for name, inner in named if told[name] is not inner}
        return value.model_copy(update=changed) if changed else value
    if isinstance(value, tuple):
        parts = tuple(_said(inner) for inner in value)
        return parts if any(new is not old for new, old in zip(parts, value, strict=True)) else value
    if isinstance(value, dict):
        rows = {key: _said(inner) for key, inner in value.items()}
        return rows if any(rows[key] is not inner for key, inner in value.items()) else value
    return value


def _names(kind: type) -> tuple[str, ...]:
    """Return the fields of a kind of row or record."""
    named = {name for part in kind.__mro__ for name in vars(part).get("__annotations__", ())}
    return tuple(sorted(name for name in named if not name.startswith(("_", "model_"))))


def _field(name: str, value: Any) -> Any:
    if name not in SENTENCES:
        return _said(value)
    if isinstance(value, str):
        told = in_units(value, "metric")
        return value if told == value else told
    if isinstance(value, tuple) and all(isinstance(part, str) for part in value):
        parts = tuple(in_units(part, "metric") for part in value)
        return value if parts == value else parts
    return _said(value)


# --- one quantity ----------------------------------------------------------------------------------------------------


@cache
def _patterns() -> tuple[tuple[Unit, re.Pattern[str], re.Pattern[str] | None], ...]:
    """Return each unit with how it follows numbers, and how it stands alone: "each inch", "a foot"."""
    made = []
    for unit in UNITS:
        counted = re.compile(rf"(?P<series>{_SERIES})[ -](?:{unit.pattern}){_END}")
        alone = [
            word for word in ("square foot", "foot", "inch", "gallon", "pound", "mil") if re.match(unit.pattern, word)
        ]
        each = re.compile(rf"{_ARTICLE} (?:{'|'.join(alone)}){_END}") if alone else None
        made.append((unit, counted, each))
    return tuple(made)


def _amounts(unit: Unit, found: re.Match[str]) -> str:
    numbers = re.findall(_NUMBER, found["series"])
    values = [unit.convert(_value(number)) for number in numbers]
    factor, words = _scale(values, unit)
    shown = iter(
        _rounded_text(value * factor, _half_digit(number)) for value, number in zip(values, numbers, strict=True)
    )
    series = re.sub(_NUMBER, lambda _: next(shown), found["series"])
    return f"{series} {words}"


def _one(unit: Unit, found: re.Match[str]) -> str:
    """Convert "each inch" and "a foot": the one is as exact as a word is."""
    article = found["article"]
    value = unit.convert(0.5 if article.lower() == "half a" else 1.0)
    factor, words = _scale([value], unit)
    amount = f"{_rounded_text(value * factor, FINEST_CHANGE)} {words}"
    return f"{article} {amount}" if article.lower() in {"each", "every", "per"} else amount


def _scale(values: list[float], unit: Unit) -> tuple[float, str]:
    if unit.small is not None and max(values) < 1:
        return unit.small[1], unit.small[0]
    return (0.001, "m") if unit.words == "mm" and max(values) >= 1000 else (1.0, unit.words)


def _celsius(found: re.Match[str]) -> str:
    text, series = found.string, found["series"]
    difference = re.search(r"(?:\bby (?:about )?|dew point; )$", text[: found.start()]) or _DIFFERENCE.match(
        text, found.end()
    )

    def shown(number: re.Match[str]) -> str:
        degrees_f = float(number[0])
        if difference:
            return _rounded_text(degrees_f * 5 / 9, _half_digit(number[0].lstrip("-")))
        decimals = len(number[0].partition(".")[2])
        return number_text(exact.celsius_from_fahrenheit(degrees_f), decimals)

    return f"{_DEGREES.sub(shown, series)} °C"


def _value(number: str) -> float:
    above, _, below = number.replace(",", "").partition("/")
    return float(above) / float(below or 1)


def _half_digit(number: str) -> float:
    """Return half of a number's last digit that counts, as a share of it: 0.5/8 of "8", 50/3500 of "3500"."""
    if "/" in number:
        return FINEST_CHANGE
    plain = number.replace(",", "")
    whole, _, decimals = plain.partition(".")
    last = 10.0 ** -len(decimals) if decimals else 10.0 ** (len(whole) - len(whole.rstrip("0")))
    value = float(plain)
    return last / 2 / value if value else 1.0


def _rounded_text(value: float, half_digit: float) -> str:
    """Return a converted number with no more digits than the share of half a digit of the original calls for."""
    if value == 0:
        return "0"
    largest = math.floor(math.log10(abs(value)))
    for power in range(largest, largest - MOST_DIGITS, -1):
        for step, most in ((10.0**power, FINEST_CHANGE), (5 * 10.0 ** (power - 1), FINEST_CHANGE_OF_FIVES)):
            rounded = round(value / step) * step
            if abs(rounded - value) <= min(most, half_digit) * abs(value):
                return number_text(rounded, max(0, 1 - power if step < 10.0**power else -power))
    return number_text(value, MOST_DIGITS)
