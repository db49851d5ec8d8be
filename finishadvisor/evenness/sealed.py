"""How uneven the slab will look under each finish: a band, for a mock-up to confirm."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.models import Finish, SealedLook
from finishadvisor.evenness.color import lab_from_linear, linear_from_lab
from finishadvisor.evenness.figures import figures_of
from finishadvisor.formulas.reflection import sealed_reflectance, tinted_reflectance
from finishadvisor.records.evenness import SealedSpread
from finishadvisor.records.shade import Measurement, ShadeMap

Array = NDArray[np.float64]

ROUGH_TO_DENSE: Final = (0.0, 0.7)
"""Interface share of a bare slab, rough to dense troweled: what is not known of it is the model's spread."""
KNOWN_WITHIN: Final = 0.1
"""How near a wetted patch tells the interface share."""
WET_LOOK_WITHIN: Final = 0.15
MOST_CELLS: Final = 5_000
"""Cells that are predicted, drawn evenly by lightness: the band moves by some hundredths (our choice)."""


def with_sealed(measurement: Measurement, finishes: Iterable[Finish]) -> Measurement:
    """Return a measurement with the predicted spread under each finish; a refused photo as it is."""
    if measurement.shade is None:
        return measurement
    spreads = sealed_spreads(measurement.shade, finishes)
    return replace(measurement, evenness=measurement.evenness.model_copy(update={"sealed": spreads or None}))


def sealed_spreads(shade: ShadeMap, finishes: Iterable[Finish]) -> dict[str, SealedSpread | None]:
    """Return the predicted 95th percentile of CIEDE2000 under each finish, low to high.

    Args:
        shade: the measured map.
        finishes: finishes of the catalog; one that is ground or polished, or whose look is not modeled, gets None.
    """
    lab = shade.lab[shade.used & np.isfinite(shade.lab).all(axis=2)]
    every = max(1, len(lab) // MOST_CELLS)
    lab = lab[np.argsort(lab[:, 0], kind="stable")][every // 2 :: every]  # no pattern is missed
    bare = np.clip(linear_from_lab(lab), 0.0, 1.0)
    shares = ROUGH_TO_DENSE if shade.wet_ratio is None else _shares_from_wet(bare, shade.wet_ratio)
    bands: dict[tuple[float, float], SealedSpread] = {}  # many finishes look alike
    spreads: dict[str, SealedSpread | None] = {}
    for finish in finishes:
        look = None if finish.family == "polish" else finish.sealed_look
        spreads[finish.id] = None
        if look is not None:
            key = (look.wet, look.hiding)
            bands[key] = bands.get(key) or _band(bare, look, shares)
            spreads[finish.id] = bands[key]
    return spreads


def _band(bare: Array, look: SealedLook, shares: tuple[float, float]) -> SealedSpread:
    found = []
    for share in shares:
        for wet in (look.wet - WET_LOOK_WITHIN, look.wet + WET_LOOK_WITHIN):
            sealed = np.asarray(sealed_reflectance(bare, float(np.clip(wet, 0, 1)), share))
            if look.hiding > 0:
                sealed = np.asarray(tinted_reflectance(sealed, np.median(sealed, axis=0), look.hiding))
            every = np.ones((1, len(sealed)), dtype=np.bool_)
            found.append(figures_of(lab_from_linear(sealed)[None], every).p95_de00)
    return SealedSpread(p95_low=round(min(found), 2), p95_high=round(max(found), 2))


def _shares_from_wet(bare: Array, wet_ratio: float) -> tuple[float, float]:
    """Return the interface shares that darken the slab as much as the wetted patch did."""
    middle = float(np.median(bare[:, 1]))
    shares = np.linspace(0.0, 1.0, 21)
    ratios = [float(sealed_reflectance(middle, 1.0, float(share), index=1.333)) / max(middle, 1e-6) for share in shares]
    near = float(shares[int(np.argmin(np.abs(np.array(ratios) - wet_ratio)))])
    return max(0.0, near - KNOWN_WITHIN), min(1.0, near + KNOWN_WITHIN)
