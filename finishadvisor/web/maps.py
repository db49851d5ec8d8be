"""Pictures of a measured floor for the page: shade, squared-up photo, bare and sealed looks; row 0 on top."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from finishadvisor.catalog.models import Catalog, Finish, SealedLook
from finishadvisor.job.document import Floor
from finishadvisor.records.shade import Measurement, ShadeMap
from finishadvisor.whole_job.saved import MEASURED, fingerprint, kept_path

LONGEST_SIDE_PX: Final = 900
QUICK: Final = 3
"""PNG compression of maps (our choice)."""
PHOTO_QUALITY: Final = 90
"""JPEG quality of the squared-up photo: its grain would make a PNG slow to write and to send (our choice)."""
SHADE, SQUARED, BARE, SEALED = "shade", "squared", "bare", "sealed-"


MapPaths = Callable[[int, str], Path]
"""Where a picture is kept: of a photo by its number on the floor, from 1, and of what it shows, which is "shade",
"squared", "bare", or "sealed-" and the id of a finish."""


def map_paths(folder: Path, floor: Floor) -> MapPaths:
    """Return what tells where the pictures of a floor's photos are kept; their names hold what they follow from.

    The photos are read for it, all of them, once.
    """
    beginning = f"{_beginning(folder, floor)}{fingerprint(folder, floor)[:16]}"
    return lambda number, what: folder / MEASURED / f"{beginning}-{number}-{what}{ending_of(what)}"


def ending_of(what: str) -> str:
    """Return the ending of a picture's file: cells stay as they are in a PNG, a photo is a JPEG."""
    return ".jpg" if what == SQUARED else ".png"


def write_maps(folder: Path, floor: Floor, measurements: Sequence[Measurement], catalog: Catalog) -> None:
    """Write the pictures of every photo that was measured; pictures of older marks are taken away."""
    for old in (folder / MEASURED).glob(f"{_beginning(folder, floor)}*.*g"):
        old.unlink(missing_ok=True)
    paths = map_paths(folder, floor)
    for number, measured in enumerate(measurements, start=1):
        if measured.shade is not None:
            for what, picture in _pictures(measured.shade, catalog.finishes.values(), catalog):
                _save(picture, paths(number, what))


def _beginning(folder: Path, floor: Floor) -> str:
    return f"page-{kept_path(folder, floor).stem}-"


def _pictures(shade: ShadeMap, finishes: Iterable[Finish], catalog: Catalog) -> Iterator[tuple[str, bytes]]:
    """Yield every picture of one photo as a file, by what it shows."""
    from finishadvisor.papers.pictures import bare_reflectance, encoded, has_picture, sealed_pixels

    bare = bare_reflectance(shade)
    yield SHADE, _png(_shade_colors(shade)[::-1])
    yield SQUARED, _jpeg(shade.picture[::-1])
    yield BARE, _png(encoded(bare)[::-1])
    drawn: dict[SealedLook, bytes] = {}
    for finish in finishes:
        look = finish.sealed_look
        if look is not None and has_picture(finish, catalog):
            drawn[look] = drawn.get(look) or _png(sealed_pixels(bare, look)[::-1])  # many look alike
            yield SEALED + finish.id, drawn[look]


def _png(pixels: Any) -> bytes:
    """Return a picture as PNG; the cells of a map stay as they are, the browser enlarges them."""
    return _file(pixels, "PNG", compress_level=QUICK)


def _jpeg(pixels: Any) -> bytes:
    return _file(pixels, "JPEG", quality=PHOTO_QUALITY)


def _file(pixels: Any, kind: str, **settings: int) -> bytes:
    from io import BytesIO

    import numpy as np
    from PIL import Image

    picture = Image.fromarray(np.ascontiguousarray(pixels))
    picture.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    file = BytesIO()
    picture.save(file, kind, **settings)
    return file.getvalue()


def _save(picture: bytes, path: Path) -> None:
    from finishadvisor.job.writing import write_whole

    write_whole(path, picture, lasting=False)


def _shade_colors(shade: ShadeMap) -> Any:
    """Return the map's colors with the papers' own scale, shape (rows, cols, 4); masked cells are left clear."""
    from finishadvisor.papers.shade_scale import colors, signed_difference

    return colors(signed_difference(shade))
