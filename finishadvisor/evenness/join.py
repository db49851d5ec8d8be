"""Several photos of one floor, taken together."""

from collections.abc import Sequence

import numpy as np

from finishadvisor.evenness.figures import figures_of, grade_of
from finishadvisor.evenness.words import CAVEAT_SENTENCES, Caveat
from finishadvisor.job.document import Photo
from finishadvisor.records.evenness import Evenness
from finishadvisor.records.shade import Measurement


def join(measurements: Sequence[Measurement], photos: Sequence[Photo]) -> Evenness | None:
    """Return what the measured photos of one floor say together, or None where fewer than two were measured.

    Args:
        measurements: one for each photo, refused ones among them.
        photos: the photos with their marks and places on the plan, in the same order.
    """
    maps = [m.shade for m, p in zip(measurements, photos, strict=True) if m.shade is not None and p.shows == "slab"]
    if len(maps) < 2:
        return None
    middle = np.mean([shade.typical_lab for shade in maps], axis=0)
    cells = np.concatenate([(shade.lab - shade.typical_lab + middle)[shade.used] for shade in maps])
    figures = figures_of(cells[None], np.ones((1, len(cells)), dtype=np.bool_))
    grade = grade_of(figures.index)
    caveats = (Caveat.BAYS_UNJOINED,)
    return Evenness(
        photo="together",
        warnings=tuple(CAVEAT_SENTENCES[caveat] for caveat in caveats),
        caveats=tuple(caveat.value for caveat in caveats),
        grade=grade.value,
        grade_range=(grade.value, grade.value),
        share_over={"2": figures.share_over[2], "3": figures.share_over[3], "5": figures.share_over[5]},
        p95_de00=round(figures.p95_de00, 3),
        index=round(figures.index, 3),
    )
