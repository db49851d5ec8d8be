"""Facts that follow from dates, layers, joints, truck loads and mock-ups of the job file."""

from collections.abc import Mapping
from typing import Final

from finishadvisor.advice.known import Derivation, Known
from finishadvisor.catalog.models import Fact
from finishadvisor.job.document import LayerDown
from finishadvisor.job.readings import DRYING_KINDS, sort_readings
from finishadvisor.records.finding import FactValue
from finishadvisor.works.limits import limit

_LAYER_OF: Final = {"stain": "acid-stain", "floor-finish": "wax", "guard": "wax"}
"""What a layer of these chemistries counts as: the same stripper takes them off, the same rules hold."""
_NO_LAYER: Final = frozenset({"supply", "protective"})
_OF_THE_SLAB: Final = frozenset({"readings", "layers_down", "photos", "last_wetting"})
_UNDATED: Final = frozenset({"slab_rh_pct", "emission_lb_per_1000ft2_24h", "sheet_test", "moisture_readings_stale"})
"""Answers of moisture that bear no date, or that settle the question by themselves."""


# --- the pour -------------------------------------------------------------------------------------------------------


def _pour_ahead(known: Known) -> bool:
    if known.floor.pour is not None:
        return known.poured_on is None
    answered = known.answers.get("pour_ahead")
    return answered if isinstance(answered, bool) else not _slab_is_there(known)


def _slab_is_there(known: Known) -> bool:
    floor = known.floor
    traces = (floor.readings, floor.layers_down, floor.photos, floor.loads, floor.mock_ups, floor.used, known.evenness)
    wetted = floor.last_wetting is not None and floor.last_wetting <= known.on
    answered = any(
        _tells_of_slab(known.catalog.facts[name], value)
        for name, value in known.answers.items()
        if name in known.catalog.facts
    )
    return wetted or answered or any(traces)


def _tells_of_slab(fact: Fact, value: FactValue) -> bool:
    """Return whether an answer can only be given of a slab that is there: its age, a test, a crack."""
    if fact.id == "age_days" or (fact.kind == "gate" and _OF_THE_SLAB & set(fact.derived_from)):
        return value != "none"
    while_ahead = [row.value for row in fact.follows if row.when == {"pour_ahead": True}]
    return bool(while_ahead) and value != while_ahead[0]


def _pour_date_certainty(known: Known) -> str | None:
    pour = known.floor.pour
    if pour is None:
        return None if "pour_date_certainty" in known.answers else "unknown"
    return "about" if pour.about else "exact"


def _age_days(known: Known) -> float | None:
    return float((known.on - known.poured_on).days) if known.poured_on else None


# --- wetting --------------------------------------------------------------------------------------------------------


def _days_since_wetting(known: Known) -> float | None:
    wetting = known.floor.last_wetting
    return float((known.on - wetting).days) if wetting and wetting <= known.on else None


def _moisture_readings_stale(known: Known) -> bool | None:
    """Stale as long as no reading of drying is younger than the last wetting; what was never read cannot be stale."""
    sorted_ = sort_readings(known.floor, known.on)
    if any(reading.kind in DRYING_KINDS for reading in sorted_.valid):
        return False
    if sorted_.stale:
        return True
    return None if _UNDATED & set(known.answers) else False


# --- layers down ----------------------------------------------------------------------------------------------------


def _layers_down(known: Known) -> str | None:
    laid = _used_chemistries(known)
    if laid:
        return _as_layer(laid[-1], known)
    if known.floor.layers_down:
        return _as_layer(_uppermost(known.floor.layers_down).material, known)
    if "layers_down" in known.answers or known.poured_on is None:
        return None
    return _layer_of_curing(known)


def _layer_of_curing(known: Known) -> str | None:
    """Cure-and-seal is a finish already. Who knows pour day and slab curing would have listed another layer."""
    curing = known.answers.get("slab_curing")
    if curing == "cure-and-seal":
        return "acrylic"
    exact = known.floor.pour is not None and not known.floor.pour.about
    return "none" if curing is not None and exact else None


def _uppermost(layers: tuple[LayerDown, ...]) -> LayerDown:
    """Return the layer laid last; where a date is missing the list is taken as bottom up."""
    if all(layer.laid for layer in layers):
        return sorted(layers, key=lambda layer: (layer.laid, layers.index(layer)))[-1]
    return layers[-1]


def _used_chemistries(known: Known) -> list[str]:
    """Return what was really laid on this floor by the day, the last laid at the end."""
    used = sorted((row for row in known.floor.used if row.date <= known.on), key=lambda row: row.date)
    materials = [known.catalog.materials[row.material] for row in used if row.material in known.catalog.materials]
    return [material.chemistry for material in materials if material.chemistry not in _NO_LAYER]


def _as_layer(chemistry: str, known: Known) -> str:
    word = _LAYER_OF.get(chemistry, chemistry)
    return word if word in (known.catalog.facts["layers_down"].values or ()) else "unknown"


def _layers_down_color(known: Known) -> str | None:
    layers = known.floor.layers_down
    return _uppermost(layers).color if layers and not _used_chemistries(known) else None


def _layers_down_bonded(known: Known) -> bool | None:
    """One loose layer makes the whole build-up loose; tight only where every layer is."""
    bonds = [layer.bonded for layer in known.floor.layers_down]
    if False in bonds:
        return False
    return True if bonds and None not in bonds else None


def _layers_down_coats(known: Known) -> float | None:
    coats = [layer.coats for layer in known.floor.layers_down]
    return float(sum(count or 0 for count in coats)) if coats and None not in coats else None


# --- joints and steps ------------------------------------------------------------------------------------------------


def _moving_joints(known: Known) -> bool | None:
    """An isolation joint moves unless the job says that it does not; any other joint only if the job says so."""
    joints = known.floor.outline.joints if known.floor.outline else ()
    if any(joint.moving or (joint.moving is None and joint.kind == "isolation") for joint in joints):
        return True
    return False if joints else None


def _steps_on_floor(known: Known) -> bool | None:
    """A flight on the plan belongs to the floor; a plan without one does not say that there is none."""
    return True if known.floor.outline and known.floor.outline.steps else None


# --- truck loads, mock-ups, rules at the site -----------------------------------------------------------------------


def _load_water_added(known: Known) -> bool | None:
    amounts = [load.water_added_gal for load in known.floor.loads]
    if any(amounts):
        return True
    return False if amounts and None not in amounts else None


def _loads_differ(known: Known) -> bool | None:
    """Loads differ by slump, or by water added to some and not to others."""
    loads = known.floor.loads
    slumps_in = [load.slump * 12 for load in loads if load.slump is not None]
    watered = {bool(load.water_added_gal) for load in loads}
    if len(loads) < 2:
        return False if loads else None
    if len(watered) > 1:
        return True
    if len(slumps_in) < 2:
        return None
    return max(slumps_in) - min(slumps_in) >= limit(known.catalog, "load-slump-differs-in")


def _mock_up_signed(known: Known) -> bool | None:
    """Of the decided finish where one is decided, else of any finish."""
    decision = known.floor.decision
    tried = [one for one in known.floor.mock_ups if decision is None or one.finish == decision.finish]
    return any(one.signed_by for one in tried) if tried else None


def _voc_rules(known: Known) -> str | None:
    return known.job.voc_rules


FROM_DATES: Final[Mapping[str, Derivation]] = {
    "pour_ahead": _pour_ahead,
    "pour_date_certainty": _pour_date_certainty,
    "age_days": _age_days,
    "days_since_wetting": _days_since_wetting,
    "moisture_readings_stale": _moisture_readings_stale,
    "moving_joints": _moving_joints,
    "steps_on_floor": _steps_on_floor,
    "layers_down": _layers_down,
    "layers_down_color": _layers_down_color,
    "layers_down_bonded": _layers_down_bonded,
    "layers_down_coats": _layers_down_coats,
    "load_water_added": _load_water_added,
    "loads_differ": _loads_differ,
    "mock_up_signed": _mock_up_signed,
    "voc_rules": _voc_rules,
}
