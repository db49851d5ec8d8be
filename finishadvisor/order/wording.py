"""One line of arithmetic for each need, in the job's units, that a person can redo on a calculator."""

from dataclasses import dataclass
from typing import Literal

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.supplies import Material
from finishadvisor.formulas.film import COVERAGE_FT2_PER_GAL_AT_ONE_MIL
from finishadvisor.order.amounts import (
    fill_mils,
    film_figures,
    first_coat_factor,
    plain_figure,
    spread_rate,
)
from finishadvisor.records.works import FloorWorks, MaterialUse
from finishadvisor.units import (
    KILOGRAMS_PER_POUND,
    LITERS_PER_GALLON,
    METERS_PER_FOOT,
    MICROMETERS_PER_MIL,
    SQUARE_METERS_PER_SQUARE_FOOT,
    plural_of,
)

Units = Literal["us", "metric"]


@dataclass(frozen=True)
class Words:
    """Names and factors of the units that the arithmetic is printed in."""

    area: str
    area_factor: float
    length: str
    length_factor: float
    space: str
    space_factor: float
    film: str
    film_factor: float
    film_constant: float
    """Area that one unit of volume covers at one unit of film."""
    amounts: dict[str, tuple[str, float]]
    """Units of amount that have another name here, with their factor."""

    def amount(self, unit: str) -> tuple[str, float]:
        """Return the name of a material's unit here, and how many of it make one."""
        return self.amounts.get(unit, (unit, 1.0))

    def extent(self, unit: str) -> tuple[str, float]:
        """Return the name of an extent's unit here, and how many of it make one."""
        return {
            "ft²": (self.area, self.area_factor),
            "ft": (self.length, self.length_factor),
            "ft³": (self.space, self.space_factor),
        }.get(unit, (unit, 1.0))


WORDS: dict[Units, Words] = {
    "us": Words("ft²", 1, "ft", 1, "ft³", 1, "mils", 1, COVERAGE_FT2_PER_GAL_AT_ONE_MIL, {}),
    "metric": Words(
        "m²",
        SQUARE_METERS_PER_SQUARE_FOOT,
        "m",
        METERS_PER_FOOT,
        "m³",
        METERS_PER_FOOT**3,
        "µm",
        MICROMETERS_PER_MIL,
        1000.0,
        {"gal": ("L", LITERS_PER_GALLON), "lb": ("kg", KILOGRAMS_PER_POUND), "ft": ("m", METERS_PER_FOOT)},
    ),
}


def figure(value: float) -> str:
    """Return a number with five significant digits, no trailing zeros."""
    return f"{value:,.5g}" if abs(value) < 100_000 else f"{value:,.0f}"


def extent_words(quantity: float, extra: float, unit: str, words: Words) -> str:
    """Return the extent: "500 ft²", or "(500 + 16 for the mock-up) ft²"."""
    name, factor = words.extent(unit)
    if not extra:
        return f"{figure(quantity * factor)} {name}"
    return f"({figure(quantity * factor)} + {figure(extra * factor)} mock-up) {name}"


def coat_words(use: MaterialUse, coats: int, works: FloorWorks, catalog: Catalog, words: Words) -> str:
    """Return the arithmetic behind the extent: " ÷ 250 ft²/gal × 2 coats ÷ (1 − 0.08 loss)"."""
    material = catalog.materials[use.material]
    match use.basis:
        case "film":
            main = _film_words(use, works, material, words)
        case "rate":
            main = _rate_words(works, material, words)
        case _:
            main = _plain_words(material, words)
    factor = first_coat_factor(use, material)
    first = f" × {figure(factor)} first coat" if factor != 1 else ""
    times = f" × {coats} {'coats' if use.layer else 'rounds'}" if coats > 1 else ""
    loss = material.loss.expected
    return main + first + times + (f" ÷ (1 − {figure(loss)} loss)" if loss else "")


def _film_words(use: MaterialUse, works: FloorWorks, material: Material, words: Words) -> str:
    solids, film = film_figures(material)
    fill = fill_mils(use, works)
    wet = f"{figure(film.expected * words.film_factor)} {words.film} ÷ {figure(solids.expected)} solids"
    if fill:
        wet += f" + {figure(fill * words.film_factor)} {words.film} profile"
    return f" ÷ {figure(words.film_constant)} × ({wet})"


def _rate_words(works: FloorWorks, material: Material, words: Words) -> str:
    unit, amount_factor = words.amount(material.unit)
    rate = spread_rate(material, works).expected * words.area_factor / amount_factor
    return f" ÷ {figure(rate)} {words.area}/{unit}"


def _plain_words(material: Material, words: Words) -> str:
    unit, amount_factor = words.amount(material.unit)
    if material.basis == "count":
        each = figure(plain_figure(material).expected)
        return f" × {each} {unit if each == '1' else plural_of(unit)} each"
    extent, extent_factor = {
        "weight": (words.area, words.area_factor),
        "length": (words.length, words.length_factor),
        "volume": (words.space, words.space_factor),
    }[material.basis]
    return f" × {figure(plain_figure(material).expected * amount_factor / extent_factor)} {unit}/{extent}"
