"""How numbers, money, times and verdicts are put into words: one voice for papers, page and command line."""

import datetime
import re
from collections.abc import Callable, Iterable
from typing import Final

from finishadvisor.records.advice import Verdict
from finishadvisor.records.base import Money
from finishadvisor.units import (
    INCHES_PER_FOOT,
    celsius_from_fahrenheit,
    kilograms_from_pounds,
    liters_from_gallons,
    meters_from_feet,
    micrometers_from_mils,
    millimeters_from_inches,
    plural_of,
    square_meters_from_square_feet,
)

Metric = tuple[Callable[[float], float], str, int]
"""A conversion from the US unit, the metric unit, and the most decimals shown."""
CURRENCY_SIGNS: Final = {"USD": "$", "CAD": "$", "AUD": "$", "NZD": "$", "EUR": "€", "GBP": "£"}

SHORT_SIDE_FT: Final = 2.0
LONG_SIDE_FT: Final = 10.0
"""A side below the first is told in inches or centimeters, and one below the second beside it too: our choice."""

_UNITS: Final = (
    "ft/gal", "ft²/gal", "ft²", "ft³", "ft", "in", "m²/L", "m²", "m³", "mm", "cm", "m", "µm", "mils", "mil", "gallons",
    "gallon", "gal", "lb/ft²", "lb/1000", "lb", "kg", "g/L", "g/m²", "mg/m³", "µg/m³", "g", "oz", "L", "psi", "MPa",
    "ppm", "°F", "°C", "F", "C", "%", "hours", "hour", "h", "minutes", "minute", "min", "days", "day", "weeks", "week",
    "months", "month", "years", "year", "AM", "PM", "grit",
)  # fmt: skip
_UNIT: Final = re.compile(rf"(?<=\d) (?=(?:{'|'.join(map(re.escape, _UNITS))})(?![\w²³/]))")
_DAY_OF_MONTH: Final = re.compile(r"\b(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) (\d{1,2})\b")
_MONTH_OF_DAY: Final = re.compile(r"\b(\d{1,2}) (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b")
_TIMES: Final = re.compile(r"(?<=\d) ([x×]) (?=\d)")
_PIECE: Final = 10
_CLOSE_CALL: Final = 6
"""Of 10 cases: up to so many, and the second choice deserves a look."""
_LONG_WORD: Final = re.compile(r"[^\s\-/\u200b]{21,}")
_BREAK: Final = "\N{ZERO WIDTH SPACE}"
_DATE: Final = re.compile(
    r"(?:\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?\b(?P<day>\d{4}-\d\d-\d\d)(?:[ T](?P<clock>\d\d:\d\d)\b)?"
)
_CLOCK: Final = re.compile(r"(?<![\d:.])([01]\d|2[0-3]):([0-5]\d)(?!\d|:\d| ?[AP]M)")
"""An hour as the records' sentences write it."""

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


def rest_on_dollars(amounts: Iterable[Money | None]) -> bool:
    """Return whether amounts in another currency rest on usual prices in US dollars, taken one for one."""
    return any(money is not None and "US dollars" in money.basis for money in amounts)


def money_range_text(money: Money | None, currency: str) -> str:
    """Return an expected amount with its range: "$1,240 ($1,050 to $1,600)"."""
    if money is None:
        return "not known"
    low, expected, high = (money_text(amount, currency) for amount in (money.low, money.expected, money.high))
    return expected if low == high else f"{expected} ({low} to {high})"


def number_text(value: float, digits: int = 1) -> str:
    """Return a number with at most that many decimals and thousands marked: "1,250", "6.7"."""
    text = f"{value:z,.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def measured_text(value: float, units: str, us: tuple[str, int], metric: Metric) -> str:
    """Return a quantity with its unit in the job's units.

    Args:
        value: the quantity in the US unit.
        units: us or metric.
        us: the US unit and the most decimals shown.
        metric: the conversion, the metric unit and the most decimals shown.
    """
    if units == "metric":
        convert, unit, digits = metric
        return f"{number_text(convert(value), digits)} {unit}"
    return f"{number_text(value, us[1])} {us[0]}"


def area_text(area_ft2: float, units: str) -> str:
    """Return an area in the job's units: "640 ft²" or "59.5 m²"; small ones with one decimal more: "0.4 ft²"."""
    digits = 1 if area_ft2 < 10 else 0
    return measured_text(area_ft2, units, ("ft²", digits), (square_meters_from_square_feet, "m²", digits + 1))


def length_text(length_ft: float, units: str) -> str:
    """Return a length in the job's units: "24.5 ft" or "7.47 m"."""
    return measured_text(length_ft, units, ("ft", 1), (meters_from_feet, "m", 2))


def sides_text(width_ft: float, length_ft: float, units: str) -> str:
    """Return the sides of a patch as they are read off a tape: "24.5 ft × 30 ft", "36 in × 20 in", "2 in × 30 ft".

    In inches or centimeters where the short side is below two feet, the long one too where it is no run of many feet.
    """
    in_feet_from = LONG_SIDE_FT if min(width_ft, length_ft) < SHORT_SIDE_FT else 0.0

    def told(side_ft: float) -> str:
        if side_ft >= in_feet_from:
            return length_text(side_ft, units)
        inches = side_ft * INCHES_PER_FOOT
        return measured_text(inches, units, ("in", 0), (lambda value: millimeters_from_inches(value) / 10, "cm", 0))

    return f"{told(width_ft)} × {told(length_ft)}"


def temperature_text(temperature_f: float, units: str) -> str:
    """Return a temperature in the job's units: "68 °F" or "20 °C"."""
    return measured_text(temperature_f, units, ("°F", 0), (celsius_from_fahrenheit, "°C", 0))


def film_text(thickness_mils: float, units: str) -> str:
    """Return a film thickness in the job's units: "8 mils" or "203 µm"."""
    return measured_text(thickness_mils, units, ("mils", 1), (micrometers_from_mils, "µm", 0))


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
    return f"{shown} {unit if shown == '1' else plural_of(unit)}"


def day_text(day: datetime.date, units: str = "us") -> str:
    """Return a day as a person says it: "Tue Sep 1, 2026", in a metric job "Tue 1 Sep 2026"."""
    return f"{day:%a} {day.day} {day:%b %Y}" if units == "metric" else f"{day:%a %b} {day.day}, {day:%Y}"


def moment_text(moment: datetime.datetime, units: str = "us") -> str:
    """Return a moment as a person says it: "Tue Sep 1, 9:30 AM", in a metric job "Tue 1 Sep, 09:30"."""
    day = f"{moment:%a} {moment.day} {moment:%b}" if units == "metric" else f"{moment:%a %b} {moment.day}"
    return f"{day}, {hour_text(moment, units)}"


def hour_text(clock: datetime.datetime | datetime.time, units: str = "us") -> str:
    """Return the time of a day: "9:30 AM", in a metric job "09:30"."""
    return f"{clock:%H:%M}" if units == "metric" else f"{clock.hour % 12 or 12}:{clock:%M %p}"


def clock_text(moment: datetime.datetime, after: datetime.datetime, units: str = "us") -> str:
    """Return a moment that follows another one: only the hour on the same day, "2:15 PM", else the day too."""
    return hour_text(moment, units) if moment.date() == after.date() else moment_text(moment, units)


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


def plain_dates(text: str, units: str = "us") -> str:
    """Return a sentence with its machine-written dates and hours as a person says them in such a job."""
    text = _DATE.sub(lambda found: _plain_date(found, units), text)
    return text if units == "metric" else _CLOCK.sub(_plain_clock, text)


def _plain_date(found: re.Match[str], units: str) -> str:
    try:
        day = datetime.date.fromisoformat(found["day"])
        clock = datetime.time.fromisoformat(found["clock"]) if found["clock"] else None
    except ValueError:
        return found[0]
    return day_text(day, units) if clock is None else moment_text(datetime.datetime.combine(day, clock), units)


def _plain_clock(found: re.Match[str]) -> str:
    return hour_text(datetime.time(int(found[1]), int(found[2])))


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
    text = _MONTH_OF_DAY.sub("\\1\N{NO-BREAK SPACE}\\2", text)
    text = _TIMES.sub("\N{NO-BREAK SPACE}\\1\N{NO-BREAK SPACE}", text)
    return _LONG_WORD.sub(lambda word: _BREAK.join(_pieces(word[0])), text)


def _pieces(word: str) -> list[str]:
    return [word[start : start + _PIECE] for start in range(0, len(word), _PIECE)]
