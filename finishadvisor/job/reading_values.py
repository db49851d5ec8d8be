"""The value of a reading by its kind: its unit, its range, the words it takes.

The ranges are what the instrument or the scale can show at all, not limits of any finish.
"""

import re
from dataclasses import dataclass
from typing import Any, Final

from pydantic import ValidationInfo

from finishadvisor.errors import EntryError
from finishadvisor.job.entries import shown
from finishadvisor.job.lengths import is_metric, read_temperature_f
from finishadvisor.units import PASCALS_PER_PSI, grams_per_square_meter_day_from_pounds

_PSI_PER_MPA: Final = 1e6 / PASCALS_PER_PSI
_POUNDS_PER_GRAM_RATE: Final = 1 / grams_per_square_meter_day_from_pounds(1.0)
_VALUE = re.compile(r"(?P<number>\d+(?:\.\d*)?|\.\d+)\s*(?P<unit>\D.*)?")


@dataclass(frozen=True)
class Scale:
    """A numeric reading: its least and greatest value in `unit`, and other units with the factor to `unit`."""

    unit: str
    least: float
    most: float
    others: tuple[tuple[str, float], ...] = ()
    """The first of them is the unit of a bare number in a metric job."""


_PERCENT: Final = Scale("%", 1, 100)
_PH: Final = Scale("pH", 0, 14)
SCALES: Final = {
    "slab-rh": _PERCENT,
    "air-rh": _PERCENT,
    "calcium-chloride": Scale("lb/1000 ft2", 0, 50, (("g/m2", _POUNDS_PER_GRAM_RATE),)),
    "ph": _PH,
    "rinse-water-ph": _PH,
    "water-drop": Scale("s", 0, 86_400, (("min", 60.0),)),
    "scratch-hardness": Scale("Mohs", 1, 10),
    "pull-off": Scale("psi", 0, 5_000, (("MPa", _PSI_PER_MPA),)),
}
WORDS: Final = {"sheet-test": ("dry", "damp"), "sounding": ("solid", "hollow")}
METRIC_BARE: Final = frozenset({"calcium-chloride", "pull-off"})
"""Kinds whose bare number in a metric job is in the metric unit."""


def read_reading_value(kind: str, value: Any, info: ValidationInfo | None = None) -> float | str:
    """Return a reading's value in the unit used inside, or its word.

    Args:
        kind: the kind of reading.
        value: a number, a text with its unit, or a word.
        info: the validation whose context says whether the job is `metric`.

    Raises:
        EntryError: the value is not of this kind, or outside what can be read at all.
    """
    if kind in WORDS:
        return _word(kind, value)
    if kind not in SCALES:
        return read_temperature_f(value, info)
    scale = SCALES[kind]
    number = _in_unit(scale, value, metric=is_metric(info) and kind in METRIC_BARE)
    if number is None:
        units = " or ".join([scale.unit, *(unit for unit, _ in scale.others)])
        raise EntryError(f"{shown(value)} is not a reading of {kind}. Write a number in {units}.")
    if not scale.least <= number <= scale.most:
        raise EntryError(
            f"{shown(value)} cannot be a reading of {kind}; it lies between {scale.least:g} and {scale.most:g} "
            f"{scale.unit}. Check the number and its unit."
        )
    return number


def _word(kind: str, value: Any) -> str:
    """Return the word of a look-and-see test.

    Raises:
        EntryError: it is none of the words that this test takes.
    """
    if value not in WORDS[kind]:
        allowed = " or ".join(f'"{word}"' for word in WORDS[kind])
        raise EntryError(f"{shown(value)} is not a result of {kind}. Write {allowed}.")
    return str(value)


def _in_unit(scale: Scale, value: Any, *, metric: bool) -> float | None:
    """Return the number in the scale's own unit, None when it is no number in a unit of this scale."""
    bare_factor = scale.others[0][1] if metric else 1.0
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value) * bare_factor if abs(value) < 1e9 else None
    found = _VALUE.fullmatch(value.strip()) if isinstance(value, str) and len(value) < 60 else None
    if found is None:
        return None
    if found["unit"] is None:
        return float(found["number"]) * bare_factor
    factors = {unit.lower(): factor for unit, factor in ((scale.unit, 1.0), *scale.others)}
    factor = factors.get(found["unit"].strip().lower().replace("²", "2"))
    return None if factor is None else float(found["number"]) * factor
