"""Pictures of a measured floor for the page: shade, squared-up photo, bare and sealed looks; row 0 on top."""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from finishadvisor.catalog.models import Catalog, Finish, SealedLook
from finishadvisor.job.document import Floor
from finishadvisor.records.shade import Measurement, ShadeMap
from finishadvisor.whole_job.saved import MEASURED, fingerprint, kept_path

LONGEST_SIDE_PX: Final = 900
QUICK: Final = 3
FASTEST: Final = 1
"""PNG compression of maps, and of a grainy photo, which more work hardly makes smaller (our choice)."""
DARKER_TO_LIGHTER: Final = (
    (45, 0, 75), (84, 39, 136), (128, 115, 172), (178, 171, 210), (216, 218, 235), (247, 247, 247), (254, 224, 182),
    (253, 184, 99), (224, 130, 20), (179, 88, 6), (127, 59, 8),
)  # fmt: skip
"""The scale of the papers' maps, purple to orange, which stay apart for color-blind eyes; written out here because the
drawing library takes longer to load than the map to draw. Source: the open set of map scales of Brewer (2003), PuOr."""
SHADE, SQUARED, BARE, SEALED = "shade", "squared", "bare", "sealed-"


def map_path(folder: Path, floor: Floor, number: int, what: str) -> Path:
    """Return where a picture of a floor's photo is kept; its name holds what it follows from.

    Args:
        folder: the job folder.
        floor: the floor.
        number: the photo's number on the floor, from 1.
        what: "shade", "squared", "bare", or "sealed-" and the id of a finish.
    """
    return folder / MEASURED / f"{_beginning(folder, floor)}{fingerprint(folder, floor)[:16]}-{number}-{what}.png"


def write_maps(folder: Path, floor: Floor, measurements: Sequence[Measurement], catalog: Catalog) -> None:
    """Write the pictures of every photo that was measured; pictures of older marks are taken away."""
    for old in (folder / MEASURED).glob(f"{_beginning(folder, floor)}*.png"):
        old.unlink(missing_ok=True)
    for number, measured in enumerate(measurements, start=1):
        if measured.shade is not None:
            for what, picture in _pictures(measured.shade, catalog.finishes.values(), catalog):
                _save(picture, map_path(folder, floor, number, what))


def _beginning(folder: Path, floor: Floor) -> str:
    return f"page-{kept_path(folder, floor).stem}-"


def _pictures(shade: ShadeMap, finishes: Iterable[Finish], catalog: Catalog) -> Iterator[tuple[str, bytes]]:
    """Yield every picture of one photo as PNG, by what it shows."""
    from finishadvisor.papers.pictures import bare_reflectance, encoded, has_picture, sealed_pixels

    bare = bare_reflectance(shade)
    yield SHADE, _png(_shade_colors(shade)[::-1])
    yield SQUARED, _png(shade.picture[::-1], FASTEST)
    yield BARE, _png(encoded(bare)[::-1])
    drawn: dict[SealedLook, bytes] = {}
    for finish in finishes:
        look = finish.sealed_look
        if look is not None and has_picture(finish, catalog):
            drawn[look] = drawn.get(look) or _png(sealed_pixels(bare, look)[::-1])  # many look alike
            yield SEALED + finish.id, drawn[look]


def _png(pixels: Any, compress_level: int = QUICK) -> bytes:
    """Return a picture as PNG; the cells of a map stay as they are, the browser enlarges them."""
    from io import BytesIO

    import numpy as np
    from PIL import Image

    picture = Image.fromarray(np.ascontiguousarray(pixels))
    picture.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    file = BytesIO()
    picture.save(file, "PNG", compress_level=compress_level)
    return file.getvalue()


def _save(picture: bytes, path: Path) -> None:
    from finishadvisor.job.writing import write_whole

    write_whole(path, picture, lasting=False)


def _shade_colors(shade: ShadeMap) -> Any:
    """Return the map's colors with the papers' own scale, shape (rows, cols, 4); masked cells are left clear."""
    import numpy as np

    from finishadvisor.papers.shade_map import END_OF_BAR, signed_difference

    share = np.nan_to_num(np.clip(signed_difference(shade) / END_OF_BAR, -1, 1) / 2 + 0.5, nan=0.5)
    steps = np.linspace(0, 1, len(DARKER_TO_LIGHTER))
    channels = [np.interp(share, steps, channel) for channel in zip(*DARKER_TO_LIGHTER, strict=True)]
    return np.stack([*channels, np.where(shade.used, 255, 0)], axis=-1).round().astype(np.uint8)
