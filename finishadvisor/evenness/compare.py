"""What the photos of one floor say when they are compared: at the ends of loads, weeks apart, with a mock-up."""

from collections.abc import Iterator, Sequence
from typing import Final

from finishadvisor.evenness.change import Change, change_on_plan, typical_difference
from finishadvisor.evenness.plan_maps import line_on_slab
from finishadvisor.evenness.seams import steps_at_seams
from finishadvisor.evenness.steps import Step, step_across
from finishadvisor.job.document import Load, Photo
from finishadvisor.records.comparison import Comparison, LoadStep, MockUpDifference, ShadeChange, UntoldStep
from finishadvisor.records.shade import Measurement

LEAST_DAYS: Final = 7
"""Photos nearer in time are taken as one state of the slab."""
CHANGED_SHARE: Final = 0.02
"""One cell in a hundred of an unchanged slab may seem changed."""

Taken = tuple[Measurement, Photo]


def compare(measurements: Sequence[Measurement], photos: Sequence[Photo], loads: Sequence[Load] = ()) -> Comparison:
    """Return what the measured photos of one floor say when compared.

    Args:
        measurements: one for each photo, refused ones among them.
        photos: the photos, in the same order, with places on the plan and days.
        loads: the truck loads with the lines on the plan where they end.
    """
    taken = [(m, p) for m, p in zip(measurements, photos, strict=True) if m.shade is not None]
    slab = [pair for pair in taken if pair[1].shows == "slab"]
    ends = [load for load in loads if len(load.boundary) > 1]
    steps = [step for load in ends for step in _load_steps(load, slab)]
    return Comparison(
        load_steps=tuple(step for step in steps if isinstance(step, LoadStep)),
        untold_steps=tuple(step for step in steps if isinstance(step, UntoldStep)),
        changes=tuple(_changes(slab)),
        mock_ups=tuple(_mock_ups(slab, [pair for pair in taken if pair[1].shows == "mock-up"])),
    )


def _load_steps(load: Load, slab: Sequence[Taken]) -> Iterator[LoadStep | UntoldStep]:
    """Yield the step where a load ends, in each photo that shows both its sides and where two photos meet there."""
    one_side = []
    for measured, photo in slab:
        shade = measured.shade
        if shade is None:
            continue
        line = line_on_slab(load.boundary, photo)
        step = step_across(shade.lab, shade.used, (shade.width_ft, shade.length_ft), line)
        if step is None:
            one_side.append((measured, photo))
        else:
            yield _told_step(load, photo.file, step)
    for first, second, seam in steps_at_seams(one_side, load.boundary):
        if seam is None:
            yield UntoldStep(load=load.name, photos=(first.file, second.file))
        else:
            yield _told_step(load, f"{first.file} and {second.file}", seam)


def _told_step(load: Load, shown: str, step: Step) -> LoadStep:
    return LoadStep(
        load=load.name,
        photo=shown,
        length_ft=step.length_ft,
        step_lightness=round(step.lab[0], 2),
        de00=round(step.de00, 2),
        error_lab=round(step.error, 2),
        elsewhere_de00=round(step.elsewhere_de00, 2),
        found=step.found,
    )


def _changes(slab: Sequence[Taken]) -> Iterator[ShadeChange]:
    """Yield each photo's change since the latest photo of the same place that is at least a week older."""
    dated = sorted((pair for pair in slab if pair[1].taken is not None), key=lambda pair: str(pair[1].taken))
    for number, after in enumerate(dated):
        for before in reversed(dated[:number]):
            days = _days_between(before[1], after[1])
            change = change_on_plan(before, after) if days >= LEAST_DAYS else None
            if change is not None:
                yield _told(before[1], after[1], days, change)
                break


def _days_between(before: Photo, after: Photo) -> int:
    return (after.taken.date() - before.taken.date()).days if before.taken and after.taken else 0


def _told(before: Photo, after: Photo, days: int, change: Change) -> ShadeChange:
    return ShadeChange(
        before=before.file,
        after=after.file,
        days=days,
        seen_ft2=round(change.seen_ft2, 1),
        changed_share=round(change.share, 4),
        fading=change.less_uneven and change.share >= CHANGED_SHARE,
        whole_slab_de00=change.whole_slab_de00,
    )


def _mock_ups(slab: Sequence[Taken], mock_ups: Sequence[Taken]) -> Iterator[MockUpDifference]:
    """Yield each mock-up's difference to the photo of the slab that shows most of it, one with cards first."""
    if not slab:
        return
    best, photo = max(slab, key=lambda pair: (pair[0].evenness.level == "sheet", pair[0].evenness.measured_share or 0))
    for measured, shown in mock_ups:
        yield MockUpDifference(slab=photo.file, mock_up=shown.file, de00=typical_difference(best, measured))
