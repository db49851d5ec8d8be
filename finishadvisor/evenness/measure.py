"""One photo to one measurement: the chain from file to grade."""

from dataclasses import replace
from pathlib import Path
from typing import Final

from threadpoolctl import threadpool_limits

from finishadvisor.errors import UsageError
from finishadvisor.evenness import gate
from finishadvisor.evenness.look import Lab, look_at
from finishadvisor.evenness.marks import PhotoMarks, check_marks
from finishadvisor.evenness.photo import RefusedError, picture_size, read_photo
from finishadvisor.evenness.plane import Plane, plane_of
from finishadvisor.evenness.reduced import reduced_marks
from finishadvisor.evenness.result import measurement_of
from finishadvisor.records.evenness import Evenness
from finishadvisor.records.shade import Measurement

__all__ = ["PhotoMarks", "measure"]

LEAST_CELL_IN: Final = 0.25
MOST_CELL_IN: Final = 24.0
MOST_MAP_CELLS: Final = 2_000_000


def measure(
    photo: Path,
    marks: PhotoMarks,
    *,
    cell_in: float = 1.0,
    stated_lab: Lab | None = None,
    days_old: int | None = None,
    days_since_wet: int | None = None,
    with_picture: bool = True,
) -> Measurement:
    """Measure how even the shade of the slab in one photo is.

    Args:
        photo: the picture file.
        marks: corners or known points, size, cards, polygons.
        cell_in: side of the cells of the returned map [in]; the figures do not depend on it.
        stated_lab: the slab's typical shade as the user states it, CIELAB.
        days_old: age of the slab when photographed.
        days_since_wet: days since it was last wetted.
        with_picture: whether the map has the squared-up photo beside it.

    Returns:
        The measurement; a refused photo has the refusal ids, no figures and no map.

    Raises:
        UsageError: the marks cannot be meant (crossed corners, outside the frame, zero or missing size), or the cells
            would be too small or too large.
    """
    try:
        width_px, height_px = picture_size(photo)
        decoded = read_photo(photo)  # before the marks: a photo that cannot be read is refused whatever is marked on it
        check_marks(marks, width_px, height_px)
        marks = reduced_marks(marks, decoded.reduced_by)
        plane = plane_of(marks, *reversed(decoded.codes.shape[:2]))
        _check_cell(cell_in, plane)
        with threadpool_limits(limits=1):  # sums over several threads differ in their last bits from run to run
            slab = look_at(decoded, plane, marks, stated_lab)
    except RefusedError as refused:
        return Measurement(refused_evenness(photo.name, refused), None)
    caveats = (*decoded.caveats, *slab.caveats, *gate.judge_days(days_old, days_since_wet))
    with threadpool_limits(limits=1):
        slab = replace(slab, caveats=tuple(dict.fromkeys(caveats)))
        return measurement_of(photo.name, slab, cell_in, with_picture=with_picture)


def refused_evenness(name: str, refused: RefusedError) -> Evenness:
    """Return the record of a refused photo."""
    return Evenness(photo=name, refused=tuple(refusal.value for refusal in refused.refusals), warnings=(str(refused),))


def _check_cell(cell_in: float, plane: Plane) -> None:
    """Refuse cells that make no map.

    Raises:
        UsageError: the cells are too small or too large for the slab.
    """
    cells = plane.width_ft * plane.length_ft * 144 / cell_in**2 if cell_in > 0 else float("inf")
    if not LEAST_CELL_IN <= cell_in <= MOST_CELL_IN or cells > MOST_MAP_CELLS:
        raise UsageError(
            f"The cell is {cell_in:g} in; it must lie between {LEAST_CELL_IN:g} and {MOST_CELL_IN:g} in and make no "
            f"more than {MOST_MAP_CELLS:,} cells. 1 in serves most slabs."
        )
