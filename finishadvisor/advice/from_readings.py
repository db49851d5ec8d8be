"""Facts that follow from dated readings: the worst that still counts, never one older than the last wetting."""

from collections.abc import Mapping
from typing import Final

from finishadvisor.advice.known import Derivation, Known
from finishadvisor.job.document import ReadingKind
from finishadvisor.job.readings import latest_reading, sort_readings, worst_reading
from finishadvisor.works.limits import limit
from finishadvisor.works.surface import absorption

_SHEDS_WATER: Final = frozenset({"resin-compound", "wax-compound", "cure-and-seal"})
"""Slab curing that leaves a film: the surface alone then says nothing of how the slab drinks."""
LEAVES_A_MARK: Final = frozenset({"sheet-test", "calcium-chloride", "ph", "water-drop", "pull-off"})
"""Kinds of readings that wet, tape or grind a patch of the slab."""


def _worst(kind: ReadingKind) -> Derivation:
    def worst(known: Known) -> float | str | None:
        reading = worst_reading(known.floor, kind, known.on)
        return reading.value if reading else None

    return worst


def _rinse_ph_difference(known: Known) -> float | None:
    """The rinse farthest from the rinse water, up or down; None without a reading of the water."""
    water = latest_reading(known.floor, "rinse-water-ph", known.on)
    rinses = [reading for reading in sort_readings(known.floor, known.on).valid if reading.kind == "ph"]
    if water is None or not rinses:
        return None
    differences = [round(float(rinse.value) - float(water.value), 2) for rinse in rinses]
    return max(differences, key=abs)


def _absorption(known: Known) -> str | None:
    """From the slowest drop; else as answered; else by the surface, where no film lies on it."""
    drop = worst_reading(known.floor, "water-drop", known.on)
    if drop is not None:
        seconds = float(drop.value)
        if seconds <= limit(known.catalog, "water-drop-high-s"):
            return "high"
        return "low" if seconds >= limit(known.catalog, "water-drop-low-s") else "medium"
    surface = known.answers.get("surface")
    film = known.answers.get("slab_curing") in _SHEDS_WATER or known.floor.layers_down
    if "absorption" in known.answers or surface is None or film:
        return None
    return absorption({"surface": surface})


def _test_patches_made(known: Known) -> bool | None:
    """Yes where a test that leaves a mark, or a mock-up, is recorded; there may be others that are not."""
    made = known.floor.mock_ups or any(
        one.kind in LEAVES_A_MARK and one.date <= known.on for one in known.floor.readings
    )
    return True if made else None


FROM_READINGS: Final[Mapping[str, Derivation]] = {
    "slab_rh_pct": _worst("slab-rh"),
    "emission_lb_per_1000ft2_24h": _worst("calcium-chloride"),
    "sheet_test": _worst("sheet-test"),
    "rinse_ph_difference": _rinse_ph_difference,
    "absorption": _absorption,
    "scratch_hardness_mohs": _worst("scratch-hardness"),
    "sounding": _worst("sounding"),
    "pull_off_psi": _worst("pull-off"),
    "test_patches_made": _test_patches_made,
}
