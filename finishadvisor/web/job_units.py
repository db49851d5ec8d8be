"""Numbers of a form in the units of the job: shown in metric, typed in metric, kept in the unit of their fact."""

from dataclasses import dataclass
from typing import Final

from finishadvisor import units as exact
from finishadvisor.catalog.models import Fact
from finishadvisor.papers.wording import number_text


@dataclass(frozen=True)
class MetricUnit:
    """The metric unit that stands for a US one."""

    name: str
    each: float
    """How many of it make one of the US unit."""
    digits: int
    """The most decimals shown."""


METRIC_UNITS: Final = {
    "in": MetricUnit("mm", exact.MILLIMETERS_PER_INCH, 1),
    "ft": MetricUnit("m", exact.METERS_PER_FOOT, 2),
    "ft²": MetricUnit("m²", exact.SQUARE_METERS_PER_SQUARE_FOOT, 1),
    "psi": MetricUnit("MPa", exact.megapascals_from_psi(1.0), 2),
    "gal": MetricUnit("L", exact.LITERS_PER_GALLON, 2),
    "lb": MetricUnit("kg", exact.KILOGRAMS_PER_POUND, 2),
    "lb per 1000 ft² in 24 h": MetricUnit(
        "g/m² in 24 h", exact.grams_per_square_meter_day_from_pounds(1.0), 1
    ),
}  # fmt: skip


def unit_in(unit: str | None, units: str) -> str:
    """Return the unit in which a number is typed in such a job: "in" as "mm" where it is metric; "" where none."""
    metric = _metric(unit, units)
    return metric.name if metric else unit or ""


def number_in(value: float, unit: str | None, units: str) -> str:
    """Return a number as a form of such a job shows it, ready to be typed over."""
    metric = _metric(unit, units)
    return number_text(value * metric.each, metric.digits).replace(",", "") if metric else f"{value:g}"


def number_from(typed: float, unit: str | None, units: str) -> float:
    """Return a number typed in such a job in the unit that is kept."""
    metric = _metric(unit, units)
    return typed / metric.each if metric else typed


def answer_in(value: str | float | bool | None, fact: Fact, units: str) -> str:
    """Return an answer as a form of such a job shows it; "" where there is none."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else number_in(value, fact.unit, units)


def fact_in(fact: Fact, units: str) -> Fact:
    """Return a fact with its unit and its limits as a form of such a job tells them."""
    metric = _metric(fact.unit, units)
    if metric is None:
        return fact
    least, most = (None if end is None else round(end * metric.each, metric.digits) for end in (fact.least, fact.most))
    return fact.model_copy(update={"unit": metric.name, "least": least, "most": most})


def _metric(unit: str | None, units: str) -> MetricUnit | None:
    return METRIC_UNITS.get(unit or "") if units == "metric" else None
