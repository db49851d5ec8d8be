"""The slab's overall shade: from cards, from what the user states, or from the photo itself."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.cards import Anchor, Sheets, anchor_of, read_cards
from finishadvisor.evenness.color import lab_from_linear, light_from_log, linear_from_lab, log_light
from finishadvisor.evenness.masks import card_cells
from finishadvisor.evenness.photo import Photo
from finishadvisor.evenness.plane import Plane
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.separate import Separated
from finishadvisor.evenness.sun import SunPattern
from finishadvisor.evenness.words import Caveat

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

ONE_LIGHT: Final = 1e-6
"""Log light by which the cells about a card may differ where all of them lie in the sun, or in the shade."""


@dataclass(frozen=True)
class Leveled:
    """Shade at its level.

    Attributes:
        lab: CIELAB of each cell, shape (rows, cols, 3).
        balance: log brightness, ln R/G, ln B/G of reflectance, shape (rows, cols, 3).
        level: where the level came from.
        caveats: what the cards gave rise to.
        cards_used: how many cards were used.
    """

    lab: Array
    balance: Array
    level: Literal["sheet", "stated", "assumed"]
    caveats: tuple[Caveat, ...]
    cards_used: int


def set_level(
    photo: Photo,
    plane: Plane,
    grid: Grid,
    separated: Separated,
    *,
    used: Mask,
    sheets: Sheets,
    stated_lab: tuple[float, float, float] | None,
    sun: SunPattern | None = None,
) -> Leveled:
    """Return the shade at the level that cards, the user or the photo give.

    Args:
        photo: the photo.
        plane: the slab's plane.
        grid: the cells.
        separated: the cells with the lighting taken out.
        used: True for cells that count.
        sheets: pixels and reflectances of cards.
        stated_lab: the slab's typical shade as the user states it.
        sun: what sun and shade add to the light, taken out of the cells already.
    """
    cards = read_cards(photo, plane, sheets, lambda x_ft, y_ft: _sun_on_card(sun, grid, (x_ft, y_ft)))
    caveats: list[Caveat] = []
    if sheets and not cards:
        caveats.append(Caveat.CARDS_UNUSABLE)
    balance = separated.shade
    if cards:
        places = np.array([(card.x_ft, card.y_ft) for card in cards])
        fields = separated.light.at(plane, places[:, 0], places[:, 1])
        anchor, drifts = anchor_of(cards, fields, plane, steep=separated.light.shape.walls)
        if drifts:
            caveats.append(Caveat.DRIFT_FROM_CARDS)
        balance = balance - _over_cells(anchor, plane, grid)
    if stated_lab is not None:
        wanted = log_light(linear_from_lab(np.array(stated_lab, dtype=np.float64)))
        balance = balance - np.median(balance[used], axis=0) + wanted
    elif not cards:
        balance = balance - np.median(balance[used], axis=0) + _own_level(separated, used, sun)
    level: Literal["sheet", "stated", "assumed"] = (
        "stated" if stated_lab is not None else "sheet" if cards else "assumed"
    )
    lab = lab_from_linear(light_from_log(balance))
    return Leveled(lab, balance, level, tuple(caveats), len(cards))


def _sun_on_card(sun: SunPattern | None, grid: Grid, place_ft: tuple[float, float]) -> Array | None:
    """Return what sun and shade add to the log light of a card, shape (3,); None where their border crosses it."""
    if sun is None:
        return np.zeros(3)
    there = sun.field[card_cells(place_ft, grid)]
    return np.asarray(there.mean(axis=0)) if len(there) and np.ptp(there, axis=0).max() < ONE_LIGHT else None


def _over_cells(anchor: Anchor, plane: Plane, grid: Grid) -> Array:
    x, y = grid.centers_ft()
    return anchor.over(plane, *np.meshgrid(x, y))


def _own_level(separated: Separated, used: Mask, sun: SunPattern | None) -> Array:
    """Return the photo's own median, its lightness kept to the range that slabs have."""
    photographed = separated.shade + separated.field + (0.0 if sun is None else sun.field)
    own = np.median(photographed[used], axis=0)
    light = light_from_log(own)
    lightness = float(lab_from_linear(light)[0])
    kept = float(np.clip(lightness, evenness_limit("level-low"), evenness_limit("level-high")))
    wanted, has = (linear_from_lab(np.array([value, 0.0, 0.0]))[0] for value in (kept, max(lightness, 1.0)))
    return np.asarray(log_light(light * (wanted / has)))
