"""Reading a photo: upright codes, the embedded profile, and the few facts of the camera that matter."""

import contextlib
import os
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from finishadvisor.evenness.jpeg import ends_early, reduce_on_decoding
from finishadvisor.evenness.picture_file import JPEGS, NOT_A_PICTURE, RefusedError, opened, reduction_of
from finishadvisor.evenness.profile import Profile, read_profile
from finishadvisor.evenness.words import Caveat, Refusal

if TYPE_CHECKING:
    from PIL import Image

__all__ = ["Photo", "RefusedError", "picture_size", "read_photo"]

WIDE_LENS_BELOW_MM: Final = 20.0
"""35 mm equivalent focal length below which a phone's lens is its ultra-wide one (common practice, no source)."""
STRIP_ROWS: Final = 64
"""Rows that are copied at once: a copy of the whole picture would take as much memory again, and twice the time."""
CORNER_PX: Final = 4

_one_at_a_time = threading.Lock()
"""Standard error belongs to the whole process."""

_ORIENTATION, _EXIF_PART, _FLASH, _ZOOM, _FOCAL_35 = 0x0112, 0x8769, 0x9209, 0xA404, 0xA405


@dataclass(frozen=True)
class Photo:
    """An upright picture.

    Attributes:
        codes: 8-bit codes, shape (rows, cols, 3), row 0 on top as a viewer shows it.
        profile: how codes become light.
        caveats: what the camera's own notes say against the photo.
        reduced_by: side of the square of the file's pixels that one pixel here is the mean of.
    """

    codes: NDArray[np.uint8]
    profile: Profile
    caveats: tuple[Caveat, ...]
    reduced_by: int = 1

    def codes_at(self, rows: NDArray[np.int32], cols: NDArray[np.int32]) -> NDArray[np.uint8]:
        """Return the codes of pixels of any shape, shape (..., 3).

        Args:
            rows: rows of the pixels, within the picture.
            cols: their columns, of the same shape.
        """
        if not self.codes.flags.c_contiguous:  # turned upright
            return self.codes[rows, cols]
        return self.codes.reshape(-1, 3).take(rows * np.int32(self.codes.shape[1]) + cols, axis=0)


def picture_size(path: Path) -> tuple[int, int]:
    """Return width and height [px] of the upright picture from its header alone.

    Raises:
        RefusedError: the file is not a picture, or has too many pixels.
    """
    with opened(path) as image:
        width, height = image.size
        return (height, width) if _orientation(image) >= 5 else (width, height)


def read_photo(path: Path) -> Photo:
    """Decode a photo, one of very many pixels at a half, a quarter or an eighth of its width and height.

    Raises:
        RefusedError: the file is not a picture, is cut short, or has too many pixels.
    """
    with opened(path) as image:
        orientation = _orientation(image)
        caveats = _camera_caveats(image)
        icc = image.info.get("icc_profile")
        reduced_by = reduction_of(image)
        try:
            if reduced_by > 1:
                reduce_on_decoding(image, reduced_by)
            with _library_silent() if image.format == "TIFF" else contextlib.nullcontext():
                codes, high_bytes = _decoded(image)
            filled_up = image.format in JPEGS and _one_code(codes) and ends_early(path.read_bytes())
        except (*NOT_A_PICTURE, MemoryError) as error:
            raise RefusedError((Refusal.CUT_SHORT,), f"{path.name}:") from error
    if filled_up:
        raise RefusedError((Refusal.CUT_SHORT,), f"{path.name}:")
    profile = read_profile(icc if isinstance(icc, bytes) else None, high_bytes)
    if profile.guessed:
        caveats = (*caveats, Caveat.COLOR_PROFILE_GUESSED)
    return Photo(_upright(codes, orientation), profile, caveats, reduced_by)


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
    deep_gray = image.mode.startswith("I;16") or image.mode == "I"
    deep_color = image.mode == "RGB" and "16" in str([tile[3:] for tile in getattr(image, "tile", [])])
    image.load()
    width, height = image.size
    codes = np.empty((height, width, 3), dtype=np.uint8)
    for top in range(0, height, STRIP_ROWS):
        bottom = min(top + STRIP_ROWS, height)
        strip = image.crop((0, top, width, bottom))
        codes[top:bottom] = _upper_bytes(strip) if deep_gray else _three_colors(strip)
    return codes, deep_gray or deep_color


def _upper_bytes(strip: "Image.Image") -> NDArray[np.uint8]:
    """Return the upper bytes of 16-bit grays, shape (rows, cols, 1)."""
    upper: NDArray[np.uint8] = (np.clip(np.asarray(strip), 0, 65535).astype(np.uint16) >> 8).astype(np.uint8)
    return upper[:, :, None]


def _three_colors(strip: "Image.Image") -> NDArray[np.uint8]:
    """Return red, green and blue codes, what is see-through as if it were not, shape (rows, cols, 3)."""
    if strip.mode in {"LA", "PA", "P"}:
        strip = strip.convert("RGBA")
    return np.asarray(strip if strip.mode == "RGB" else strip.convert("RGB"))


def _one_code(codes: NDArray[np.uint8]) -> bool:
    """Tell whether the last corner is one plain color, as it is where a decoder had to fill up the picture."""
    corner = codes[-CORNER_PX:, -CORNER_PX:]
    return bool((corner == corner[-1, -1]).all())


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
