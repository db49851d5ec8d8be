"""Photos of every kind that a person may hand in."""

import io
import struct
import zlib
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms, PngImagePlugin

WIDTH_PX, HEIGHT_PX = 128, 96
SIZE_FT = (2.0, 1.5)
"""A small slab that fills the frame: 5.3 pixels an inch are enough to be measured, and quick."""


def slab_codes(width_px: int = WIDTH_PX, height_px: int = HEIGHT_PX) -> NDArray[np.uint8]:
    """Return a reddish slab with grain and one paler patch, shape (rows, cols, 3)."""
    grain = np.random.default_rng(5).normal(0, 5, (height_px, width_px, 1))
    codes = np.array([150.0, 112, 96]) + grain
    codes[height_px // 3 : height_px // 2, width_px // 4 : width_px // 2] += 14
    return codes.clip(0, 255).astype(np.uint8)


def slab(mode: str = "RGB") -> Image.Image:
    return Image.fromarray(slab_codes()).convert(mode)


def saved(image: Image.Image, form: str, **options: Any) -> bytes:
    file = io.BytesIO()
    image.save(file, form, **options)
    return file.getvalue()


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(width: int, height: int, depth: int, color: int, rows: bytes, *between: bytes) -> bytes:
    head = struct.pack(">IIBBBBB", width, height, depth, color, 0, 0, 0)
    body = chunk(b"IHDR", head) + b"".join(between) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def png_16_bit() -> bytes:
    codes = slab_codes().astype(">u2") * 257
    rows = b"".join(b"\0" + row.tobytes() for row in codes)
    return png(WIDTH_PX, HEIGHT_PX, 16, 2, rows)


def wide_gamut_profile() -> bytes:
    """Return a matrix profile of wider primaries (P3 primaries adapted to D50, four decimals), gamma 2.2."""

    def xyz(*numbers: float) -> bytes:
        return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(number * 65536) for number in numbers))

    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, 563) + b"\0\0"
    tags = [(b"rXYZ", xyz(0.5151, 0.2412, -0.0011)), (b"gXYZ", xyz(0.2919, 0.6922, 0.0419)),
            (b"bXYZ", xyz(0.1571, 0.0666, 0.7841)), (b"rTRC", curve), (b"gTRC", curve), (b"bTRC", curve)]  # fmt: skip
    return profile_of(tags)


def profile_of(tags: list[tuple[bytes, bytes]]) -> bytes:
    """Return an RGB profile that holds these tags."""
    place, table, body = 132 + 12 * len(tags), b"", b""
    for name, content in tags:
        table += struct.pack(">4sII", name, place + len(body), len(content))
        body += content
    header = bytearray(128)
    header[0:4] = struct.pack(">I", place + len(body))
    header[8:12] = b"\2\x40\0\0"
    header[12:24] = b"mntrRGB XYZ "
    header[36:40] = b"acsp"
    return bytes(header) + struct.pack(">I", len(tags)) + table + body


def with_orientation(number: int, form: str = "JPEG") -> bytes:
    exif = Image.Exif()
    exif[0x0112] = number
    return saved(slab(), form, exif=exif)


def with_camera_notes() -> bytes:
    """Return a photo whose notes hold flash, zoom, focal length and a place."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8769).update({0x9209: 1, 0xA404: 2.0, 0xA405: 13})
    exif.get_ifd(0x8825).update({1: "N", 2: (40.0, 30.0, 0.0)})
    return saved(slab(), "JPEG", exif=exif)


def heic(mode: str = "RGB", **options: Any) -> bytes:
    import pillow_heif

    pillow_heif.register_heif_opener()
    return saved(slab(mode), "HEIF", **options)


def turned() -> Image.Image:
    return slab().transpose(Image.Transpose.ROTATE_180)


@cache
def whole_photos() -> dict[str, bytes]:
    """Return undamaged pictures by kind."""
    return jpegs() | pngs() | others()


def jpegs() -> dict[str, bytes]:
    lab_profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    exact_profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    kinds = {
        "jpeg": saved(slab(), "JPEG", quality=90),
        "jpeg full color": saved(slab(), "JPEG", quality=95, subsampling=0),
        "jpeg progressive": saved(slab(), "JPEG", progressive=True),
        "jpeg gray": saved(slab("L"), "JPEG"),
        "jpeg CMYK": saved(slab("CMYK"), "JPEG"),
        "jpeg sRGB profile": saved(slab(), "JPEG", icc_profile=exact_profile),
        "jpeg wide gamut": saved(slab(), "JPEG", icc_profile=wide_gamut_profile()),
        "jpeg wrong profile": saved(slab(), "JPEG", icc_profile=lab_profile),
        "jpeg camera notes": with_camera_notes(),
        "mpo": saved(slab(), "MPO", save_all=True, append_images=[turned()]),
    }
    return kinds | {f"jpeg orientation {number}": with_orientation(number) for number in range(1, 9)}


def pngs() -> dict[str, bytes]:
    text = PngImagePlugin.PngInfo()
    text.add_text("note", "n" * 5000, zip=True)
    kinds = {
        "png": saved(slab(), "PNG"),
        "png gray": saved(slab("L"), "PNG"),
        "png gray 16 bit": saved(Image.fromarray(slab_codes()[:, :, 0].astype(np.uint16) * 257), "PNG"),
        "png 16 bit": png_16_bit(),
        "png palette": saved(slab("P"), "PNG"),
        "png palette see-through": saved(slab("P"), "PNG", transparency=3),
        "png alpha": saved(slab("RGBA"), "PNG"),
        "png gray alpha": saved(slab("LA"), "PNG"),
        "png black and white": saved(slab("1"), "PNG"),
        "png text": saved(slab(), "PNG", pnginfo=text),
        "png wide gamut": saved(slab(), "PNG", icc_profile=wide_gamut_profile()),
        "png animated": saved(slab(), "PNG", save_all=True, append_images=[turned(), slab()]),
    }
    return kinds | {f"png orientation {number}": with_orientation(number, "PNG") for number in (3, 6)}


def others() -> dict[str, bytes]:
    return {
        "tiff": saved(slab(), "TIFF"),
        "tiff deflated": saved(slab(), "TIFF", compression="tiff_adobe_deflate"),
        "tiff LZW": saved(slab(), "TIFF", compression="tiff_lzw"),
        "tiff JPEG": saved(slab(), "TIFF", compression="jpeg"),
        "tiff CMYK": saved(slab("CMYK"), "TIFF"),
        "tiff 16 bit": saved(Image.fromarray(slab_codes()[:, :, 0].astype(np.uint16) * 257), "TIFF"),
        "tiff fractions": saved(slab("F"), "TIFF"),
        "tiff integers": saved(slab("I"), "TIFF"),
        "tiff CIELAB": saved(slab("LAB"), "TIFF"),
        "tiff pages": saved(slab(), "TIFF", save_all=True, append_images=[turned()]),
        "webp": saved(slab(), "WEBP"),
        "webp animated": saved(slab(), "WEBP", save_all=True, append_images=[turned()], duration=50),
        "webp alpha": saved(slab("RGBA"), "WEBP", lossless=True),
        "heic": heic(quality=80),
        "heic alpha": heic("RGBA"),
        "heic gray": heic("L"),
        "gif": saved(slab("P"), "GIF"),
        "gif animated": saved(slab("P"), "GIF", save_all=True, append_images=[turned().convert("P")]),
        "bmp": saved(slab(), "BMP"),
    }
