"""How the readings and small lengths of a floor are put on paper."""

from typing import Final

from finishadvisor.job.document import Floor, Reading
from finishadvisor.papers.wording import day_text, length_text, measured_text, number_text, temperature_text
from finishadvisor.units import (
    INCHES_PER_FOOT,
    grams_per_square_meter_day_from_pounds,
    megapascals_from_psi,
    millimeters_from_inches,
)

READING_NAMES: Final = {"slab-rh": "slab RH", "air-rh": "air RH", "ph": "pH", "rinse-water-ph": "rinse water pH"}
READING_FORMS: Final = {
    "slab-rh": "{} %",
    "air-rh": "{} %",
    "ph": "pH {}",
    "rinse-water-ph": "pH {}",
    "water-drop": "{} s",
    "scratch-hardness": "Mohs {}",
}


def reading_rows(floor: Floor, units: str) -> list[tuple[str, ...]]:
    """Return the readings of a floor, numbered as on the plan."""
    return [
        (
            str(number),
            READING_NAMES.get(reading.kind, reading.kind.replace("-", " ")),
            reading_text(reading, units),
            day_text(reading.date, units),
            place_text(reading, units),
            reading.note or "",
        )
        for number, reading in enumerate(floor.readings, start=1)
    ]


def reading_text(reading: Reading, units: str) -> str:
    """Return a reading's value with its unit, in the job's units."""
    value, kind = reading.value, reading.kind
    if isinstance(value, str):
        return value
    if kind == "calcium-chloride":
        return calcium_chloride_text(value, units)
    if kind == "pull-off":
        return pull_off_text(value, units)
    if kind in {"slab-temperature", "air-temperature"}:
        return temperature_text(value, units)
    return READING_FORMS.get(kind, "{}").format(number_text(value))


def calcium_chloride_text(rate: float, units: str) -> str:
    """Return a moisture emission rate in the job's units."""
    metric = (grams_per_square_meter_day_from_pounds, "g/m² in 24 h", 1)
    return measured_text(rate, units, ("lb/1000 ft² in 24 h", 1), metric)


def pull_off_text(strength_psi: float, units: str) -> str:
    """Return a pull-off strength in the job's units."""
    return measured_text(strength_psi, units, ("psi", 0), (megapascals_from_psi, "MPa", 2))


def small_length_text(length_ft: float, units: str) -> str:
    """Return a small length: inches, or millimeters where the job is metric."""
    return measured_text(length_ft * INCHES_PER_FOOT, units, ("in", 2), (millimeters_from_inches, "mm", 0))


def place_text(reading: Reading, units: str) -> str:
    """Return where a reading was taken, in words or by its place on the plan."""
    if reading.place is None or isinstance(reading.place, str):
        return reading.place or ""
    return f"x {length_text(reading.place[0], units)}, y {length_text(reading.place[1], units)}"
