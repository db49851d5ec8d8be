"""Reading a photo: upright codes, the embedded profile, and the few facts of the camera that matter."""

import contextlib
import logging
import os
import threading
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.errors import PhotoError
from finishadvisor.evenness.profile import Profile, read_profile
from finishadvisor.evenness.words import REFUSAL_SENTENCES, Caveat, Refusal

if TYPE_CHECKING:
    from PIL import Image

FORMATS: Final = ("JPEG", "PNG", "TIFF", "WEBP", "HEIF")
MOST_PIXELS: Final = 100_000_000
"""A phone's largest mode; three bytes each, decoded at once."""
WIDE_LENS_BELOW_MM: Final = 20.0
"""35 mm equivalent focal length below which a phone's lens is its ultra-wide one (common practice, no source)."""

logging.getLogger("PIL").addHandler(logging.NullHandler())  # its remarks on damage: a refusal says it in one line

_one_at_a_time = threading.Lock()
"""Standard error belongs to the whole process."""

_ORIENTATION, _EXIF_PART, _FLASH, _ZOOM, _FOCAL_35 = 0x0112, 0x8769, 0x9209, 0xA404, 0xA405


class RefusedError(PhotoError):
    """A photo that is answered with a refusal instead of a measurement."""

    def __init__(self, refusals: tuple[Refusal, ...], detail: str = "") -> None:
        self.refusals = refusals
        super().__init__(" ".join([detail, *(REFUSAL_SENTENCES[refusal] for refusal in refusals)]).strip())


@dataclass(frozen=True)
class Photo:
    """An upright picture.

    Attributes:
        codes: 8-bit codes, shape (rows, cols, 3), row 0 on top as a viewer shows it.
        profile: how codes become light.
        caveats: what the camera's own notes say against the photo.
    """

    codes: NDArray[np.uint8]
    profile: Profile
    caveats: tuple[Caveat, ...]


def picture_size(path: Path) -> tuple[int, int]:
    """Return width and height [px] of the upright picture from its header alone.

    Raises:
        RefusedError: the file is not a picture, or has too many pixels.
    """
    with _opened(path) as image:
        width, height = image.size
        return (height, width) if _orientation(image) >= 5 else (width, height)


def read_photo(path: Path) -> Photo:
    """Decode a photo.

    Raises:
        RefusedError: the file is not a picture, is cut short, or has too many pixels.
    """
    with _opened(path) as image:
        orientation = _orientation(image)
        caveats = _camera_caveats(image)
        icc = image.info.get("icc_profile")
        try:
            with _library_silent() if image.format == "TIFF" else contextlib.nullcontext():
                codes, high_bytes = _decoded(image)
        except (OSError, ValueError, SyntaxError, EOFError, IndexError, TypeError, MemoryError) as error:
            raise RefusedError((Refusal.CUT_SHORT,), f"{path.name}:") from error
    profile = read_profile(icc if isinstance(icc, bytes) else None, high_bytes)
    if profile.guessed:
        caveats = (*caveats, Caveat.COLOR_PROFILE_GUESSED)
    return Photo(_upright(codes, orientation), profile, caveats)


@contextlib.contextmanager
def _opened(path: Path):  # type: ignore[no-untyped-def]
    """Open the header of a picture.

    Raises:
        RefusedError: the file is not a picture, or has too many pixels.
    """
    import pillow_heif
    from PIL import Image, TiffImagePlugin, WebPImagePlugin  # noqa: F401 - importing makes the format known

    Image.preinit()
    pillow_heif.register_heif_opener()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # Pillow's notes on size and odd metadata: answered by our own check below
            image = Image.open(path, formats=FORMATS)
    except Image.DecompressionBombError as error:
        raise RefusedError((Refusal.TOO_MANY_PIXELS,), f"{path.name}:") from error
    except (OSError, ValueError, SyntaxError, EOFError, TypeError) as error:
        raise RefusedError((Refusal.CANNOT_BE_READ,), f"{path.name}:") from error
    with image, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        if image.size[0] * image.size[1] > MOST_PIXELS:
            raise RefusedError((Refusal.TOO_MANY_PIXELS,), f"{path.name} ({image.size[0]} x {image.size[1]}):")
        yield image


@contextlib.contextmanager
def _library_silent() -> Iterator[None]:
    """Keep what the TIFF library prints about damage off standard error: the refusal says it, in one line."""
    with _one_at_a_time:
        try:
            kept = os.dup(2)
        except OSError:  # a window without a console has no standard error
            yield
            return
        try:
            with Path(os.devnull).open("wb") as nowhere:
                os.dup2(nowhere.fileno(), 2)
            yield
        finally:
            os.dup2(kept, 2)
            os.close(kept)


def _decoded(image: "Image.Image") -> tuple[NDArray[np.uint8], bool]:
    """Return codes, shape (rows, cols, 3), and whether they are the upper bytes of 16-bit ones."""
    if image.mode.startswith("I;16") or image.mode == "I":
        gray = np.asarray(image)
        upper = (np.clip(gray, 0, 65535).astype(np.uint16) >> 8).astype(np.uint8)
        return np.repeat(upper[:, :, None], 3, axis=2), True
    sixteen = image.mode == "RGB" and "16" in str([tile[3:] for tile in getattr(image, "tile", [])])
    if image.mode in {"RGBA", "LA", "PA", "P"}:
        return np.asarray(image.convert("RGBA").convert("RGB")), False
    return np.asarray(image if image.mode == "RGB" else image.convert("RGB")), sixteen


def _orientation(image: "Image.Image") -> int:
    """Return the EXIF orientation, 1 (upright) where there is none; HEIC files are turned by their reader."""
    if image.format == "HEIF":
        return 1
    with contextlib.suppress(Exception):  # any damage to the metadata: the pixels are still good
        value = int(image.getexif().get(_ORIENTATION, 1))
        return value if 1 <= value <= 8 else 1
    return 1


def _upright(codes: NDArray[np.uint8], orientation: int) -> NDArray[np.uint8]:
    """Return the picture as a viewer shows it, without copying. Source: Exif 2.32, tag Orientation."""
    turned = codes.swapaxes(0, 1) if orientation >= 5 else codes
    if orientation in {3, 4, 7, 8}:
        turned = turned[::-1]
    if orientation in {2, 3, 6, 7}:
        turned = turned[:, ::-1]
    return turned


def _camera_caveats(image: "Image.Image") -> tuple[Caveat, ...]:
    """Return what the camera's notes say against the photo; the place is not looked at."""
    found = []
    with contextlib.suppress(Exception):
        notes = image.getexif().get_ifd(_EXIF_PART)
        if int(notes.get(_FLASH, 0)) & 1:
            found.append(Caveat.FLASH)
        if float(notes.get(_ZOOM, 1) or 1) > 1.05:
            found.append(Caveat.DIGITAL_ZOOM)
        if 0 < float(notes.get(_FOCAL_35, 0) or 0) < WIDE_LENS_BELOW_MM:
            found.append(Caveat.ULTRA_WIDE_LENS)
    return tuple(found)
