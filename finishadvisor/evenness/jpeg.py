"""How a JPEG file is laid out: whether its picture comes in one scan, and whether its data reach the last block."""

import io
import random
import re
import struct
from typing import TYPE_CHECKING, BinaryIO, Final

if TYPE_CHECKING:
    from PIL import Image

_SCAN: Final = 0xDA
_PLAIN_FRAMES: Final = {0xC0, 0xC1}
_FRAMES: Final = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
_AFTER_DATA: Final = re.compile(rb"\xff[\x01-\xcf\xd8-\xfe]")
"""What ends coded data: a marker, but neither a stuffed byte nor a restart. Source: ITU-T T.81, B.1.1.5 and F.1.2.3."""
REDUCTIONS: Final = (1, 2, 4, 8)
"""By what a decoder can divide width and height; at the last, blocks are single pixels and little work is done."""


def in_one_scan(file: BinaryIO) -> bool:
    """Tell whether all color comes in one scan: such a picture is decoded row by row, others are held in memory whole.

    Args:
        file: the file, read from its beginning.

    Source: ITU-T T.81, B.2.2 (frame header) and B.2.3 (scan header).
    """
    colors = 0
    file.seek(2)
    while len(head := file.read(4)) == 4 and head[0] == 0xFF:
        marker, length = head[1], struct.unpack(">H", head[2:])[0]
        if marker == _SCAN:
            return colors > 0 and file.read(1) == bytes([colors])
        if marker in _FRAMES:
            body = file.read(length - 2)
            colors = body[5] if marker in _PLAIN_FRAMES and len(body) > 5 else 0
        else:
            file.seek(length - 2, io.SEEK_CUR)
    return False


def ends_early(data: bytes) -> bool:
    """Tell whether the coded data end before the picture does, though an end mark follows.

    A decoder fills up such a picture with plain gray. What stands after the data of a whole picture changes nothing, so
    noise put there tells the two apart.

    Args:
        data: the file; it can be decoded.
    """
    end = _end_of_first_scan(data)
    if end is None:
        return False
    chance = random.Random(1)
    noise = b"".join(
        chance.randbytes(200).replace(b"\xff", b"\0") + bytes([0xFF, restart])
        for _ in range(2)
        for restart in range(0xD0, 0xD8)  # whichever a decoder waits for
    )
    return _small(data) != _small(data[:end] + noise + data[end:])


def _end_of_first_scan(data: bytes) -> int | None:
    """Return where the first scan's data end; all the picture's levels are in it. None where no scan can be found."""
    place = 2
    while data[place : place + 1] == b"\xff" and place + 4 <= len(data):
        marker, length = struct.unpack_from(">xBH", data, place)
        place += 2 + length
        if marker == _SCAN:
            found = _AFTER_DATA.search(data, place)
            return found.start() if found else None
    return None


def _small(data: bytes) -> bytes:
    """Return the picture's pixels, reduced as far as the decoder can."""
    from PIL import Image

    with Image.open(io.BytesIO(data), formats=("JPEG",)) as image:
        reduce_on_decoding(image, REDUCTIONS[-1])
        return image.tobytes()


def reduce_on_decoding(image: "Image.Image", by: int) -> None:
    """Have a JPEG decoded at a fraction of its size: each pixel the mean of `by` x `by`, 1, 2, 4 or 8."""
    image.draft(None, (max(1, image.width // by), max(1, image.height // by)))
