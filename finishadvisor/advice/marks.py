"""The marks that photos show, gathered by what they look like, as facts that rules may ask about."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.evenness import Evenness, Lab, Patch
from finishadvisor.records.finding import FactValue
from finishadvisor.works.limits import limit

LIGHT_IN_DOUBT: Final = frozenset({
    "step-or-shadow",
    "dappled-light",
    "light-steep",
    "moved-with-light",
    "shadow-removed",
})
"""Caveats of a measurement that leave open whether a mark is slab or light."""


@dataclass(frozen=True)
class Marks:
    """All marks of one kind in one or more photos."""

    kind: str
    patches: tuple[Patch, ...]

    @property
    def area_ft2(self) -> float:
        """Area of all of them."""
        return sum(patch.area_ft2 for patch in self.patches)


def gather_marks(photos: Iterable[Evenness]) -> tuple[Marks, ...]:
    """Return the marks of measured photos by kind, the kind that covers most first."""
    by_kind: dict[str, list[Patch]] = {}
    for photo in photos:
        for patch in photo.patches or ():
            by_kind.setdefault(patch.kind, []).append(patch)
    marks = [Marks(kind, tuple(patches)) for kind, patches in by_kind.items()]
    return tuple(sorted(marks, key=lambda one: (-one.area_ft2, one.kind)))


def mark_facts(marks: Marks, typical: Lab | None, catalog: Catalog) -> dict[str, FactValue | None]:
    """Return the facts that one kind of marks gives.

    Args:
        marks: the marks of one kind.
        typical: the slab's typical shade in the same photo, where it is known.
        catalog: holds the limits of words such as "grayer".
    """
    return {
        "shade_kind": marks.kind,
        "shade_marks_tone": _tone(marks.patches),
        "shade_marks_color": _color(marks.patches, typical, catalog) if typical else None,
        "shade_marks_count": float(len(marks.patches)),
    }


def photo_facts(photos: Sequence[Evenness]) -> dict[str, FactValue | None]:
    """Return the facts that measured photos give as a whole, beside their marks."""
    return {
        "two_shades": any(photo.second_lab is not None for photo in photos) if photos else None,
        "light_in_doubt": any(LIGHT_IN_DOUBT & set(photo.caveats) for photo in photos) if photos else None,
    }


def _tone(patches: Sequence[Patch]) -> str:
    light, a, b = _mean_difference(patches)
    if abs(light) < 0.5 * math.hypot(a, b):
        return "other-hue"
    return "lighter" if light > 0 else "darker"


def _color(patches: Sequence[Patch], typical: Lab, catalog: Catalog) -> str:
    """Return how the color differs: rusty is redder and yellower, grayer and richer go by chroma."""
    step = limit(catalog, "mark-color-step")
    _, a, b = _mean_difference(patches)
    if a >= step and b >= step:
        return "rusty"
    chroma = math.hypot(typical[1] + a, typical[2] + b) - math.hypot(typical[1], typical[2])
    if abs(chroma) < step:
        return "same"
    return "richer" if chroma > 0 else "grayer"


def _mean_difference(patches: Sequence[Patch]) -> tuple[float, float, float]:
    """Return the mean signed difference in L*, a* and b*, weighed by area."""
    area = sum(patch.area_ft2 for patch in patches)
    sums: Mapping[str, float] = {
        name: sum(getattr(patch, name) * patch.area_ft2 for patch in patches) for name in ("dL", "da", "db")
    }
    return sums["dL"] / area, sums["da"] / area, sums["db"] / area
