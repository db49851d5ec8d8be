"""Reflection of films and wet concrete: Fresnel surfaces, light kept inside a film, and the look once sealed.

Reflectances are linear (0 to 1), of one color band; apply them to each band of a linear color. Functions that take
arrays keep NaN, so that masked cells pass through.
"""

import math
from functools import cache
from typing import TYPE_CHECKING, Final

from finishadvisor.errors import OutOfRangeError, require_between

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

    Reflectance = NDArray[np.float64]

WATER_INDEX: Final = 1.33
FILM_INDEX: Final = 1.50
"""Usual index of clear acrylic, urethane and epoxy films: 1.48 to 1.55; 1.50 stands for the class."""

GLOSS_STANDARD_INDEX: Final = 1.567
"""Polished black glass that reads 100 gloss units at each angle (ASTM D523; index from memory)."""

BARE_INTERFACE_SHARE: Final = 0.3
"""Share of a bare slab that already acts as if under a film: 0 rough, 0.7 dense troweled. Our choice: between."""

_LOWEST_INDEX: Final = 1.0001
_HIGHEST_INDEX: Final = 3.0
_STEPS: Final = 1000


def fresnel_reflectance(index: float, angle_deg: float) -> float:
    """Return the share of unpolarized light that a smooth surface reflects, from air.

    Args:
        index: refractive index of the film, 1.0001 to 3.
        angle_deg: angle from the upright [°], 0 to 90.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: Fresnel equations.
    """
    require_between("Refractive index", index, _LOWEST_INDEX, _HIGHEST_INDEX)
    require_between("Angle", angle_deg, 0, 90, "°")
    return _fresnel(index, math.cos(math.radians(angle_deg)))


def _fresnel(index: float, cosine: float) -> float:
    inside = math.sqrt(index * index - 1 + cosine * cosine)
    upright = (cosine - inside) / (cosine + inside)
    in_plane = (index * index * cosine - inside) / (index * index * cosine + inside)
    return (upright * upright + in_plane * in_plane) / 2


def gloss_units(index: float, angle_deg: float) -> float:
    """Return the gloss of a perfectly smooth film, against black glass [GU]: the most that it can reach.

    Args:
        index: refractive index of the film, 1.0001 to 3.
        angle_deg: angle of the gloss meter [°], 0 to below 90: 20, 60 or 85.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: ASTM D523, by Fresnel reflectance.
    """
    require_between("Angle of the gloss meter", angle_deg, 0, 89.9, "°")
    return 100 * fresnel_reflectance(index, angle_deg) / fresnel_reflectance(GLOSS_STANDARD_INDEX, angle_deg)


@cache
def diffuse_external_reflectance(index: float) -> float:
    """Return the share of diffuse light that a smooth surface reflects, from air.

    Args:
        index: refractive index of the film, 1.0001 to 3.

    Raises:
        OutOfRangeError: the index is outside its range.

    Source: Fresnel reflectance over a hemisphere of even light, 2 ∫ R(µ) µ dµ, by Simpson's rule.
    """
    require_between("Refractive index", index, _LOWEST_INDEX, _HIGHEST_INDEX)
    total = 0.0
    for step in range(_STEPS + 1):
        cosine = step / _STEPS
        weight = 1 if step in {0, _STEPS} else 4 if step % 2 else 2
        total += weight * _fresnel(index, cosine) * cosine
    return 2 * total / (3 * _STEPS)


def diffuse_internal_reflectance(index: float) -> float:
    """Return the share of diffuse light that a film's surface throws back inside.

    Args:
        index: refractive index of the film, 1.0001 to 3.

    Raises:
        OutOfRangeError: the index is outside its range.

    Source: 1 - (1 - external) / index², from reversibility of light.
    """
    return 1 - (1 - diffuse_external_reflectance(index)) / (index * index)


def saunderson_reflectance(
    body: "ArrayLike", entry: float = 0.04, internal: float = 0.6, *, gloss_included: bool = True
) -> "Reflectance":
    """Return the reflectance of a body under a smooth surface.

    Args:
        body: reflectance as it would be without the surface, any shape, 0 to 1.
        entry: share reflected at the outside of the surface (k1), 0 to 0.2.
        internal: share of diffuse light thrown back inside (k2), 0 to 0.95; 0.4 to 0.6 in practice.
        gloss_included: whether the instrument sees the mirror reflection too.

    Returns:
        The shape of `body`.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: Saunderson (1942), J. Opt. Soc. Am. 32:727-736 (form as in Allen 1980).
    """
    require_between("Reflectance at the outside (k1)", entry, 0, 0.2)
    require_between("Reflectance inside (k2)", internal, 0, 0.95)
    values = _checked("Reflectance of the body", body)
    leaving = (1 - entry) * (1 - internal) * values / (1 - internal * values)
    return leaving + entry if gloss_included else leaving


def wetted_reflectance(dry: "ArrayLike", index: float = WATER_INDEX, kept: float | None = None) -> "Reflectance":
    """Return the reflectance of a rough surface wetted by a thin, smooth film of liquid.

    Args:
        dry: reflectance when dry, any shape, 0 to 1.
        index: refractive index of the liquid, 1.0001 to 3.
        kept: share of the light from below that the liquid's surface throws back; None: the diffuse internal
            reflectance (Lekner and Dorf). Ångström took `angstrom_kept`.

    Returns:
        The shape of `dry`, the mirror reflection at normal incidence included.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: Lekner and Dorf (1988), Appl. Opt. 27:1278-1280, absorption unchanged. Zhang and Voss (2006) found such
    models insufficient on particle layers: calibrate with a wetted patch.
    """
    share = diffuse_internal_reflectance(index) if kept is None else kept
    require_between("Share thrown back inside", share, 0, 0.95)
    values = _checked("Dry reflectance", dry)
    absorbed = (1 - fresnel_reflectance(index, 0)) * (1 - values) / (1 - share * values)
    return 1 - absorbed


def angstrom_kept(index: float) -> float:
    """Return the share of diffuse light that total reflection alone keeps under a liquid: 1 - 1/index².

    Args:
        index: refractive index of the liquid, 1.0001 to 3.

    Raises:
        OutOfRangeError: the index is outside its range.

    Source: Ångström (1925).
    """
    require_between("Refractive index", index, _LOWEST_INDEX, _HIGHEST_INDEX)
    return 1 - 1 / (index * index)


def body_of_bare_slab(
    bare: "ArrayLike", interface_share: float = BARE_INTERFACE_SHARE, index: float = FILM_INDEX
) -> "Reflectance":
    """Return the reflectance of the slab's body, behind the surface that a bare slab shows in part.

    A share of the bare slab acts as if under a film, its mirror reflection seen; the rest shows the body itself:
    bare = (1 - share) · body + share · (film over body + mirror). Solved for the body; 0 where the bare slab is darker
    than its own mirror reflection, 1 at most.

    Args:
        bare: reflectance of the bare, dry slab, any shape, 0 to 1.
        interface_share: 0 rough to 0.7 dense troweled, up to 1.
        index: refractive index of cement paste and film, 1.0001 to 3.

    Returns:
        The shape of `bare`.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: our choice, built on Saunderson (1942); the equation is a quadratic in the body's reflectance.
    """
    import numpy as np

    require_between("Share of the slab that acts as if under a film", interface_share, 0, 1)
    mirror, inside = fresnel_reflectance(index, 0), diffuse_internal_reflectance(index)
    without_mirror = np.maximum(_checked("Reflectance of the bare slab", bare) - interface_share * mirror, 0)
    passing = (1 - mirror) * (1 - inside)
    square = (1 - interface_share) * inside
    linear = (1 - interface_share) + interface_share * passing + inside * without_mirror
    root = np.sqrt(np.maximum(linear * linear - 4 * square * without_mirror, 0))
    body: Reflectance = np.minimum(2 * without_mirror / (linear + root), 1.0)
    return body


def sealed_reflectance(
    bare: "ArrayLike",
    wet_look: float,
    interface_share: float = BARE_INTERFACE_SHARE,
    index: float = FILM_INDEX,
) -> "Reflectance":
    """Return the reflectance of a slab once sealed, its gloss not seen.

    Args:
        bare: reflectance of the bare, dry slab, any shape, 0 to 1.
        wet_look: how far the finish makes a closed film, 0 none to 1 full.
        interface_share: 0 rough to 0.7 dense troweled; the spread over this range is the model's uncertainty.
        index: refractive index of the film, 1.0001 to 3.

    Returns:
        The shape of `bare`.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: our choice, built on Saunderson (1942). A rough guide to the direction and size of the change: a mock-up
    shows the look, no formula does.
    """
    require_between("Wet look", wet_look, 0, 1)
    bare_values = _checked("Reflectance of the bare slab", bare)
    body = body_of_bare_slab(bare_values, interface_share, index)
    entry, inside = fresnel_reflectance(index, 0), diffuse_internal_reflectance(index)
    filmed = saunderson_reflectance(body, entry, inside, gloss_included=False)
    return (1 - wet_look) * bare_values + wet_look * filmed


def tinted_reflectance(below: "ArrayLike", tint: "ArrayLike", hiding: float) -> "Reflectance":
    """Return the reflectance under an opaque tint that hides part of what is below.

    Args:
        below: reflectance without the tint, any shape, 0 to 1.
        tint: reflectance of the tint where it hides all, a number or a shape that fits `below`, 0 to 1.
        hiding: share that the tint hides, 0 clear to 1 solid.

    Returns:
        The shape of `below`.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: our choice: tint and ground mixed by area.
    """
    require_between("Hiding of the tint", hiding, 0, 1)
    return (1 - hiding) * _checked("Reflectance", below) + hiding * _checked("Reflectance of the tint", tint)


def _checked(quantity: str, values: "ArrayLike") -> "Reflectance":
    """Values as an array; NaN passes, anything below 0 or above 1 is refused.

    Raises:
        OutOfRangeError: a value is outside 0 to 1.
    """
    import numpy as np

    array: Reflectance = np.asarray(values, dtype=np.float64)
    outside = (array < 0) | (array > 1)
    if outside.any():
        worst = float(array[outside].flat[0])
        raise OutOfRangeError(f"{quantity} is {worst:g}; it must lie between 0 and 1. Check the scale of the values.")
    return array
