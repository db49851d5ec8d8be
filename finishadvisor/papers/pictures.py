"""Pictures of this slab: its measured shade as it may look under each finish, and the photo with its marks."""

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from finishadvisor.catalog.models import Catalog, Finish, SealedLook
from finishadvisor.formulas.reflection import sealed_reflectance, tinted_reflectance
from finishadvisor.job.document import Photo
from finishadvisor.papers.figures import HOLD, INK, WORK
from finishadvisor.records.shade import Measurement, ShadeMap

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from PIL.Image import Image

    Array = NDArray[np.float64]

LONGEST_SIDE_PX: Final = 480
PHOTO_SIDE_PX: Final = 860
"""At the width that the report gives a photo this is 300 dots per inch and more, upright too (our choice)."""
_QUALITY: Final = {"photo": 82, "shade": 92}
"""Of a JPEG; a slab reckoned from its shade keeps its colors exactly enough to be told apart (our choice)."""
ORIENTATION: Final = 0x0112
"""The EXIF tag that says how a photo is turned."""
CUTS: Final = 40
"""Phase of the work items that cut concrete away: the shade below is not the one that was measured."""


def has_picture(finish: Finish, catalog: Catalog) -> bool:
    """Return whether the look can be drawn from the measured shade: no finish that is ground or polished first."""
    items = (*finish.preparation, *(item for layer in finish.layers for item in layer.before))
    ground = any(catalog.work_items[item].phase == CUTS for item in items)
    return finish.sealed_look is not None and finish.family != "polish" and not ground


def sealed_picture(shade: ShadeMap, look: SealedLook) -> bytes:
    """Return the slab from above as it may look under a finish, as JPEG, its first side along the bottom.

    The light of the photo is taken out.
    """
    return _jpeg(_sized(_image(sealed_pixels(bare_reflectance(shade), look)[::-1]), LONGEST_SIDE_PX), "shade")


def sealed_pixels(bare: "Array", look: SealedLook) -> "NDArray[np.uint8]":
    """Return the look of each cell from the bare slab's reflectance, both of shape (rows, cols, 3), row 0 at y = 0."""
    sealed = np.asarray(sealed_reflectance(bare, look.wet))
    if look.hiding > 0:  # no tint is chosen yet: one in the slab's own color is drawn, as the measurement takes it
        sealed = np.asarray(tinted_reflectance(sealed, np.median(sealed.reshape(-1, 3), axis=0), look.hiding))
    return encoded(np.clip(sealed, 0.0, 1.0))


def bare_reflectance(shade: ShadeMap) -> "Array":
    """Return the linear sRGB reflectance of each cell, shape (rows, cols, 3), 0 to 1.

    A cell that could not be measured takes the shade of the nearest one that was.
    """
    from scipy.ndimage import distance_transform_edt
    from skimage.color import lab2rgb

    known = shade.used & np.isfinite(shade.lab).all(axis=2)
    if known.any():
        rows, cols = distance_transform_edt(~known, return_distances=False, return_indices=True)
        lab = shade.lab[rows, cols]
    else:
        lab = np.broadcast_to(np.asarray(shade.typical_lab), shade.lab.shape)
    signal = np.clip(np.asarray(lab2rgb(lab), dtype=np.float64), 0.0, 1.0)
    return np.where(signal <= 0.04045, signal / 12.92, ((signal + 0.055) / 1.055) ** 2.4)


def encoded(linear: "Array") -> "NDArray[np.uint8]":
    """Return linear sRGB as the numbers of a picture file (IEC 61966-2-1), any shape."""
    signal = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 0.0) ** (1 / 2.4) - 0.055)
    return np.asarray(np.round(signal * 255), dtype=np.uint8)


def largest_bay(measurements: Sequence[Measurement]) -> ShadeMap | None:
    """Return the map that shows most of a floor, None where no photo was measured."""
    shades = [measured.shade for measured in measurements if measured.shade is not None]
    return max(shades, key=lambda shade: shade.width_ft * shade.length_ft * float(shade.used.mean()), default=None)


def marked_photo(path: Path, photo: Photo) -> bytes | None:
    """Return the photo with corners, cards and places left out drawn in, as JPEG; None where it cannot be opened."""
    from PIL import Image, ImageOps
    from pillow_heif import register_heif_opener

    register_heif_opener()
    try:
        with Image.open(path) as opened:
            turned = opened.getexif().get(ORIENTATION, 1) in {5, 6, 7, 8}
            full_width = opened.height if turned else opened.width
            opened.draft("RGB", (PHOTO_SIDE_PX, PHOTO_SIDE_PX))  # a JPEG is decoded at about the size that is shown
            ImageOps.exif_transpose(opened, in_place=True)
            small = _sized(opened if opened.mode == "RGB" else opened.convert("RGB"), PHOTO_SIDE_PX)
    except (OSError, ValueError, Image.DecompressionBombError):
        return None
    _draw_marks(small, photo, small.width / full_width)
    return _jpeg(small, "photo")


def _draw_marks(picture: "Image", photo: Photo, scale: float) -> None:
    from PIL import ImageDraw

    draw = ImageDraw.Draw(picture)
    wide = max(2, round(picture.width / 300))

    def closed(points: Sequence[tuple[float, float]], color: str) -> None:
        outline = [(x * scale, y * scale) for x, y in points]
        draw.line([*outline, outline[0]], fill=color, width=wide, joint="curve")

    def ring(place: tuple[float, float], color: str, filled: bool = False) -> None:
        x, y, radius = place[0] * scale, place[1] * scale, 3.5 * wide
        box = (x - radius, y - radius, x + radius, y + radius)
        draw.ellipse(box, outline=color, width=wide, fill=color if filled else None)

    if photo.corners:
        closed(photo.corners, WORK)
        for number, corner in enumerate(photo.corners):
            ring(corner, WORK, filled=number == 0)
    for point in photo.points:
        ring(point.pixel, WORK)
    for sheet in photo.sheets:
        ring(sheet.at, INK)
    for polygon in photo.leave_out:
        closed(polygon, HOLD)
    for polygon in photo.wet:
        closed(polygon, INK)


def _image(values: Any) -> "Image":
    from PIL import Image

    return Image.fromarray(np.ascontiguousarray(values))


def _sized(picture: "Image", longest_px: int) -> "Image":
    from PIL import Image

    factor = longest_px / max(picture.size)
    size = (max(1, round(picture.width * factor)), max(1, round(picture.height * factor)))
    return picture.resize(size, Image.Resampling.BICUBIC)


def _jpeg(picture: "Image", kind: str) -> bytes:
    file = BytesIO()
    picture.save(file, "JPEG", quality=_QUALITY[kind], subsampling=0)
    return file.getvalue()
