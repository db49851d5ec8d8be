"""Small photo files that claim, or would unpack to, far more than they hold."""

import struct
import zlib
from functools import cache
from typing import Any

from tests.hostile.odd_photos import HEIGHT_PX, WIDTH_PX, chunk, png, saved, slab


def jpeg_claiming(width: int, height: int, **options: Any) -> bytes:
    """Return a small JPEG whose frame header says another size."""
    data = saved(slab(), "JPEG", **options)
    frame = data.index(b"\xff\xc2" if options.get("progressive") else b"\xff\xc0")
    return data[: frame + 5] + struct.pack(">HH", height, width) + data[frame + 9 :]


def webp_claiming(width: int, height: int) -> bytes:
    """Return a small WebP whose frame header says another size, at most 16,384 a side."""
    data = saved(slab(), "WEBP")
    frame = data.index(b"\x9d\x01\x2a")
    return data[: frame + 3] + struct.pack("<HH", (width - 1) & 0x3FFF, (height - 1) & 0x3FFF) + data[frame + 7 :]


@cache
def bombs() -> dict[str, bytes]:
    """Return small files that claim, or would unpack to, far more than they hold."""
    tiff = bytearray(saved(slab(), "TIFF"))
    first = struct.unpack_from("<I", tiff, 4)[0]
    for entry in range(struct.unpack_from("<H", tiff, first)[0]):
        place = first + 2 + 12 * entry
        if struct.unpack_from("<H", tiff, place)[0] in {256, 257}:
            struct.pack_into("<HII", tiff, place + 2, 4, 1, 60_000)
    nothing = zlib.compress(b"\0" * 40_000_000, 9)
    small = b"\0" * (HEIGHT_PX * (1 + 3 * WIDTH_PX))
    return {
        "png claims 900 MP": png(30_000, 30_000, 8, 2, b"\0" * 1000),
        "png claims 2^31": png(2**31 - 1, 2**31 - 1, 8, 2, b"\0" * 1000),
        "png claims 99 MP": png(9_950, 9_950, 8, 2, b"\0" * 1000),
        "png text unpacks": png(WIDTH_PX, HEIGHT_PX, 8, 2, small, chunk(b"zTXt", b"note\0\0" + nothing)),
        "png profile unpacks": png(WIDTH_PX, HEIGHT_PX, 8, 2, small, chunk(b"iCCP", b"note\0\0" + nothing)),
        "png rows unpack": png(WIDTH_PX, HEIGHT_PX, 8, 2, b"\0" * 40_000_000),
        "png thin": png(60_000, 1, 8, 2, b"\0" * 180_001),
        "png tall": png(1, 60_000, 8, 2, b"\0\0\0\0" * 60_000),
        "png one pixel": png(1, 1, 8, 2, b"\0\0\0\0"),
        "png nothing": png(0, 0, 8, 2, b""),
        "jpeg claims 4290 MP": jpeg_claiming(65_500, 65_500),
        "jpeg claims 200 MP": jpeg_claiming(16_320, 12_240),
        "jpeg claims 81 MP": jpeg_claiming(9_000, 9_000),
        "jpeg progressive claims 121 MP": jpeg_claiming(11_000, 11_000, progressive=True),
        "jpeg progressive claims 99 MP": jpeg_claiming(9_950, 9_950, progressive=True, subsampling=0),
        "webp claims 268 MP": webp_claiming(16_384, 16_384),
        "tiff claims 3600 MP": bytes(tiff),
    }
