"""Film arithmetic: what a gallon covers, wet and dry film, spread rates, thinning, mixing, broadcast weights."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from finishadvisor.errors import require_between, require_positive

if TYPE_CHECKING:
    pass

CUBIC_INCHES_PER_GALLON: Final = 231.0
"""The US gallon, exact (NIST Handbook 44, Appendix C)."""

COVERAGE_FT2_PER_GAL_AT_ONE_MIL: Final = CUBIC_INCHES_PER_GALLON / 144 / 0.001
"""Area of one gallon spread one mil thick: 1604.17 ft²; guide documents round it to 1604 or 1600."""

_LEAST_SOLIDS: Final = 1e-3
_MOST_LOSS: Final = 0.9


def _require_solids(volume_solids: float) -> None:
    require_between("Solids by volume", volume_solids, _LEAST_SOLIDS, 1)


def _require_loss(loss: float) -> None:
    require_between("Loss", loss, 0, _MOST_LOSS)


def theoretical_coverage_ft2_per_gal(volume_solids: float, dry_film_mils: float) -> float:
    """Return the area that one US gallon covers, nothing lost [ft²/gal].

    Args:
        volume_solids: solids by volume, fraction, 0.001 to 1.
        dry_film_mils: thickness when dry [mils], > 0.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: 1 US gal = 231 in³ exactly (NIST Handbook 44, App. C), hence 1604.17 ft² at 1 mil; relation in
    UFC 3-190-06 (2004), par. 2.1.5.
    """
    _require_solids(volume_solids)
    require_positive("Dry film thickness", dry_film_mils, "mils")
    return COVERAGE_FT2_PER_GAL_AT_ONE_MIL * volume_solids / dry_film_mils


def practical_coverage_ft2_per_gal(
    volume_solids: float, dry_film_mils: float, loss: float, profile_mils: float = 0.0
) -> float:
    """Return the area that one US gallon covers on a real floor [ft²/gal].

    The profile of the concrete takes up dry film before any shows above the peaks: its mean depth, the volume of the
    valleys per area, is added to the film.

    Args:
        volume_solids: solids by volume, fraction, 0.001 to 1.
        dry_film_mils: thickness when dry, above the peaks [mils], > 0.
        loss: share that ends in rollers, trays, pails and air, fraction, 0 to 0.9.
        profile_mils: mean depth of the profile to be filled [mils], >= 0.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: practical coverage = theoretical coverage x the share that reaches the floor, common practice; profile
    taken as added film, common practice.
    """
    _require_loss(loss)
    require_between("Profile depth", profile_mils, 0, 250, "mils")
    require_positive("Dry film thickness", dry_film_mils, "mils")
    return theoretical_coverage_ft2_per_gal(volume_solids, dry_film_mils + profile_mils) * (1 - loss)


def wet_film_mils(dry_film_mils: float, volume_solids: float) -> float:
    """Return the wet film that dries to a given film [mils].

    Args:
        dry_film_mils: thickness when dry [mils], > 0.
        volume_solids: solids by volume as laid, after thinning, fraction, 0.001 to 1.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: dry film = wet film x solids by volume, UFC 3-190-06 (2004), par. 2.1.5.
    """
    _require_solids(volume_solids)
    require_positive("Dry film thickness", dry_film_mils, "mils")
    return dry_film_mils / volume_solids


def dry_film_mils(wet_film_mils: float, volume_solids: float) -> float:
    """Return the film that a wet film dries to [mils].

    Args:
        wet_film_mils: thickness when wet [mils], > 0.
        volume_solids: solids by volume as laid, after thinning, fraction, 0.001 to 1.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: dry film = wet film x solids by volume, UFC 3-190-06 (2004), par. 2.1.5.
    """
    _require_solids(volume_solids)
    require_positive("Wet film thickness", wet_film_mils, "mils")
    return wet_film_mils * volume_solids


def wet_film_of_spread_mils(spread_ft2_per_gal: float) -> float:
    """Return the wet film that a spread rate lays on a smooth, closed surface [mils].

    Args:
        spread_ft2_per_gal: area laid with one US gallon [ft²/gal], > 0.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: 1604.17 ft² per gal at 1 mil (NIST Handbook 44, App. C).
    """
    require_positive("Spread rate", spread_ft2_per_gal, "ft²/gal")
    return COVERAGE_FT2_PER_GAL_AT_ONE_MIL / spread_ft2_per_gal


def spread_of_wet_film_ft2_per_gal(wet_film_mils: float) -> float:
    """Return the spread rate that lays a wet film [ft²/gal]; the inverse of `wet_film_of_spread_mils`.

    Args:
        wet_film_mils: thickness when wet [mils], > 0.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: 1604.17 ft² per gal at 1 mil (NIST Handbook 44, App. C).
    """
    require_positive("Wet film thickness", wet_film_mils, "mils")
    return COVERAGE_FT2_PER_GAL_AT_ONE_MIL / wet_film_mils


def thinned_solids(volume_solids: float, thinner_share: float) -> float:
    """Return solids by volume after thinning, fraction.

    Args:
        volume_solids: solids by volume before, fraction, 0.001 to 1.
        thinner_share: volume of thinner per volume of material, fraction, 0 to 2.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: UFC 3-190-06 (2004), par. 2.1.5 (thinning lowers solids); the quotient follows from adding volumes.
    """
    _require_solids(volume_solids)
    require_between("Thinner per volume of material", thinner_share, 0, 2)
    return volume_solids / (1 + thinner_share)


def film_need_gal(
    area_ft2: float, volume_solids: float, dry_film_mils: float, loss: float = 0.0, profile_mils: float = 0.0
) -> float:
    """Return what one coat of a film takes [gal].

    Args:
        area_ft2: area to coat [ft²], >= 0.
        volume_solids: solids by volume, fraction, 0.001 to 1.
        dry_film_mils: thickness when dry, above the peaks [mils], > 0.
        loss: share that ends elsewhere than on the floor, fraction, 0 to 0.9.
        profile_mils: mean depth of the profile to be filled [mils], >= 0.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: area over `practical_coverage_ft2_per_gal`.
    """
    require_between("Area", area_ft2, 0, 1e7, "ft²")
    return area_ft2 / practical_coverage_ft2_per_gal(volume_solids, dry_film_mils, loss, profile_mils)


def rate_need(area_ft2: float, spread_ft2_per_unit: float, loss: float = 0.0, first_coat_factor: float = 1.0) -> float:
    """Return what one coat of a rate material takes, in the material's unit.

    Args:
        area_ft2: area to coat [ft²], >= 0.
        spread_ft2_per_unit: area that one unit covers [ft² per unit], > 0.
        loss: share that ends elsewhere than on the floor, fraction, 0 to 0.9.
        first_coat_factor: how much more the first coat on bare concrete takes than a later one, 1 to 5.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: arithmetic; that the first coat takes more, up to about twice, is common practice.
    Paint tables such as TM 43-0139, Table 3-2, show the same.
    """
    require_between("Area", area_ft2, 0, 1e7, "ft²")
    require_positive("Spread rate", spread_ft2_per_unit, "ft² per unit")
    _require_loss(loss)
    require_between("First-coat factor", first_coat_factor, 1, 5)
    return area_ft2 / spread_ft2_per_unit * first_coat_factor / (1 - loss)


def split_mix(total: float, ratio: Sequence[float]) -> tuple[float, ...]:
    """Return the parts of a mix, in the unit of `total`, in the order of `ratio`.

    Args:
        total: amount to be mixed, > 0.
        ratio: parts by volume of each component, two or more, each > 0: (2, 1) is two of A to one of B.

    Raises:
        OutOfRangeError: an argument is outside its range.

    Source: arithmetic; UFC 3-190-06 (2004), par. 2.2.3, asks for the exact ratio.
    """
    require_positive("Amount to mix", total)
    require_between("Number of components", len(ratio), 2, 10)
    for part in ratio:
        require_positive("Part of the mix ratio", part)
    return tuple(total * part / sum(ratio) for part in ratio)
