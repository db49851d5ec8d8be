"""One photo measured with its marks, without a job around it; imports no more than that takes."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Final

from finishadvisor.evenness.marks import PhotoMarks
from finishadvisor.evenness.words import CAVEAT_SENTENCES, PATCH_SENTENCES, REFUSAL_SENTENCES

if TYPE_CHECKING:
    from finishadvisor.catalog.models import Finish
    from finishadvisor.records.shade import Measurement

__all__ = ["SENTENCES", "PhotoMarks", "measure_marked"]

SENTENCES: Final[dict[str, str]] = {
    str(id_): sentence
    for sentences in (CAVEAT_SENTENCES, REFUSAL_SENTENCES, PATCH_SENTENCES)
    for id_, sentence in sentences.items()
}
"""The sentence of every caveat and refusal id and of every kind of patch."""


def measure_marked(
    path: Path,
    marks: PhotoMarks,
    *,
    cell_in: float = 1.0,
    days_old: int | None = None,
    days_since_wet: int | None = None,
    finishes: "Iterable[Finish]" = (),
    with_picture: bool = True,
) -> "Measurement":
    """Measure one photo file, and predict how uneven the slab will look under each finish.

    Raises:
        UsageError: the marks cannot be meant, or the cells would be too small or too large.
    """
    from finishadvisor.evenness.measure import measure
    from finishadvisor.evenness.sealed import with_sealed

    measured = measure(
        path, marks, cell_in=cell_in, days_old=days_old, days_since_wet=days_since_wet, with_picture=with_picture
    )
    return with_sealed(measured, finishes)
