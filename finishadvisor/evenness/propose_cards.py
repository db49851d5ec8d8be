"""Gray cards and white sheets found on a slab, to be proposed and checked by a person; none in doubt."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.plane import solve_homography
from finishadvisor.evenness.propose import Corners, Floats, color_steps, working_copy
from finishadvisor.evenness.quadrilateral import LEAST_CONTRAST, as_quad, edge_along, polygon_area

SEARCH_SIDE_PX: Final = 960
"""Longest side of the copy that is searched: a letter sheet 20 ft away is then some 20 pixels wide (our choice)."""
CALM_STEP: Final = 2.5
"""Color steps [CIELAB units a pixel] that bound a card (our choice)."""
LEAST_PIXELS: Final = 60
MOST_SHARE: Final = 0.03
"""Area of a card in pixels of the copy and as a share of the slab: less is a spot, more is no sheet (our choice)."""
LEAST_FILLED: Final = 0.88
"""A disk fills 0.79 of the square around it, a little more in pixels: no pail or spot is taken for a card."""
MOST_LONG: Final = 4.0
"""Longest side to shortest: a board is longer, a letter sheet seen flat from eye height about as long (our choice)."""
NEUTRAL_CHROMA: Final = 10.0
"""Chroma [CIELAB] of a neutral sheet in a photo whose white balance is a little off (our choice)."""
MOST_SKEWED: Final = 0.2
"""How far a sheet that lies flat may be from a parallelogram on the slab's plane, over its diagonal: a pixel or two at
each corner of a small one (our choice)."""
EVEN_SPREAD: Final = 2.5
"""Standard deviation of lightness within a sheet [L*] (our choice)."""
GRAY_CARD: Final = 0.18
WHITE_SHEET: Final = 0.85
DARKEST_SLAB: Final = 0.04
LIGHTEST_SLAB: Final = 0.42
"""Reflectances between which bare slabs lie, black-pigmented to white-cement (our choice): a sheet whose luminance over
the slab's fits only one of the two kinds is proposed as that kind. One that fits both, as a gray card on a dark slab
and white paper on a light one do, is proposed as a sheet whose kind a person must tell: the camera sets its exposure by
the slab, so that how light the slab is cannot be seen in the photo."""
DOUBT: Final = 1.25
"""How far the two luminances may be off by light that falls off and by the camera's tone curve (our choice)."""


class ProposedCard(NamedTuple):
    """A card that was found: its middle in pixels, x and y, and its reflectance, None where it may be either kind."""

    at: tuple[float, float]
    reflectance: float | None


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
    found = [_card_at(smooth, parts == k, slab, np.array(corners) * scale) for k in fit]
    cards = [card for card in found if card is not None]
    agree = len({card.reflectance for card in cards}) == 1  # sheets on one slab are mostly of one kind
    return tuple(
        ProposedCard((card.at[0] / scale, card.at[1] / scale), card.reflectance if agree else None) for card in cards
    )


def _card_at(
    smooth: Floats, region: NDArray[np.bool_], slab: NDArray[np.bool_], corners: Floats
) -> ProposedCard | None:
    """Return the card that a region is, its place in pixels of the copy, or None."""
    quad = as_quad(region)
    if quad is None or region.sum() < LEAST_FILLED * polygon_area(quad) or _skewed(quad, corners) > MOST_SKEWED:
        return None
    lengths = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    shade, spread = np.median(smooth[region], axis=0), float(smooth[region][:, 0].std())
    if lengths.max() > MOST_LONG * lengths.min() or spread > EVEN_SPREAD or np.hypot(*shade[1:]) > NEUTRAL_CHROMA:
        return None
    middle = quad.mean(axis=0)
    edges = [edge_along(smooth, quad[k], quad[(k + 1) % 4], middle) for k in range(4)]
    seen = [edge for edge in edges if edge is not None]
    rows, cols = np.clip(np.array([edge.start for edge in seen]).reshape(-1, 2).astype(int).T[::-1], 0, None)
    if any(float(np.linalg.norm(edge.outside - edge.inside)) < LEAST_CONTRAST for edge in seen):
        return None  # the same color goes on beyond a line: a joint through a spot is no side
    if len(seen) < 4 or not slab[np.minimum(rows, slab.shape[0] - 1), np.minimum(cols, slab.shape[1] - 1)].all():
        return None
    around = float(np.median([_luminance(edge.outside[0]) for edge in seen]))
    kinds = _kinds(_luminance(float(shade[0])) / around)
    return ProposedCard((float(middle[0]), float(middle[1])), kinds[0] if len(kinds) == 1 else None) if kinds else None


def _skewed(quad: Floats, corners: Floats) -> float:
    """Return how far four corners are from a parallelogram on the slab's plane, over their diagonal.

    Whatever the slab's sides are: what is parallel stays so when a side is stretched.
    """
    to_plane = np.linalg.inv(solve_homography(np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]), corners))
    places = np.column_stack([quad, np.ones(4)]) @ to_plane.T
    on_slab = places[:, :2] / places[:, 2:]
    diagonal = max(np.linalg.norm(on_slab[2] - on_slab[0]), np.linalg.norm(on_slab[3] - on_slab[1]))
    return float(np.linalg.norm(on_slab[0] - on_slab[1] + on_slab[2] - on_slab[3]) / diagonal)


def _luminance(lightness: float) -> float:
    """Return relative luminance from L*. Source: CIE 15:2018, 8.2.1.1."""
    from skimage.color import lab2xyz

    return float(lab2xyz(np.array([[[lightness, 0.0, 0.0]]]))[0, 0, 1])


def _kinds(over_slab: float) -> list[float]:
    """Return the reflectances of the kinds that may be so many times as light as a slab."""
    return [
        kind
        for kind in (GRAY_CARD, WHITE_SHEET)
        if kind / LIGHTEST_SLAB / DOUBT <= over_slab <= kind / DARKEST_SLAB * DOUBT
    ]
