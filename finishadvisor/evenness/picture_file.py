"""Opening a picture file: which kinds are read, how large each may be, and what a large one is reduced by."""

import contextlib
import logging
import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.errors import PhotoError
from finishadvisor.evenness.jpeg import REDUCTIONS, in_one_scan
from finishadvisor.evenness.words import REFUSAL_SENTENCES, Refusal

if TYPE_CHECKING:
    from PIL import Image

FORMATS: Final = ("JPEG", "PNG", "TIFF", "WEBP")
"""Kinds that are read beside HEIF, which has a library of its own."""
JPEGS: Final = ("JPEG", "MPO")
"""A phone's file of several JPEG pictures counts as its first one."""
NOT_A_PICTURE: Final = (OSError, ValueError, SyntaxError, EOFError, IndexError, TypeError, KeyError)
"""What the readers raise on damage."""

logging.getLogger("PIL").addHandler(logging.NullHandler())  # its remarks on damage: a refusal says it in one line


class RefusedError(PhotoError):
    """A photo that is answered with a refusal instead of a measurement."""

    def __init__(self, refusals: tuple[Refusal, ...], detail: str = "") -> None:
        self.refusals = refusals
        super().__init__(" ".join([detail, *(REFUSAL_SENTENCES[refusal] for refusal in refusals)]).strip())


@contextlib.contextmanager
def opened(path: Path) -> "Iterator[Image.Image]":
    """Open the header of a picture; nothing is decoded yet.

    Raises:
        RefusedError: the file is not a picture, or has too many pixels.
    """
    from PIL import Image, TiffImagePlugin, WebPImagePlugin  # noqa: F401 - importing makes the format known

    Image.MAX_IMAGE_PIXELS = None  # its limit knows neither the kind of file nor the way it is decoded; ours does
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # notes on odd metadata: the pixels are what counts
        try:
            image = Image.open(path, formats=_formats_for(path))
        except NOT_A_PICTURE as error:
            raise RefusedError((Refusal.CANNOT_BE_READ,), f"{path.name}:") from error
        with image:
            _check_size(path, image)
            yield image


def _formats_for(path: Path) -> tuple[str, ...]:
    """Return the kinds that a file may be, by how it begins; the library of HEIF is loaded only for its own.

    Source: ISO/IEC 14496-12, FileTypeBox.
    """
    with path.open("rb") as file:
        if file.read(8)[4:] != b"ftyp":
            return FORMATS
    import pillow_heif

    pillow_heif.register_heif_opener()
    return ("HEIF",)


def _check_size(path: Path, image: "Image.Image") -> None:
    """Refuse a picture that is too large for its kind.

    Raises:
        RefusedError: it has too many pixels.
    """
    megapixels, most = image.width * image.height / 1e6, most_megapixels(path, image.format or "")
    if megapixels > most:
        raise RefusedError(
            (Refusal.TOO_MANY_PIXELS,),
            f"{path.name} ({image.width} x {image.height}, {megapixels:.0f} megapixels; a file of this kind may have "
            f"{most:.0f}):",
        )


def most_megapixels(path: Path, kind: str) -> float:
    """Return how many megapixels a picture file may have.

    Args:
        path: the file.
        kind: the name that its reader gives the format.
    """
    if kind == "WEBP":
        return evenness_limit("photo-megapixels-webp")
    if kind not in JPEGS:
        return evenness_limit("photo-megapixels")
    with path.open("rb") as file:
        return evenness_limit("photo-megapixels-jpeg" if in_one_scan(file) else "photo-megapixels")


def reduction_of(image: "Image.Image") -> int:
    """Return by what width and height are divided while a picture is decoded: 1, 2, 4 or 8; 1 where it is not JPEG."""
    if image.format not in JPEGS:
        return 1
    most = evenness_limit("photo-megapixels-kept") * 1e6
    return next((by for by in REDUCTIONS if image.width * image.height <= most * by**2), REDUCTIONS[-1])
