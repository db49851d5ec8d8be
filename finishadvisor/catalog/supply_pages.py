"""What the pages of docs/ say of materials and work items."""

from collections.abc import Iterator, Sequence
from typing import Final

from finishadvisor.catalog.page_words import bullets, code, plain, range_words, share_words, sources_words, table
from finishadvisor.catalog.supplies import CurePoint, Material, WorkItem

_TIMES: Final = {
    "pot_life_min": "pot life, min",
    "tack_free_h": "tack-free, h",
    "recoat_min_h": "recoat from, h",
    "recoat_max_h": "recoat until, h",
    "foot_h": "foot, h",
    "water_h": "water, h",
    "furniture_h": "furniture, h",
    "cover_h": "cover, h",
    "vehicle_h": "vehicle, h",
}


def material_entry(material: Material) -> str:
    """Return what a page says of a material: amounts, packs, properties, and its coating cure."""
    facts = [*_amounts(material), f"Loss {share_words(material.loss)}", _packs(material), *_properties(material)]
    facts += [f"Cautions: {code(material.cautions)}"] if material.cautions else []
    facts += [f"Source: {sources_words(material.source, material.source_of)}"]
    cure = f"\n{_cure_table(material.cure)}" if material.cure else ""
    return f"## {material.name}\n\n`{material.id}`: {plain(material.chemistry)}\n\n{bullets(facts)}{cure}"


def _amounts(material: Material) -> Iterator[str]:
    """Yield how much is needed, by the material's basis."""
    unit = material.unit
    if material.volume_solids and material.dry_film_mils:
        yield f"Solids by volume {share_words(material.volume_solids)}"
        yield f"Dry film of a coat {range_words(material.dry_film_mils, 'mils')}"
    if material.spread_ft2_per_unit:
        rates = material.spread_ft2_per_unit
        bands = [("low", rates.low), ("medium", rates.medium), ("high", rates.high)]
        words = "; ".join(f"{name} absorption {range_words(band)}" for name, band in bands)
        yield f"Spreads, ft² per {unit}: {words}"
    for band, per in (
        (material.weight_lb_per_ft2, "lb per ft²"),
        (material.per_ft, f"{unit} per ft"),
        (material.per_ft3, f"{unit} per ft³"),
        (material.per_piece, f"{unit} per worker and day" if material.chemistry == "protective" else f"{unit} each"),
    ):
        if band:
            yield f"Takes {range_words(band, per)}"
    if material.first_coat_factor and material.first_coat_factor.high > 1:
        yield f"First coat takes {range_words(material.first_coat_factor)} times as much"


def _packs(material: Material) -> str:
    packs = [f"{pack.size:g} {material.unit} at {range_words(pack.price, 'USD')}" for pack in material.packs]
    return f"Packs: {'; '.join(packs)}"


def _properties(material: Material) -> Iterator[str]:
    if material.mix_ratio:
        ratio = " : ".join(f"{part:g}" for part in material.mix_ratio)
        yield f"Mixed {ratio} by volume{', kits opened whole' if material.kit else ''}"
    if material.one_lot:
        yield "One lot: a second lot would not match"
    if material.limits:
        limits = material.limits
        yield (
            f"Air {limits.air_low_f:g} to {limits.air_high_f:g} °F, slab {limits.slab_low_f:g} to "
            f"{limits.slab_high_f:g} °F, humidity {limits.rh_low_pct:g} to {limits.rh_high_pct:g} %, "
            f"{limits.dew_margin_f:g} °F above the dew point"
        )
    if material.voc_g_per_l:
        yield f"Volatile content {range_words(material.voc_g_per_l, 'g/L')}"
    if material.flash_point_f is not None:
        yield f"Flash point about {material.flash_point_f:g} °F"
    if material.shelf_life_months:
        yield f"Keeps {material.shelf_life_months:g} months"


def _cure_table(points: Sequence[CurePoint]) -> str:
    given = [name for name in _TIMES if getattr(points[0], name) is not None]
    rows = [[f"{point.slab_f:g} °F", *(f"{getattr(point, name):g}" for name in given)] for point in points]
    return table(["coating cure at", *(_TIMES[name] for name in given)], rows)


def work_item_entry(item: WorkItem) -> str:
    """Return what a page says of a work item: extent, rates, what it uses and its steps."""
    facts = [f"Phase {item.phase}, by {item.extent}{f' ({item.count_rule})' if item.count_rule else ''}", *_rates(item)]
    marks = [name for name in ("stirred_in", "wets_slab", "changes_shade", "hold_point") if getattr(item, name)]
    facts += [", ".join(plain(mark) for mark in marks).capitalize()] if marks else []
    facts += [f"Uses {code(used.material for used in item.materials)}"] if item.materials else []
    facts += [f"Cautions: {code(item.cautions)}"] if item.cautions else []
    facts += [f"PPE: {code(item.ppe)}"] if item.ppe else []
    facts += [f"Source: {sources_words(item.source, item.source_of)}"]
    steps = "".join(f"{number}. {step}\n" for number, step in enumerate(item.steps, start=1))
    return f"## {item.title}\n\n`{item.id}`\n\n{bullets(facts)}\n{steps}"


def _rates(item: WorkItem) -> Iterator[str]:
    per = "100 ft²" if item.extent == "area" else "100 ft"
    for band, words, unit in (
        (item.hours_per_100, "Takes", f"crew-hours per {per}"),
        (item.hours_each, "Takes", "crew-hours" if item.extent == "fixed" else "crew-hours each"),
        (item.rental_per_day, f"Rental of {item.tool or 'tools'}", "USD a day"),
        (item.disposal_per_100, "Disposal", f"USD per {per}"),
        (item.wait_hours, "Then wait", "h"),
    ):
        if band:
            yield f"{words} {range_words(band, unit)}"
