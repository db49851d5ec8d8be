"""Neutral cards and sheets: the slab's true level and color, and a slow drift that one photo cannot show."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import log_light
from finishadvisor.evenness.photo import Photo
from finishadvisor.evenness.plane import Plane

Array = NDArray[np.float64]
Sheets = tuple[tuple[tuple[float, float], float], ...]
SunAt = Callable[[float, float], Array | None]
"""Log light, shape (3,), that sun and shade add at a plan point; None where their border crosses a card there."""

HALF_READ_FT = 1.5 / 12
"""A card is read within 1.5 in of its mark, on the slab: a square of pixels would run off a foreshortened card."""
READ_POINTS = 24
SLOPE_SPREAD = 0.15
TONE_SPREAD = 0.15
"""Expected spreads of a real drift per half side, and of the tone curve's slope between slab and card (ln)."""
FEWEST_FOR_DRIFT = 4


@dataclass(frozen=True)
class Card:
    """One card that was read.

    Attributes:
        x_ft: its place along the first side.
        y_ft: its place along the second side.
        balance: log brightness, ln R/G, ln B/G of the light that fell on it, at reflectance 1, without sun and shade.
    """

    x_ft: float
    y_ft: float
    balance: Array


@dataclass(frozen=True)
class Anchor:
    """What the cards say.

    Attributes:
        level: exposure and white balance, added to the lighting field; log brightness, ln R/G, ln B/G.
        slope: drift of the light along x and y per half side that the field got wrong, shape (2, 3).
    """

    level: Array
    slope: Array

    def over(self, plane: Plane, x_ft: Array, y_ft: Array) -> Array:
        """Return what must be added to the lighting field, shape (..., 3)."""
        across = np.stack([2 * x_ft / plane.width_ft - 1, 2 * y_ft / plane.length_ft - 1], axis=-1)
        return np.asarray(self.level + across @ self.slope)


def read_cards(photo: Photo, plane: Plane, sheets: Sheets, sun_at: SunAt) -> list[Card]:
    """Return the cards that can be used: not blown out, not on a shadow's border, neutral, agreeing in color.

    Args:
        photo: the photo.
        plane: the slab's plane.
        sheets: pixels and reflectances of cards.
        sun_at: what sun and shade add at a plan point; a card in both is not used.
    """
    cards = []
    for pixel, reflectance in sheets:
        x_ft, y_ft = plane.to_feet(*pixel)
        light, sun = _read(photo, plane, (x_ft, y_ft)), sun_at(x_ft, y_ft)
        if light is not None and sun is not None:
            cards.append(Card(x_ft, y_ft, log_light(light / reflectance) - sun))
    if len(cards) < 2:
        return cards
    middle = np.median([card.balance for card in cards], axis=0)
    red, blue = evenness_limit("card-red-off"), evenness_limit("card-blue-off")
    return [c for c in cards if abs(c.balance[1] - middle[1]) < red and abs(c.balance[2] - middle[2]) < blue]


def _read(photo: Photo, plane: Plane, place_ft: tuple[float, float]) -> Array | None:
    """Return the mean linear light of a card, or None where it is blown out or not in the frame."""
    offsets = np.linspace(-HALF_READ_FT, HALF_READ_FT, READ_POINTS)
    xx, yy = np.meshgrid(place_ft[0] + offsets, place_ft[1] + offsets)
    u, v = plane.to_pixels(xx.ravel(), yy.ravel())
    good = np.isfinite(u) & (u >= 0) & (v >= 0) & (u < plane.width_px) & (v < plane.height_px)
    if not good.any():
        return None
    codes = photo.codes[v[good].astype(np.intp), u[good].astype(np.intp)].astype(np.int16)
    codes = codes[np.abs(codes - np.median(codes, axis=0)).max(axis=1) <= 12]
    if len(codes) == 0 or codes.mean(axis=0).max() >= evenness_limit("card-top-code"):
        return None
    light = np.stack([photo.profile.table[codes[:, k], k] for k in range(3)], axis=1).mean(axis=0, dtype=np.float64)
    return np.asarray(light if photo.profile.to_srgb is None else photo.profile.to_srgb @ light)


def anchor_of(cards: list[Card], fields: Array, plane: Plane, *, steep: bool) -> tuple[Anchor, bool]:
    """Return level and believed drift from usable cards, and whether a drift was believed.

    Args:
        cards: at least one card.
        fields: the fitted lighting field at each card, shape (n, 3).
        plane: the slab's plane.
        steep: whether the field was fitted to steep light, and is less sure at the cards.
    """
    read_noise = evenness_limit("card-noise-indoors" if steep else "card-noise")
    off = np.array([card.balance for card in cards]) - fields
    level, slope, believed = np.zeros(3), np.zeros((2, 3)), False
    for channel in range(3):
        prior = 1.0 if channel == 0 else 0.25
        noise = read_noise * (1.5 if channel == 2 else 1.0)
        plain = _penalized(off[:, channel], _tone_column(fields[:, channel]), [TONE_SPREAD * prior], noise)
        level[channel] = plain[0][0]
        if len(cards) < FEWEST_FOR_DRIFT:
            continue
        across = np.array([[2 * c.x_ft / plane.width_ft - 1, 2 * c.y_ft / plane.length_ft - 1] for c in cards])
        columns = np.column_stack([_tone_column(fields[:, channel]), across])
        spreads = [TONE_SPREAD * prior, SLOPE_SPREAD * prior, SLOPE_SPREAD * prior]
        drifting = _penalized(off[:, channel], columns, spreads, noise)
        if plain[1] - drifting[1] > evenness_limit("card-drift-gain"):
            level[channel], slope[:, channel], believed = drifting[0][0], drifting[0][2:4], True
    return Anchor(level, slope), believed


def _tone_column(field: Array) -> Array:
    return np.asarray((field - field.mean())[:, None])


def _penalized(wanted: Array, columns: Array, spreads: list[float], noise: float) -> tuple[Array, float]:
    """Return constant and coefficients of a fit with expected spreads, and its penalized squared error."""
    terms = np.column_stack([np.ones(len(wanted)), columns])
    penalty = np.diag([1e-6, *(1 / np.array(spreads) ** 2)])
    found = np.linalg.solve(terms.T @ terms / noise**2 + penalty, terms.T @ wanted / noise**2)
    error = float((((wanted - terms @ found) / noise) ** 2).sum() + found @ penalty @ found)
    return np.asarray(found, dtype=np.float64), error
