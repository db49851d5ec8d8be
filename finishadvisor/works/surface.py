"""What the bare slab does to a first coat: how thirsty it is, and how much film its profile swallows."""

from collections.abc import Iterable, Mapping
from typing import Final, Literal, cast

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.finding import FactValue
from finishadvisor.records.works import Band
from finishadvisor.works.limits import limit
from finishadvisor.works.stack import Piece

Absorption = Literal["low", "medium", "high"]

_DENSE: Final = ("hard-steel-trowel",)
_OPEN: Final = ("broom", "sand-float", "exposed-aggregate", "rock-salt", "shot-blasted")
_FILMS: Final = ("acrylic", "epoxy", "urethane", "polyaspartic", "wax", "unknown")


def absorption(facts: Mapping[str, FactValue | None]) -> Absorption:
    """Return how thirsty the slab is: as the water-drop test says, else by its surface.

    Source: common practice, no source: a burned surface sheds water, a broomed or blasted one drinks.
    """
    tested = facts.get("absorption")
    if tested in {"low", "medium", "high"}:
        return cast(Absorption, tested)
    surface = facts.get("surface")
    if surface in _DENSE:
        return "low"
    return "high" if surface in _OPEN else "medium"


def is_open(pieces: Iterable[Piece], facts: Mapping[str, FactValue | None]) -> bool:
    """Return whether the first coat meets bare concrete: no film lies there, or the preparation takes it off."""
    film_lies = facts.get("layers_down") in _FILMS
    return not film_lies or any(piece.certain and piece.item.leaves_csp is not None for piece in pieces)


def profile_fill_mils(pieces: Iterable[Piece], facts: Mapping[str, FactValue | None], catalog: Catalog) -> Band:
    """Return the wet material that fills the profile of the bare slab under a first coat.

    The profile is that of the roughest certain preparation, else that of the surface as placed.
    """
    profiles = [piece.item.leaves_csp for piece in pieces if piece.certain and piece.item.leaves_csp is not None]
    csp = max(profiles) if profiles else _csp_of(facts.get("surface"), catalog)
    expected = _fill_mils(csp, catalog)
    spread = limit(catalog, "profile-fill-spread")
    return Band(low=expected * (1 - spread), expected=expected, high=expected * (1 + spread))


def _fill_mils(csp: float, catalog: Catalog) -> float:
    """Return the fill, straight between the profiles that the catalog knows and no more beyond the roughest."""
    at_1, at_3 = (limit(catalog, f"profile-fill-mils-csp-{number}") for number in (1, 3))
    if csp <= 1:
        return at_1 * csp
    return at_1 + (at_3 - at_1) * (min(csp, 3) - 1) / 2


def _csp_of(surface: FactValue | None, catalog: Catalog) -> float:
    row = catalog.limits.get(f"profile-csp-{surface}")
    return row.value if row else limit(catalog, "profile-csp-unknown")
