"""What one row must keep beyond its shape: figures in order, the keys of its kind, times that fall with heat."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, Final

from msgspec.structs import asdict

from finishadvisor.catalog.models import Criterion, Fact, Finish, Layer, Rule
from finishadvisor.catalog.row import Range, Row, SourceRef
from finishadvisor.catalog.supplies import AirLimits, CurePoint, Material, WorkItem
from finishadvisor.errors import nearest_of
from finishadvisor.formulas.slab_tests import COUNT_RULES

OUR_CHOICE: Final = "our-choice"

BASIS_KEYS: Final[Mapping[str, tuple[str, ...]]] = {
    "film": ("volume_solids", "dry_film_mils"),
    "rate": ("spread_ft2_per_unit",),
    "count": ("per_piece",),
    "weight": ("weight_lb_per_ft2",),
    "length": ("per_ft",),
    "volume": ("per_ft3",),
}
"""The keys that say how much of a material is needed, by its basis."""

COUNTED_BY: Final = (*COUNT_RULES, "steps", "zones")
PHASES: Final = range(10, 91)
_SHARES: Final = ("loss", "volume_solids")
_SIMPLE: Final = (str, float, int, type(None))
_TIMES: Final = [name for name in CurePoint.__struct_fields__ if name != "slab_f"]


def nonsense(row: Row, given: Collection[str]) -> Iterator[str]:
    """Yield a line for each thing in a row that cannot be: the key, the value, what is allowed.

    Args:
        row: a row that has the shape of its table.
        given: the keys that stand in the file.
    """
    yield from _everywhere(row)
    for name in getattr(row, "source_of", ()):
        if name not in given:
            yield f'key "source_of" names "{name}", which is no key of this row.{nearest_of(name, given)}'
    for kind, check in _CHECKS.items():
        if isinstance(row, kind):
            yield from check(row)


# --- what holds for every row ----------------------------------------------------------------------------------------


def _everywhere(part: Row, path: str = "") -> Iterator[str]:
    """Look through a row and everything in it."""
    if isinstance(part, Range) and not part.low <= part.expected <= part.high:
        yield (
            f"key {path}: low {part.low:g}, expected {part.expected:g}, high {part.high:g} are out of order; "
            "write low <= expected <= high."
        )
    if isinstance(part, SourceRef) and part.id == OUR_CHOICE and not part.reason:
        yield f'key {path}: "{OUR_CHOICE}" needs a reason. Say in a sentence why this limit was set.'
    for name, value in asdict(part).items():
        if isinstance(value, _SIMPLE):
            continue
        parts = value.values() if isinstance(value, dict) else value if isinstance(value, tuple) else (value,)
        for inner in parts:
            if isinstance(inner, Row):
                yield from _everywhere(inner, f'{path}, "{name}"' if path else f'"{name}"')


# --- materials -------------------------------------------------------------------------------------------------------


def _material(material: Material) -> Iterator[str]:
    yield from _basis(material)
    yield from _material_figures(material)
    yield from _cure(material.cure)
    if material.limits is not None:
        yield from _air_limits(material.limits)


def _basis(material: Material) -> Iterator[str]:
    wanted = BASIS_KEYS[material.basis]
    for name in (name for names in BASIS_KEYS.values() for name in names):
        given = getattr(material, name) is not None
        if name in wanted and not given:
            yield f'key "{name}" is missing: basis "{material.basis}" needs {" and ".join(wanted)}.'
        if name not in wanted and given:
            yield (
                f'key "{name}" does not go with basis "{material.basis}", which takes {" and ".join(wanted)}. '
                "Leave it out or change the basis."
            )


def _material_figures(material: Material) -> Iterator[str]:
    for name in _SHARES:
        band = getattr(material, name)
        if band is not None and not (band.low >= 0 and band.high <= 1):
            yield f'key "{name}" runs from {band.low:g} to {band.high:g}; it is a share between 0 and 1.'
    if material.loss.high >= 1:
        yield f'key "loss" is {material.loss.high:g}; less than the whole can be lost.'
    for name in ("volume_solids", "dry_film_mils", "weight_lb_per_ft2", "per_piece", "per_ft", "per_ft3"):
        band = getattr(material, name)
        if band is not None and band.low <= 0:
            yield f'key "{name}" begins at {band.low:g}; it must be more than 0.'
    rates = material.spread_ft2_per_unit
    if rates is not None and min(rates.low.low, rates.medium.low, rates.high.low) <= 0:
        yield 'key "spread_ft2_per_unit" begins at 0 or less; area per unit must be more than 0.'
    if material.first_coat_factor is not None and material.first_coat_factor.low < 1:
        yield f'key "first_coat_factor" begins at {material.first_coat_factor.low:g}; it must be 1 or more.'
    if material.mix_ratio is not None and (len(material.mix_ratio) < 2 or min(material.mix_ratio) <= 0):
        yield f'key "mix_ratio" is {list(material.mix_ratio)}; write two or more parts, each more than 0, like [2, 1].'
    if not material.packs:
        yield 'key "packs" is empty; name at least one size that can be bought.'
    for pack in material.packs:
        if pack.size <= 0 or pack.price.low < 0:
            yield f'key "packs": size {pack.size:g} at {pack.price.low:g}; a size is more than 0, a price 0 or more.'


def _cure(points: Sequence[CurePoint]) -> Iterator[str]:
    """Times of a coating cure fall with heat, and are given by rising temperature."""
    for point in points:
        yield from _cure_point(point)
    for cooler, warmer in pairwise(points):
        if warmer.slab_f <= cooler.slab_f:
            yield (
                f'key "cure": {warmer.slab_f:g} F stands behind {cooler.slab_f:g} F; '
                "list each temperature once, rising."
            )
        for name in _TIMES:
            before, after = getattr(cooler, name), getattr(warmer, name)
            if (before is None) != (after is None):
                yield f'key "cure", "{name}" is given at some temperatures only; give it at all of them or at none.'
            elif before is not None and after > before:
                yield (
                    f'key "cure", "{name}" rises from {before:g} at {cooler.slab_f:g} F to {after:g} at '
                    f"{warmer.slab_f:g} F; times of a coating cure fall with heat."
                )


def _cure_point(point: CurePoint) -> Iterator[str]:
    at = f'key "cure" at {point.slab_f:g} F'
    for name in _TIMES:
        value = getattr(point, name)
        if value is not None and value <= 0:
            yield f'{at}, "{name}" is {value:g}; it must be more than 0.'
    if point.recoat_max_h is not None and point.recoat_max_h < point.recoat_min_h:
        yield (
            f"{at}: recoat_max_h {point.recoat_max_h:g} is less than recoat_min_h {point.recoat_min_h:g}; "
            "the window must not end before it begins."
        )


def _air_limits(limits: AirLimits) -> Iterator[str]:
    for name in ("air", "slab"):
        low, high = getattr(limits, f"{name}_low_f"), getattr(limits, f"{name}_high_f")
        if low >= high:
            yield f'key "limits": {name}_low_f {low:g} is not below {name}_high_f {high:g} F.'
    if not 0 <= limits.rh_low_pct < limits.rh_high_pct <= 100:
        yield (
            f'key "limits": rh_low_pct {limits.rh_low_pct:g} to rh_high_pct {limits.rh_high_pct:g}; '
            "write a range between 0 and 100 %."
        )
    if limits.dew_margin_f < 0:
        yield f'key "limits", "dew_margin_f" is {limits.dew_margin_f:g} F; it must be 0 or more.'


# --- work items ------------------------------------------------------------------------------------------------------


def _work_item(item: WorkItem) -> Iterator[str]:
    wanted = "hours_each" if item.extent in {"count", "fixed"} else "hours_per_100"
    if getattr(item, wanted) is None:
        yield f'key "{wanted}" is missing: extent "{item.extent}" needs it.'
    if (item.extent == "count") != (item.count_rule is not None):
        yield f'key "count_rule" goes with extent "count" and with no other; the extent is "{item.extent}".'
    if item.count_rule is not None and item.count_rule not in COUNTED_BY:
        yield (
            f'key "count_rule" is "{item.count_rule}"; allowed are {", ".join(COUNTED_BY)}.'
            f"{nearest_of(item.count_rule, COUNTED_BY)}"
        )
    if item.phase not in PHASES:
        yield f'key "phase" is {item.phase}; it must lie between {PHASES.start} and {PHASES.stop - 1}.'
    if item.tool is not None and item.rental_per_day is None:
        yield f'key "tool" is "{item.tool}", but key "rental_per_day" is missing. Say what a day of it costs.'
    if not item.steps:
        yield 'key "steps" is empty; the job sheet needs at least one sentence.'
    for used in item.materials:
        if used.coats < 1:
            yield f'key "materials": {used.material} has {used.coats} coats; write 1 or more.'


# --- finishes --------------------------------------------------------------------------------------------------------


def _finish(finish: Finish) -> Iterator[str]:
    laid: list[str] = []
    for layer in finish.layers:
        yield from _layer(layer, laid)
        laid.append(layer.name)
    for name in finish.upkeep.recoat_layers:
        if name not in laid:
            yield (
                f'key "upkeep", "recoat_layers" names "{name}"; the layers of this finish are {_listed(laid)}.'
                f"{nearest_of(name, laid)}"
            )
    if bool(finish.upkeep.recoat_layers) != (finish.upkeep.recoat_years is not None):
        yield 'key "upkeep": recoat_years and recoat_layers go together; give both or neither.'
    look = finish.sealed_look
    if look is not None and not (0 <= look.wet <= 1 and 0 <= look.hiding <= 1):
        yield f'key "sealed_look": wet {look.wet:g}, hiding {look.hiding:g}; both lie between 0 and 1.'
    if finish.id in finish.closes:
        yield f'key "closes" names the finish itself, "{finish.id}". Leave it out.'


def _layer(layer: Layer, laid: Sequence[str]) -> Iterator[str]:
    if layer.name in laid:
        yield f'key "layers": the name "{layer.name}" stands twice. Give each layer its own name.'
    if layer.coats < 1:
        yield f'key "layers": "{layer.name}" has {layer.coats} coats; write 1 or more.'
    if layer.into is not None and layer.into not in laid:
        yield (
            f'key "layers": "{layer.name}" is thrown into "{layer.into}", which does not lie below it; '
            f"below lie {_listed(laid)}.{nearest_of(layer.into, laid)}"
        )


# --- facts, rules, criteria ------------------------------------------------------------------------------------------


_BOUNDS: Final = frozenset({"below", "at_most", "at_least", "above"})


def _fact(fact: Fact) -> Iterator[str]:
    if (fact.type == "word") != bool(fact.values):
        yield f'key "values" goes with type "word" and with no other; the type is "{fact.type}".'
    if fact.type != "number" and (fact.least is not None or fact.most is not None or fact.unit is not None):
        yield f'keys "unit", "least" and "most" go with type "number" only; the type is "{fact.type}".'
    if fact.least is not None and fact.most is not None and fact.least >= fact.most:
        yield f'key "least" is {fact.least:g} and "most" {fact.most:g}; least must be below most.'
    for value in fact.words:
        if value not in (fact.values or ()):
            yield f'key "words" names "{value}", which is no value of this fact.{nearest_of(value, fact.values or ())}'
    keys = _BOUNDS if fact.type == "number" else {f"{no}{value}" for value in fact.values or () for no in ("", "not ")}
    for key, phrase in fact.phrases.items():
        if key not in keys:
            yield f'key "phrases" names "{key}", which no condition on this fact is told by.{nearest_of(key, keys)}'
        elif (fact.type == "number") != ("{}" in phrase):
            yield f'the phrase for "{key}" must hold {{}} for the number where the fact is one, and nowhere else.'
    if fact.effort_hours < 0:
        yield f'key "effort_hours" is {fact.effort_hours:g}; it must be 0 or more.'


def _rule(rule: Rule) -> Iterator[str]:
    if not rule.about:
        yield 'key "about" is empty; write all = "finishes", or name what the rule speaks of.'
    if (rule.effect == "require") != (rule.work_item is not None):
        yield f'key "work_item" goes with effect "require" and with no other; the effect is "{rule.effect}".'
    if rule.restates is not None and rule.effect != "caution":
        yield f'key "restates" goes with effect "caution" and with no other; the effect is "{rule.effect}".'
    if rule.answered_by is not None and rule.effect != "hold":
        yield f'key "answered_by" goes with effect "hold" and with no other; the effect is "{rule.effect}".'
    if not 1 <= rule.weight <= 3:
        yield f'key "weight" is {rule.weight}; it must be 1, 2 or 3.'


def _criterion(criterion: Criterion) -> Iterator[str]:
    if not 0 <= criterion.weight <= 1:
        yield f'key "weight" is {criterion.weight:g}; it is a share between 0 and 1.'


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names) or "none"


_CHECKS: Final[Mapping[type[Row], Callable[[Any], Iterator[str]]]] = {
    Material: _material,
    WorkItem: _work_item,
    Finish: _finish,
    Fact: _fact,
    Rule: _rule,
    Criterion: _criterion,
}
