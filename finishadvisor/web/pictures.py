"""Photos made fit to be shown: upright, smaller, sRGB, without any note of the camera. Runs in the child process."""

import contextlib
import io
import warnings
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from finishadvisor.errors import PhotoError

if TYPE_CHECKING:
    from PIL import Image

FORMATS: Final = {"JPEG": ".jpg", "PNG": ".png", "TIFF": ".tif", "WEBP": ".webp", "HEIF": ".heic"}
"""Kinds of picture that are let in, by the name that their reader gives them, and the ending they are stored with."""
LONGEST_SIDE_PX: Final = 1600


def write_preview(photo: Path, preview: Path) -> dict[str, Any]:
    """Write a JPEG preview of a photo, and return its upright size and the ending that fits its kind.

    Raises:
        PhotoError: it is not a picture of a kind that is let in, is damaged, or has too many pixels.
    """
    import pillow_heif
    from PIL import Image

    pillow_heif.register_heif_opener()
    Image.MAX_IMAGE_PIXELS = None  # the measurement's own limits are looked at below, before anything is decoded
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # notes on odd metadata and size: the checks below answer
        try:
            with Image.open(photo, formats=tuple(FORMATS)) as image:
                _check_size(photo, image)
                return _shown(image, preview)
        except (OSError, ValueError, SyntaxError, EOFError, IndexError, TypeError, KeyError):
            raise PhotoError(
                "This file is not a picture that can be opened, or it is damaged. Use the camera's own JPEG, HEIC, "
                "PNG, TIFF or WebP file."
            ) from None


def _check_size(photo: Path, image: "Image.Image") -> None:
    """Refuse a picture that could not be measured for its size.

    Raises:
        PhotoError: it has too many or too few pixels.
    """
    from finishadvisor.whole_job.photo_files import most_megapixels

    megapixels, most = image.width * image.height / 1e6, most_megapixels(photo, image.format or "")
    if megapixels > most:
        raise PhotoError(
            f"The picture has {megapixels:.0f} megapixels; a file of this kind may have {most:.0f}. Use the camera's "
            "normal setting, or its JPEG file."
        )
    if min(image.size) < 16:
        raise PhotoError(f"The picture has only {image.width} x {image.height} pixels. Use the original photo.")


def _shown(image: "Image.Image", preview: Path) -> dict[str, Any]:
    from PIL import ImageOps

    kind = "JPEG" if image.format == "MPO" else image.format or ""  # several JPEG pictures in a file: the first counts
    turned = kind != "HEIF" and image.getexif().get(0x0112, 1) in {5, 6, 7, 8}  # HEIC is turned by its reader
    width, height = image.size[::-1] if turned else image.size
    image.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    upright = image if kind == "HEIF" else ImageOps.exif_transpose(image)
    shown = _in_srgb(upright.convert("RGB") if upright.mode not in {"RGB", "L"} else upright)
    shown.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    shown.info.clear()
    shown.save(preview, "JPEG", quality=85)
    return {"width": width, "height": height, "ending": FORMATS[kind]}


def _in_srgb(image: "Image.Image") -> "Image.Image":
    """Return the picture in the browser's own color space; a profile that cannot be read is left out."""
    from PIL import ImageCms

    profile = image.info.get("icc_profile")
    if isinstance(profile, bytes):
        with contextlib.suppress(ImageCms.PyCMSError, OSError, ValueError):
            found = ImageCms.profileToProfile(
                image, ImageCms.ImageCmsProfile(io.BytesIO(profile)), ImageCms.createProfile("sRGB"), outputMode="RGB"
            )
            if found is not None:
                return found
    return image.convert("RGB")
