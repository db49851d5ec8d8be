"""Gray cards and white sheets found on a slab, to be proposed and checked by a person; none in doubt."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.propose import Corners, Floats, color_steps, working_copy
from finishadvisor.evenness.quadrilateral import as_quad, edge_along, polygon_area

SEARCH_SIDE_PX: Final = 960
"""Longest side of the copy that is searched: a letter sheet 20 ft away is then some 20 pixels wide (our choice)."""
CALM_STEP: Final = 2.5
"""Color steps [CIELAB units a pixel] that bound a card (our choice)."""
LEAST_PIXELS: Final = 60
MOST_SHARE: Final = 0.03
"""Area of a card in pixels of the copy and as a share of the slab: less is a spot, more is no sheet (our choice)."""
LEAST_FILLED: Final = 0.8
"""A disk fills 0.79 of the square around it: no pail is taken for a card."""
MOST_LONG: Final = 4.0
"""Longest side to shortest: a board is longer, a letter sheet seen flat from eye height about as long (our choice)."""
NEUTRAL_CHROMA: Final = 10.0
"""Chroma [CIELAB] of a neutral sheet in a photo whose white balance is a little off (our choice)."""
EVEN_SPREAD: Final = 2.5
"""Standard deviation of lightness within a sheet [L*] (our choice)."""
GRAY_CARD: Final = 0.18
WHITE_SHEET: Final = 0.85
DARKEST_SLAB: Final = 0.04
LIGHTEST_SLAB: Final = 0.42
"""Reflectances between which bare slabs lie, black-pigmented to white-cement (our choice): a sheet whose luminance over
the slab's fits only one of the two kinds is proposed as that kind, and one that fits both is not proposed."""


class ProposedCard(NamedTuple):
    """A card that was found: its middle in pixels, x and y, and its reflectance."""

    at: tuple[float, float]
    reflectance: float


def propose_cards(rgb: NDArray[np.uint8], corners: Corners) -> tuple[ProposedCard, ...]:
    """Return the gray cards and white sheets that lie on the slab.

    Args:
        rgb: sRGB codes, shape (rows, cols, 3), row 0 on top.
        corners: the slab's corners in pixels of the picture given, in order around.
    """
    from scipy.ndimage import gaussian_filter, label
    from skimage.draw import polygon2mask

    lab, scale = working_copy(rgb, SEARCH_SIDE_PX)
    slab = polygon2mask(lab.shape[:2], (np.array(corners) * scale - 0.5)[:, ::-1])
    parts, _ = label(slab & (color_steps(lab) <= CALM_STEP))
    sizes = np.bincount(parts.ravel())
    fit = [k for k in range(1, len(sizes)) if LEAST_PIXELS <= sizes[k] <= MOST_SHARE * slab.sum()]
    smooth = gaussian_filter(lab, (0.7, 0.7, 0))
    found = [_card_at(smooth, parts == k, slab) for k in fit]
    return tuple(
        ProposedCard((card.at[0] / scale, card.at[1] / scale), card.reflectance) for card in found if card is not None
    )


def _card_at(smooth: Floats, region: NDArray[np.bool_], slab: NDArray[np.bool_]) -> ProposedCard | None:
    """Return the card that a region is, its place in pixels of the copy, or None."""
    quad = as_quad(region)
    if quad is None or region.sum() < LEAST_FILLED * polygon_area(quad):
        return None
    lengths = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    shade, spread = np.median(smooth[region], axis=0), float(smooth[region][:, 0].std())
    if lengths.max() > MOST_LONG * lengths.min() or spread > EVEN_SPREAD or np.hypot(*shade[1:]) > NEUTRAL_CHROMA:
        return None
    middle = quad.mean(axis=0)
    edges = [edge_along(smooth, quad[k], quad[(k + 1) % 4], middle) for k in range(4)]
    seen = [edge for edge in edges if edge is not None]
    rows, cols = np.clip(np.array([edge.start for edge in seen]).reshape(-1, 2).astype(int).T[::-1], 0, None)
    if len(seen) < 4 or not slab[np.minimum(rows, slab.shape[0] - 1), np.minimum(cols, slab.shape[1] - 1)].all():
        return None
    around = float(np.median([_luminance(edge.outside[0]) for edge in seen]))
    kind = _kind(_luminance(float(shade[0])) / around)
    return None if kind is None else ProposedCard((float(middle[0]), float(middle[1])), kind)


def _luminance(lightness: float) -> float:
    """Return relative luminance from L*. Source: CIE 15:2018, 8.2.1.1."""
    from skimage.color import lab2xyz

    return float(lab2xyz(np.array([[[lightness, 0.0, 0.0]]]))[0, 0, 1])


def _kind(over_slab: float) -> float | None:
    """Return the reflectance of the only kind that is so much lighter than a slab, None where it is both or neither."""
    kinds = [k for k in (GRAY_CARD, WHITE_SHEET) if k / LIGHTEST_SLAB <= over_slab <= k / DARKEST_SLAB]
    return kinds[0] if len(kinds) == 1 else None
