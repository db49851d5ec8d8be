"""How numbers, money, times and verdicts are put into words: one voice for papers, page and command line."""

import datetime
import re
from typing import Final

from finishadvisor.records.advice import Verdict
from finishadvisor.records.base import Money
from finishadvisor.units import (
    celsius_from_fahrenheit,
    kilograms_from_pounds,
    liters_from_gallons,
    meters_from_feet,
    micrometers_from_mils,
    square_meters_from_square_feet,
)

CURRENCY_SIGNS: Final = {"USD": "$", "CAD": "$", "AUD": "$", "NZD": "$", "EUR": "€", "GBP": "£"}

COUNTED_UNITS: Final = {"pair", "piece", "roll", "set", "box", "bag", "sheet", "tube", "kit", "pad", "disc"}
"""Units of things that are counted: they take an s."""

_UNITS: Final = (
    "ft/gal", "ft²/gal", "ft²", "ft³", "ft", "in", "m²/L", "m²", "m³", "mm", "cm", "m", "µm", "mils", "mil", "gallons",
    "gallon", "gal", "lb/ft²", "lb/1000", "lb", "kg", "g/L", "g/m²", "mg/m³", "µg/m³", "g", "oz", "L", "psi", "MPa",
    "ppm", "°F", "°C", "F", "C", "%", "hours", "hour", "h", "minutes", "minute", "min", "days", "day", "weeks", "week",
    "months", "month", "years", "year", "AM", "PM", "grit",
)  # fmt: skip
_UNIT: Final = re.compile(rf"(?<=\d) (?=(?:{'|'.join(map(re.escape, _UNITS))})(?![\w²³/]))")
_DAY_OF_MONTH: Final = re.compile(r"\b(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) (\d{1,2})\b")
_TIMES: Final = re.compile(r"(?<=\d) ([x×]) (?=\d)")
_PIECE: Final = 10
_CLOSE_CALL: Final = 6
"""Of 10 cases: up to so many, and the second choice deserves a look."""
_LONG_WORD: Final = re.compile(r"[^\s\-/\u200b]{21,}")
_BREAK: Final = "\N{ZERO WIDTH SPACE}"
_DATE: Final = re.compile(
    r"(?:\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?\b(?P<day>\d{4}-\d\d-\d\d)(?:[ T](?P<clock>\d\d:\d\d)\b)?"
)

VERDICT_WORDS: Final[dict[Verdict, str]] = {
    "suits": "suits",
    "suits-if": "suits if",
    "does-not-suit": "does not suit",
    "cannot-tell": "cannot tell yet",
}

VERDICT_MARKS: Final[dict[Verdict, str]] = {"suits": "●", "suits-if": "◐", "does-not-suit": "✕", "cannot-tell": "○"}
"""Marks of different weight (solid, half, struck, outline) that read in gray; always printed with the word."""


def money_text(amount: float, currency: str) -> str:
    """Return a whole amount with its currency: "$1,240", or "1,240 CHF" where no sign is known."""
    rounded = round(amount)
    digits = f"{abs(rounded):,}"
    minus = "-" if rounded < 0 else ""
    sign = CURRENCY_SIGNS.get(currency)
    return f"{minus}{sign}{digits}" if sign else f"{minus}{digits} {currency}"


def money_range_text(money: Money | None, currency: str) -> str:
    """Return an expected amount with its range: "$1,240 ($1,050 to $1,600)"."""
    if money is None:
        return "not known"
    low, expected, high = (money_text(amount, currency) for amount in (money.low, money.expected, money.high))
    return expected if low == high else f"{expected} ({low} to {high})"


def number_text(value: float, digits: int = 1) -> str:
    """Return a number with at most that many decimals and thousands marked: "1,250", "6.7"."""
    text = f"{value:,.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def area_text(area_ft2: float, units: str) -> str:
    """Return an area in the job's units: "640 ft²" or "59.5 m²"."""
    if units == "metric":
        return f"{number_text(square_meters_from_square_feet(area_ft2))} m²"
    return f"{number_text(area_ft2, 0)} ft²"


def length_text(length_ft: float, units: str) -> str:
    """Return a length in the job's units: "24.5 ft" or "7.47 m"."""
    if units == "metric":
        return f"{number_text(meters_from_feet(length_ft), 2)} m"
    return f"{number_text(length_ft)} ft"


def temperature_text(temperature_f: float, units: str) -> str:
    """Return a temperature in the job's units: "68 °F" or "20 °C"."""
    if units == "metric":
        return f"{celsius_from_fahrenheit(temperature_f):.0f} °C"
    return f"{temperature_f:.0f} °F"


def film_text(thickness_mils: float, units: str) -> str:
    """Return a film thickness in the job's units: "8 mils" or "203 µm"."""
    if units == "metric":
        return f"{micrometers_from_mils(thickness_mils):.0f} µm"
    return f"{number_text(thickness_mils)} mils"


def quantity_text(quantity: float, unit: str, units: str) -> str:
    """Return an amount of material in the job's units; gallons and pounds become liters and kilograms if metric."""
    if units == "metric":
        converted = {
            "gal": (liters_from_gallons, "L"),
            "lb": (kilograms_from_pounds, "kg"),
            "ft": (meters_from_feet, "m"),
        }
        if unit in converted:
            convert, metric_unit = converted[unit]
            return f"{number_text(convert(quantity), 1)} {metric_unit}"
    shown = number_text(quantity, 2 if quantity < 10 else 1)
    return f"{shown} {unit}{'s' if unit in COUNTED_UNITS and shown != '1' else ''}"


def day_text(day: datetime.date) -> str:
    """Return a day as a person says it: "Tue Sep 1, 2026"."""
    return f"{day:%a %b} {day.day}, {day:%Y}"


def moment_text(moment: datetime.datetime) -> str:
    """Return a moment as a person says it: "Tue Sep 1, 9:30 AM"."""
    return f"{moment:%a %b} {moment.day}, {moment.hour % 12 or 12}:{moment:%M %p}"


def day_and_moment_text(moment: datetime.datetime) -> str:
    """Return a moment with its year left out and the weekday kept short: "Sep 1, 9:30 AM"."""
    return f"{moment:%b} {moment.day}, {moment.hour % 12 or 12}:{moment:%M %p}"


def hours_text(hours: float) -> str:
    """Return a span of time: "45 min", "6 h", "2.5 days"."""
    if hours < 1:
        return f"{hours * 60:.0f} min"
    return f"{number_text(hours)} h" if hours < 48 else f"{number_text(hours / 24)} days"


def percent_text(share: float, digits: int = 0) -> str:
    """Return a share of one in percent: "32 %"; what is not quite nothing reads "below 1 %"."""
    least = 10**-digits
    if 0 < share * 100 < least / 2:
        return f"below {least:g} %"
    return f"{number_text(share * 100, digits)} %"


def plain_dates(text: str) -> str:
    """Return a sentence with its machine-written dates as a person says them."""
    return _DATE.sub(_plain_date, text)


def _plain_date(found: re.Match[str]) -> str:
    try:
        day = datetime.date.fromisoformat(found["day"])
        clock = datetime.time.fromisoformat(found["clock"]) if found["clock"] else None
    except ValueError:
        return found[0]
    return day_text(day) if clock is None else moment_text(datetime.datetime.combine(day, clock))


def sentence(text: str) -> str:
    """Return a text that begins with a capital letter and ends with a stop."""
    text = text.strip()
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?", ":")) else f"{text}."


def counted(number: int, one: str, many: str | None = None) -> str:
    """Return a number of things: "1 floor", "3 floors"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def plain_words(id_: str) -> str:
    """Return a value of a closed list as a reader says it: "slightly-uneven" as "slightly uneven"."""
    return id_.replace("-", " ").replace("_", " ")


def stability_words(share: float) -> str:
    """Return how far a client may rely on the first place.

    Args:
        share: of the draws in which it came out first again, 0 to 1.
    """
    tenths = round(share * 10)
    often = {0: "in hardly any case", 10: "in almost every case"}.get(tenths, f"in about {tenths} of 10 cases")
    close = " It is a close call: look at the second choice too." if tenths <= _CLOSE_CALL else ""
    return (
        "If prices, lives and what counts most turn out otherwise, within their usual ranges, the first choice stays "
        f"first {often if share < 1 else 'in every case tried'}.{close}"
    )


def tied(text: str) -> str:
    """Return a text whose numbers stay on one line with their units, and whose longest words may be broken."""
    text = _UNIT.sub("\N{NO-BREAK SPACE}", text)
    text = _DAY_OF_MONTH.sub("\\1\N{NO-BREAK SPACE}\\2", text)
    text = _TIMES.sub("\N{NO-BREAK SPACE}\\1\N{NO-BREAK SPACE}", text)
    return _LONG_WORD.sub(lambda word: _BREAK.join(_pieces(word[0])), text)


def _pieces(word: str) -> list[str]:
    return [word[start : start + _PIECE] for start in range(0, len(word), _PIECE)]


def clock_text(moment: datetime.datetime, after: datetime.datetime) -> str:
    """Return a moment that follows another one: only the hour on the same day, "2:15 PM", else the day too."""
    text = moment_text(moment)
    return text.split(", ", 1)[1] if moment.date() == after.date() else text
