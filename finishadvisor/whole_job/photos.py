"""Photos of a floor measured with their marks, joined, and kept in the job folder."""

import datetime
import os
import signal
import threading
import warnings
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Final, cast

import numpy as np
from numpy.typing import NDArray

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.errors import JobError
from finishadvisor.evenness.compare import compare
from finishadvisor.evenness.join import Moved, join_and_compare
from finishadvisor.job.document import Floor, Photo
from finishadvisor.records.comparison import Comparison, Mottling, SeenTwice
from finishadvisor.records.evenness import Evenness, FloorEvenness
from finishadvisor.records.shade import Measurement
from finishadvisor.whole_job.explained import explained
from finishadvisor.whole_job.one_photo import SENTENCES, PhotoMarks, measure_marked
from finishadvisor.whole_job.opened import Opened, open_for
from finishadvisor.whole_job.saved import keep

__all__ = ["SENTENCES", "marks_of", "measure_floor", "measure_job_floors", "measure_photo"]

MANY_PHOTOS: Final = 6
"""From so many on, starting further processes takes less time than it saves."""


def marks_of(photo: Photo) -> PhotoMarks:
    """Return the marks of a photo as the measurement takes them."""
    return PhotoMarks(
        corners=photo.corners,
        points=tuple((point.pixel, point.place) for point in photo.points),
        size_ft=photo.size,
        sheets=tuple((sheet.at, sheet.reflectance) for sheet in photo.sheets),
        leave_out=photo.leave_out,
        wet=photo.wet,
    )


def measure_photo(
    path: Path,
    photo: Photo,
    *,
    cell_in: float = 1.0,
    days_old: int | None = None,
    days_since_wet: int | None = None,
    finishes: Iterable[Finish] = (),
    with_picture: bool = True,
) -> Measurement:
    """Measure one photo of a job with its marks, and predict how uneven the slab will look under each finish."""
    return measure_marked(
        path,
        marks_of(photo),
        cell_in=cell_in,
        days_old=days_old,
        days_since_wet=days_since_wet,
        finishes=finishes,
        with_picture=with_picture,
    )


def measure_floor(
    folder: Path,
    floor: Floor,
    catalog: Catalog,
    on: datetime.date,
    progress: Callable[[str], None],
    *,
    with_pictures: bool = True,
) -> tuple[tuple[Measurement, ...], FloorEvenness]:
    """Measure every photo of a floor, join them, keep the result in the job folder, and return both.

    Args:
        folder: the job folder.
        floor: the floor, its photos with their marks.
        catalog: finishes whose look is predicted.
        on: the day that ages are reckoned from.
        progress: told of each photo in a line.
        with_pictures: whether the maps have the squared-up photos beside them.
    """
    measurements = []
    for number, measured in enumerate(_measured(folder, floor, catalog, on, with_pictures), start=1):
        progress(f"{floor.name}: photo {number} of {len(floor.photos)} is measured, {measured.evenness.photo}")
        measurements.append(_in_half_the_room(measured))
    compared = compare(measurements, floor.photos, floor.loads)
    joined = _joined(measurements, floor.photos, compared.outdated)
    evenness = FloorEvenness(
        floor=floor.name,
        photos=tuple(measured.evenness for measured in measurements),
        together=joined[0] if joined else None,
        compared=_beside(compared, measurements, joined[1] if joined else None),
    )
    try:
        keep(folder, floor, evenness)
    except JobError as error:  # what was measured is worth having all the same
        progress(f"{floor.name}: the measurement is not kept for next time. {error}")
    return tuple(measurements), evenness


def _measured(
    folder: Path, floor: Floor, catalog: Catalog, on: datetime.date, with_pictures: bool
) -> Iterator[Measurement]:
    """Yield the measured photos of a floor in their order; many are shared out over all cores."""
    shots = [
        partial(
            measure_photo,
            folder / "photos" / photo.file,
            photo,
            days_old=days_old(floor, photo, on),
            days_since_wet=days_since_wet(floor, photo, on),
            finishes=tuple(catalog.finishes.values()),
            with_picture=with_pictures,
        )
        for photo in floor.photos
    ]
    if len(shots) < MANY_PHOTOS:
        yield from (shot() for shot in shots)
        return
    from joblib import Parallel, delayed

    with _helpers_quiet_when_stopped():
        shared_out = Parallel(n_jobs=-1, return_as="generator")(delayed(shot)() for shot in shots)
    try:
        for measured in shared_out:  # noqa: UP028 - stopped in here, not in there, or it remarks before it is closed
            yield measured
    finally:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # it remarks on photos that are left, which is what stopping is for
            shared_out.close()


@contextmanager
def _helpers_quiet_when_stopped() -> Iterator[None]:
    """Have processes that are started meanwhile ignore Ctrl-C: whoever started them ends them, without a traceback.

    The one that clears up after them is told not to remark on what it finds.
    """
    if threading.current_thread() is not threading.main_thread():  # no other may say what a key does
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)  # what is ignored stays so in a process that is started
    filters = os.environ.get("PYTHONWARNINGS")
    os.environ["PYTHONWARNINGS"] = ",".join(filter(None, (filters, "ignore:resource_tracker")))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
        if filters is None:
            del os.environ["PYTHONWARNINGS"]
        else:
            os.environ["PYTHONWARNINGS"] = filters


def _in_half_the_room(measured: Measurement) -> Measurement:
    """Return a measurement whose map is in single precision: a floor may have hundreds, and 0.00001 L* is nothing."""
    shade = measured.shade
    if shade is None:
        return measured
    return replace(
        measured,
        shade=replace(shade, lab=_single(shade.lab), de00=_single(shade.de00), error_L=_single(shade.error_L)),
    )


def _single(values: NDArray[np.float64]) -> NDArray[np.float64]:
    return cast("NDArray[np.float64]", values.astype(np.float32))  # whoever reads a map takes either precision


def _joined(
    measurements: Sequence[Measurement], photos: Sequence[Photo], outdated: Collection[str]
) -> tuple[Evenness, Moved] | None:
    """Return what the photos say together; a place that a later photo shows again is taken as it is now."""
    pairs = [(m, p) for m, p in zip(measurements, photos, strict=True) if p.file not in outdated]
    return join_and_compare([m for m, _ in pairs], [p for _, p in pairs]) if len(pairs) > 1 else None


def _beside(compared: Comparison, measurements: Sequence[Measurement], moved: Moved | None) -> Comparison:
    """Return the comparison with what is kept beside the printed measurement: what turns over, and mottling."""
    areas = [round(area, 2) for area in (moved.seen_ft2, moved.turned_ft2, moved.moved_ft2)] if moved else None
    return compared.model_copy(
        update={
            "seen_twice": SeenTwice(seen_ft2=areas[0], turned_ft2=areas[1], moved_ft2=areas[2]) if areas else None,
            "mottling": tuple(
                Mottling(photo=measured.evenness.photo, lightness=measured.shade.mottling_L)
                for measured in measurements
                if measured.shade is not None
            ),
        }
    )


def measure_job_floors(
    path: Path, floor_name: str | None, on: datetime.date, progress: Callable[[str], None]
) -> tuple[Opened, tuple[FloorEvenness, ...]]:
    """Measure the photos of a job's floors, with their likely causes; floors without photos are left out."""
    opened = open_for(path, on)
    floors = [floor for floor in opened.floors_named(floor_name) if floor.photos]
    measured = []
    for floor in floors:
        _, evenness = measure_floor(opened.folder, floor, opened.catalog, on, progress, with_pictures=False)
        measured.append(explained(opened, floor, evenness))
    return opened, tuple(measured)


def days_old(floor: Floor, photo: Photo, on: datetime.date) -> int | None:
    """Return the slab's age on the photo's day, where the pour date is known."""
    if floor.pour is None:
        return None
    taken = photo.taken.date() if photo.taken else on
    return (taken - floor.pour.date).days


def days_since_wet(floor: Floor, photo: Photo, on: datetime.date) -> int | None:
    """Return the days from the last wetting to the photo's day, where the wetting is known and came first."""
    if floor.last_wetting is None:
        return None
    taken = photo.taken.date() if photo.taken else on
    days = (taken - floor.last_wetting).days
    return days if days >= 0 else None
