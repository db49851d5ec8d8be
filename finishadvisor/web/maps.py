"""Pictures of a measured floor for the page: the squared-up photo and the shade of every cell, row 0 on top."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from finishadvisor.job.document import Floor
from finishadvisor.records.shade import Measurement, ShadeMap
from finishadvisor.whole_job.saved import MEASURED, fingerprint

LONGEST_SIDE_PX: Final = 900


def map_path(folder: Path, floor: Floor, number: int, what: str) -> Path:
    """Return where a picture of a floor's photo is kept; its name holds what it follows from.

    Args:
        folder: the job folder.
        floor: the floor.
        number: the photo's number on the floor, from 1.
        what: "squared" or "shade".
    """
    return folder / MEASURED / f"page-{fingerprint(folder, floor)[:16]}-{number}-{what}.png"


def write_maps(folder: Path, floor: Floor, measurements: Sequence[Measurement]) -> None:
    """Write the pictures of every photo that was measured."""
    for number, measured in enumerate(measurements, start=1):
        if measured.shade is None:
            continue
        _save(measured.shade.picture[::-1], map_path(folder, floor, number, "squared"))
        _save(_shade_colors(measured.shade)[::-1], map_path(folder, floor, number, "shade"))


def _save(pixels: Any, path: Path) -> None:
    from PIL import Image

    picture = Image.fromarray(pixels)
    picture.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    unfinished = path.with_suffix(".unfinished")
    picture.save(unfinished, "PNG")
    unfinished.replace(path)


def _shade_colors(shade: ShadeMap) -> Any:
    """Return the map's colors with the papers' own scale, shape (rows, cols, 4); masked cells are left clear."""
    import matplotlib as mpl
    import numpy as np

    from finishadvisor.papers.shade_map import END_OF_BAR, signed_difference

    share = np.clip(signed_difference(shade) / END_OF_BAR, -1, 1) / 2 + 0.5
    colors = mpl.colormaps["PuOr_r"](np.nan_to_num(share, nan=0.5), bytes=True)
    colors[..., 3] = np.where(shade.used, 255, 0)
    return colors
