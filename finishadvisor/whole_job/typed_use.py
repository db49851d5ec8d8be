"""What was really used of a material, from what a person types: amounts with or without their unit."""

import datetime
import math
import re
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from finishadvisor.errors import UsageError
from finishadvisor.job.document import Used
from finishadvisor.job.folder import open_job
from finishadvisor.units import (
    feet_from_meters,
    gallons_from_liters,
    pounds_from_kilograms,
    square_feet_from_square_meters,
)
from finishadvisor.whole_job.named import material_named
from finishadvisor.whole_job.opened import Opened, open_for

_METRIC: Final = {
    "ft²": ("m²", square_feet_from_square_meters),
    "gal": ("L", gallons_from_liters),
    "lb": ("kg", pounds_from_kilograms),
    "ft": ("m", feet_from_meters),
}
"""The metric unit that stands for a US one, and the way back from it."""
_SPELLINGS: Final = {
    "ft2": "ft²", "sq ft": "ft²", "sqft": "ft²", "m2": "m²", "sq m": "m²", "gallons": "gal", "gallon": "gal",
    "liters": "l", "liter": "l", "litres": "l", "pounds": "lb", "lbs": "lb",
}  # fmt: skip
_AMOUNT: Final = re.compile(r"([+-]?(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d+)?)\s*(\D.*)?")


def read_use(
    path: Path, *, material: str, layer: str, coats: int, area: str, amount: str, date: datetime.date, lot: str | None
) -> tuple[Used, Opened]:
    """Return what was used, in the units that are kept, and the job for which it was read.

    Args:
        path: the job folder or its job.toml.
        material: its id or name.
        layer: the layer it went into.
        coats: how many coats of it.
        area: the area covered, as typed; a number alone is ft², in a metric job m².
        amount: what was used, as typed; a number alone is in the material's unit, in a metric job its metric one.
        date: the day on which it was laid.
        lot: the lot number from the label.

    Raises:
        UsageError: an amount cannot be read, or is out of range.
        JobError: the job cannot be used, or there is no such material.
    """
    opened = open_for(path, date)
    units, id_ = opened.job.units, material_named(material, opened.catalog)
    unit = opened.catalog.materials[id_].unit
    try:
        used = Used(
            material=id_,
            layer=layer,
            coats=coats,
            area_ft2=read_amount("--area", area, "ft²", units),
            used=read_amount("--amount", amount, unit, units),
            date=date,
            lot=lot,
        )
    except ValidationError as error:
        raise UsageError(_line_of(error)) from None
    return used, opened


def read_area_ft2(path: Path, what: str, typed: str) -> float:
    """Return an area above zero; a number alone is ft², in a metric job m².

    Args:
        path: the job folder or its job.toml.
        what: how messages call the area.
        typed: as typed: "600", "600 ft2", "55 m2".

    Raises:
        UsageError: it is no area.
        JobError: the job cannot be used.
    """
    area_ft2 = read_amount(what, typed, "ft²", open_job(path).job.units)
    if area_ft2 <= 0:
        raise UsageError(f'{what}: "{typed}" is no area. Write what was done, above zero, or leave it out.')
    return area_ft2


def read_amount(what: str, typed: str, unit: str, units: str) -> float:
    """Return an amount in the unit that is kept, from a number with or without its unit.

    Args:
        what: how messages call the amount.
        typed: as typed: "12.5", "1,200", "12.5 gal", "47 L".
        unit: the unit that is kept.
        units: "us" or "metric": what a number alone means.

    Raises:
        UsageError: it is no number, is below zero, or has another unit.
    """
    metric, from_metric = _METRIC.get(unit, (unit, float))
    found = _AMOUNT.fullmatch(typed.strip())
    given = (found[2] or (metric if units == "metric" else unit)).casefold() if found else ""
    given = _SPELLINGS.get(given, given)
    number = float(found[1].replace(",", "")) if found and found[1].strip("+-") else math.nan
    if number >= 0 and given.rstrip("s") in {unit, f"{unit}s"}:
        return number
    if number >= 0 and given == metric.casefold():
        return from_metric(number)
    examples = f"12.5 {unit}" + (f" or 12.5 {metric}" if metric != unit else "")
    raise UsageError(f'{what}: "{typed}" is not an amount of zero or more. Write it in quotes, like "{examples}".')


def _line_of(error: ValidationError) -> str:
    mistake = error.errors()[0]
    key = str(mistake["loc"][0])
    option = {"area_ft2": "area", "used": "amount", "date": "on"}.get(key, key)
    reason = mistake["msg"].removeprefix("Value error, ")
    return f"--{option}: {reason[:1].lower()}{reason[1:].rstrip('.')}."
