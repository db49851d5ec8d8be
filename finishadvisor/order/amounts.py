"""What one coat takes per unit of extent, and everything that makes it uncertain.

Amounts are lognormal. A catalog range is read as the 10th and 90th percentile around its expected value, so that its
width on the log scale gives the standard deviation. What makes an amount uncertain is a sum of named causes on the log
scale, each a standard normal times its weight: needs that share a cause go up and down together.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final, TypeVar

from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.row import Range
from finishadvisor.catalog.supplies import Material, SpreadRates
from finishadvisor.errors import CatalogError
from finishadvisor.formulas.film import film_need_gal, rate_need, spread_of_wet_film_ft2_per_gal
from finishadvisor.records.works import Band, FloorWorks, MaterialUse
from finishadvisor.works.limits import limit

Cause = tuple[str, ...]
"""A named cause of uncertainty: ("floor", name), ("product", material), ("hand",), ..."""

T = TypeVar("T")

Z90: Final = 1.2815515655446004
"""90th percentile of the standard normal."""


@dataclass(frozen=True)
class Amount:
    """Units of a material per ft², ft, ft³ or piece, of one coat, with its causes of uncertainty on the log scale."""

    median: float
    weights: Mapping[Cause, float] = field(default_factory=dict)
    zone_sd: float = 0.0
    """Standard deviation of the log amount from zone to zone of the floor."""

    @property
    def log_sd(self) -> float:
        """Standard deviation of the log amount over a whole floor, the differences between zones aside."""
        return math.sqrt(sum(weight**2 for weight in self.weights.values()))


def counted_amount(use: MaterialUse, works: FloorWorks, catalog: Catalog) -> tuple[Amount, ...]:
    """Return an amount that a counting rule or the size of the crew settles: there is no chance in it."""
    return (Amount(amount_of(use, works, catalog).median),)


def log_sd_of(band: Range | Band) -> float:
    """Return the standard deviation of the log of a quantity whose 10th and 90th percentiles are given."""
    if band.low == band.high:
        return 0.0
    return math.log(band.high / band.low) / (2 * Z90)


def yield_log_sd(loss: Range) -> float:
    """Return the standard deviation of the log of the share that reaches the floor."""
    return math.log((1 - loss.low) / (1 - loss.high)) / (2 * Z90)


def amount_of(use: MaterialUse, works: FloorWorks, catalog: Catalog) -> Amount:
    """Return what one coat of a material takes on a floor, per unit of its extent, all parts together.

    Raises:
        CatalogError: the material lacks the figures of its basis.
    """
    return together(parts_of(use, works, catalog))


def together(amounts: Sequence[Amount]) -> Amount:
    """Return amounts added up; each one's causes count by its share, which is exact as long as they are small."""
    median = sum(amount.median for amount in amounts)
    shares = [(amount, amount.median / median) for amount in amounts]
    causes = [(cause, share * weight) for amount, share in shares for cause, weight in amount.weights.items()]
    return Amount(median, _summed(causes), sum(share * amount.zone_sd for amount, share in shares))


def parts_of(use: MaterialUse, works: FloorWorks, catalog: Catalog) -> tuple[Amount, ...]:
    """Return what one coat takes, per unit of its extent: the film, and what fills the profile under a first coat.

    Raises:
        CatalogError: the material lacks the figures of its basis.
    """
    material = catalog.materials[use.material]
    match use.basis:
        case "film":
            return _film(use, works, material, catalog)
        case "rate":
            return (_rate(use, works, material, catalog),)
        case _:
            per_unit = plain_figure(material)
            median = per_unit.expected / (1 - material.loss.expected)
            causes = [(_own(works, material), log_sd_of(per_unit)), *_loss_causes(material, catalog)]
            return (Amount(median, _summed(causes)),)


def plain_figure(material: Material) -> Range:
    """Return units per ft² (weight), ft (length), ft³ (volume) or piece (count).

    Raises:
        CatalogError: the figure of the material's basis is missing.
    """
    figures = {
        "weight": material.weight_lb_per_ft2,
        "length": material.per_ft,
        "volume": material.per_ft3,
        "count": material.per_piece,
    }
    return _given(material, figures[material.basis])


def film_figures(material: Material) -> tuple[Range, Range]:
    """Return solids by volume and dry film [mils].

    Raises:
        CatalogError: a figure is missing.
    """
    return _given(material, material.volume_solids), _given(material, material.dry_film_mils)


def spread_rate(material: Material, works: FloorWorks) -> Range:
    """Return the area that one unit covers at the floor's absorption [ft² per unit].

    Raises:
        CatalogError: the figure is missing.
    """
    rates: SpreadRates = _given(material, material.spread_ft2_per_unit)
    by_absorption = {"low": rates.low, "medium": rates.medium, "high": rates.high}
    return by_absorption[works.absorption]


def first_coat_factor(use: MaterialUse, material: Material) -> float:
    """Return how much more this coat takes for meeting thirsty concrete; 1 for a later coat."""
    return material.first_coat_factor.expected if use.first_coat and material.first_coat_factor else 1.0


def fill_mils(use: MaterialUse, works: FloorWorks) -> float:
    """Return the wet material that this coat loses into the profile [mils]; 0 for a later coat."""
    return works.profile_fill_mils.expected if use.first_coat and use.basis == "film" else 0.0


def _given(material: Material, figure: T | None) -> T:
    """Return a figure that the material's basis needs.

    Raises:
        CatalogError: the figure is missing.
    """
    if figure is None:
        raise CatalogError(
            f'Material "{material.id}" is reckoned by {material.basis}, but a figure for that is missing from its row.'
        )
    return figure


def _film(use: MaterialUse, works: FloorWorks, material: Material, catalog: Catalog) -> tuple[Amount, ...]:
    solids, film = film_figures(material)
    fill = fill_mils(use, works)
    factor = first_coat_factor(use, material)
    hand, build, zone = (limit(catalog, f"share-{name}") for name in ("hand", "build", "zone"))
    film_sd = log_sd_of(film)
    everywhere = [*_first_causes(use, works, material), *_loss_causes(material, catalog)]
    causes = [
        (("hand",), film_sd * math.sqrt(hand)),
        (_own(works, material), film_sd * math.sqrt(1 - hand - build - zone)),
        (("solids", material.id), film_sd * math.sqrt(build) - log_sd_of(solids)),
        *everywhere,
    ]
    median = factor * film_need_gal(1, solids.expected, film.expected, material.loss.expected)
    of_film = Amount(median, _summed(causes), film_sd * math.sqrt(zone))
    if not fill:
        return (of_film,)
    valleys = factor * rate_need(1, spread_of_wet_film_ft2_per_gal(fill), material.loss.expected)
    of_fill = [(("profile", works.floor), log_sd_of(works.profile_fill_mils)), *everywhere]
    return of_film, Amount(valleys, _summed(of_fill))


def _rate(use: MaterialUse, works: FloorWorks, material: Material, catalog: Catalog) -> Amount:
    rate = spread_rate(material, works)
    median = rate_need(1, rate.expected, material.loss.expected, first_coat_factor(use, material))
    rate_sd = log_sd_of(rate)
    causes = [*_first_causes(use, works, material), *_loss_causes(material, catalog)]
    if material.unit != "gal":  # tools and supplies wear by their own luck, whatever the slab drinks
        return Amount(median, _summed([*causes, (_own(works, material), rate_sd)]))
    floor, product, zone = (limit(catalog, f"share-{name}") for name in ("floor", "product", "zone"))
    causes += [
        (("floor", works.floor), rate_sd * math.sqrt(floor)),
        (("product", material.id), rate_sd * math.sqrt(product)),
        (_own(works, material), rate_sd * math.sqrt(1 - floor - product - zone)),
    ]
    return Amount(median, _summed(causes), rate_sd * math.sqrt(zone))


def _first_causes(use: MaterialUse, works: FloorWorks, material: Material) -> list[tuple[Cause, float]]:
    if not use.first_coat or material.first_coat_factor is None:
        return []
    return [(("first coat", works.floor), log_sd_of(material.first_coat_factor))]


def _loss_causes(material: Material, catalog: Catalog) -> list[tuple[Cause, float]]:
    share = limit(catalog, "share-loss")
    loss_sd = yield_log_sd(material.loss)
    return [(("loss",), loss_sd * math.sqrt(share)), (("loss", material.id), loss_sd * math.sqrt(1 - share))]


def _own(works: FloorWorks, material: Material) -> Cause:
    return ("own", works.floor, material.id)


def _summed(causes: Iterable[tuple[Cause, float]]) -> dict[Cause, float]:
    weights: dict[Cause, float] = {}
    for cause, weight in causes:
        if weight:
            weights[cause] = weights.get(cause, 0.0) + weight
    return weights
