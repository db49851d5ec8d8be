"""Marks proposed for a photo, for a person to check: nothing of them is kept here."""

from dataclasses import dataclass
from pathlib import Path

Pixel = tuple[float, float]


@dataclass(frozen=True)
class ProposedMarks:
    """What was found in a photo, in pixels of the upright picture, 0,0 the outer corner of the first one.

    Attributes:
        corners: near left, near right, far right, far left; None where they could not be told.
        cards: each card's place and reflectance, None where only a person can tell its kind; none without corners.
    """

    corners: tuple[Pixel, ...] | None = None
    cards: tuple[tuple[Pixel, float | None], ...] = ()


def propose_marks(shown: Path, width_px: int) -> ProposedMarks:
    """Look for the slab's corners, and for cards on it.

    Args:
        shown: the photo made fit to be shown: upright and sRGB.
        width_px: width of the upright photo itself; the marks are in its pixels.

    Raises:
        PhotoError: the picture cannot be opened.
    """
    import numpy as np
    from PIL import Image

    from finishadvisor.errors import PhotoError
    from finishadvisor.evenness.propose import propose_corners
    from finishadvisor.evenness.propose_cards import propose_cards

    try:
        with Image.open(shown) as image:
            rgb = np.asarray(image.convert("RGB"))
    except (OSError, ValueError) as error:
        raise PhotoError(f"{shown.name} cannot be opened.") from error
    corners = propose_corners(rgb)
    if corners is None:
        return ProposedMarks()
    scale = width_px / rgb.shape[1]
    cards = propose_cards(rgb, corners)
    return ProposedMarks(
        tuple(_scaled(corner, scale) for corner in corners),
        tuple((_scaled(card.at, scale), card.reflectance) for card in cards),
    )


def _scaled(place: Pixel, scale: float) -> Pixel:
    return round(place[0] * scale, 1), round(place[1] * scale, 1)
