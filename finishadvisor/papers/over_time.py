"""The pages "over time" of the evenness report: one place on several days, and whether it really changed."""

import datetime
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.job.document import Photo
from finishadvisor.papers.blocks import Block, heading, new_page, picture, quiet, subheading, table, text
from finishadvisor.papers.evenness_photo import grade_words
from finishadvisor.papers.evenness_words import LEAST_CHANGED_SHARE, compared_sentences
from finishadvisor.papers.over_time_maps import DatedMap, over_time_maps
from finishadvisor.papers.wording import counted, day_text, length_text, number_text, percent_text
from finishadvisor.records.comparison import Comparison, ShadeChange
from finishadvisor.records.evenness import Evenness
from finishadvisor.records.whole import FloorOutcome, WholeJob

SAME_PLACE: Final = 0.5
"""Share of the smaller photo that both must show before they count as photos of one place."""
SIGMAS: Final = 2.0
"""A difference beyond twice its uncertainty is called real; for chance alone it is that large 1 time in 20."""


@dataclass(frozen=True)
class Shot:
    """A measured photo with its day and the box that it shows on the plan: x, y, width, length [ft]."""

    photo: Photo
    evenness: Evenness
    day: datetime.date
    box_ft: tuple[float, float, float, float]


def over_time(outcome: FloorOutcome, whole: WholeJob) -> tuple[list[Block], dict[str, bytes]]:
    """Return a page for each place that was photographed on several days, and its maps by file name."""
    blocks: list[Block] = []
    pictures: dict[str, bytes] = {}
    for number, shots in enumerate(places_over_time(outcome), start=1):
        drawn = over_time_maps(_maps(shots, outcome, whole.job.units))
        names = {f"over-time-{number}-{part}.svg": one for part, one in enumerate(drawn, start=1)}
        pictures |= names
        blocks += [new_page(), heading("Over time"), *_page(shots, list(names), outcome, whole.job.units)]
    return blocks, pictures


def places_over_time(outcome: FloorOutcome) -> list[list[Shot]]:
    """Return the photos of each place of the slab that was photographed on more than one day, one a day, by day."""
    places: list[list[Shot]] = []
    for shot in _shots(outcome):
        place = next((same for same in places if _shared(same[0], shot) >= SAME_PLACE), None)
        if place is None:
            places.append([shot])
        else:
            place.append(shot)
    by_day = [_one_a_day(place) for place in places]
    return [place for place in by_day if len(place) > 1]


def _shots(outcome: FloorOutcome) -> Iterator[Shot]:
    """Yield the measured, dated photos of the slab as it cures; one after preparation shows another surface."""
    measured = {one.photo: one for one in outcome.evenness.photos} if outcome.evenness else {}
    shades = {one.evenness.photo: one.shade for one in outcome.measurements}
    for photo in outcome.floor.photos:
        evenness, shade = measured.get(photo.file), shades.get(photo.file)
        sides = (shade.width_ft, shade.length_ft) if shade else photo.size
        if photo.taken is None or photo.shows != "slab" or evenness is None or evenness.share_over is None or not sides:
            continue
        wide, long = sides
        x, y = photo.origin_on_plan or (0.0, 0.0)
        box = {0: (x, y, wide, long), 90: (x - long, y, long, wide), 180: (x - wide, y - long, wide, long),
               270: (x, y - wide, long, wide)}[photo.turned_deg]  # fmt: skip
        yield Shot(photo, evenness, photo.taken.date(), box)


def _shared(one: Shot, other: Shot) -> float:
    """Return what two photos both show, as a share of the smaller one."""
    (x0, y0, wide0, long0), (x1, y1, wide1, long1) = one.box_ft, other.box_ft
    across = min(x0 + wide0, x1 + wide1) - max(x0, x1)
    along = min(y0 + long0, y1 + long1) - max(y0, y1)
    return max(across, 0.0) * max(along, 0.0) / min(wide0 * long0, wide1 * long1)


def _one_a_day(shots: Sequence[Shot]) -> list[Shot]:
    """Return for each day the photo that shows most, one with cards before others."""
    best: dict[datetime.date, Shot] = {}
    for shot in shots:
        kept = best.get(shot.day)
        if kept is None or _worth(shot) > _worth(kept):
            best[shot.day] = shot
    return [best[day] for day in sorted(best)]


def _worth(shot: Shot) -> tuple[bool, float]:
    return shot.evenness.level == "sheet", shot.evenness.measured_share or 0.0


def _maps(shots: Sequence[Shot], outcome: FloorOutcome, units: str) -> list[DatedMap]:
    shades = {one.evenness.photo: one.shade for one in outcome.measurements}
    return [
        DatedMap(
            shade,
            shot.evenness.patches or (),
            shot.photo.turned_deg,
            day_text(shot.day, units),
            _age_text(shot, outcome),
        )
        for shot in shots
        if (shade := shades.get(shot.photo.file)) is not None
    ]


def _age_text(shot: Shot, outcome: FloorOutcome) -> str:
    pour = outcome.floor.pour
    if pour is None:
        return "age not known"
    about = "about " if pour.about else ""
    return f"{about}{counted((shot.day - pour.date).days, 'day')} old"


def _page(shots: Sequence[Shot], names: Sequence[str], outcome: FloorOutcome, units: str) -> Iterator[Block]:
    """Yield the answer, the maps and the figures of one place."""
    x, y, wide, long = shots[-1].box_ft
    size = f"{length_text(wide, units)} × {length_text(long, units)}"
    yield subheading(f"{size}, from x {length_text(x, units)}, y {length_text(y, units)} on the plan")
    yield text(change_sentence(shots[0], shots[-1], units))
    for words in _compared(shots, outcome, units):
        yield text(words)
    days = ", ".join(f"{day_text(shot.day, units)} ({_age_text(shot, outcome)})" for shot in shots)
    for name in names:
        yield picture(name, f"Shade maps of one place on {days}", width=100)
    rows = [
        (
            day_text(shot.day, units),
            _age_text(shot, outcome).removesuffix(" old"),
            shot.photo.file,
            grade_words(shot.evenness.grade),
            *_figures(shot.evenness),
            _typical(shot.evenness),
        )
        for shot in shots
    ]
    head = ("Day", "Slab age", "Photo", "Grade", "Over 3", "95 % within", "Typical L*")
    yield table(head, rows, "lrllrrr", shares=(0, 0, 1))
    yield quiet(
        "Each map is against the typical shade of its own day, all in one color scale; outlined: patches. Behind ± "
        "stands one sigma. Typical L*: of photos with a card only; without one it follows the exposure. Of several "
        "photos of one day the one with cards that shows most is taken."
    )


def _figures(evenness: Evenness) -> tuple[str, str]:
    if evenness.share_over is None or evenness.p95_de00 is None:
        return "–", "–"
    share, spread = percent_text(evenness.share_over["3"]), number_text(evenness.p95_de00)
    if evenness.sigma is None:
        return share, spread
    return (
        f"{share} ± {percent_text(evenness.sigma.share_over_3)}",
        f"{spread} ± {number_text(evenness.sigma.p95_de00, 2)}",
    )


def _typical(evenness: Evenness) -> str:
    known = evenness.level == "sheet" and evenness.typical_lab is not None
    return f"{evenness.typical_lab[0]:.1f}" if known and evenness.typical_lab else "–"


def _compared(shots: Sequence[Shot], outcome: FloorOutcome, units: str) -> Iterator[str]:
    """Yield what a comparison place by place says of these photos, each with the one before; from a week on."""
    compared = outcome.evenness.compared if outcome.evenness else None
    changes = [one for one in (compared.changes if compared else ()) if _is_of(one, shots)]
    changed = tuple(one for one in changes if one.changed_share >= LEAST_CHANGED_SHARE)
    yield from compared_sentences(Comparison(changes=changed), units)
    if len(changed) == len(changes):
        return
    if changed:
        yield "Between the other photos nothing changed beyond noise, place by place."
    elif _is_real(shots[0], shots[-1]):
        yield (
            "Place by place nothing changed beyond noise from one photo to the next: the change is slow, or small "
            "everywhere."
        )
    else:
        yield "Place by place nothing changed beyond noise either: the marks stay."


def _is_of(change: ShadeChange, shots: Sequence[Shot]) -> bool:
    return {change.before, change.after} <= {shot.photo.file for shot in shots}


def in_short(outcome: FloorOutcome, units: str) -> tuple[list[str], Comparison | None]:
    """Return a sentence for each place over time, and of the floor's comparison what no page over time tells."""
    compared = outcome.evenness.compared if outcome.evenness else None
    places = places_over_time(outcome)
    told = [f"{change_sentence(shots[0], shots[-1], units)} See the page over time." for shots in places]
    if compared is None:
        return told, None
    left = tuple(one for one in compared.changes if not any(_is_of(one, shots) for shots in places))
    return told, compared.model_copy(update={"changes": left})


def change_sentence(first: Shot, last: Shot, units: str) -> str:
    """Return whether the spread of shade changed from the first day to the last by more than its uncertainty."""
    before, after, beyond = first.evenness.p95_de00, last.evenness.p95_de00, _beyond(first, last)
    days = counted((last.day - first.day).days, "day")
    begin = f"From {day_text(first.day, units)} to {day_text(last.day, units)}, {days}"
    if before is None or after is None or beyond is None:
        return f"{begin}: how sure the figures are is not known, so no change can be told."
    moved = f"{begin}: 95 % of the place lay within {number_text(before)} and lies within {number_text(after)} now"
    size = f"{number_text(abs(after - before))} {'less' if after < before else 'more'}"
    limit = f"twice the uncertainty of the two together, {number_text(beyond)}"
    if not _is_real(first, last):
        return f"{moved}. That is {size}, not more than {limit}: no change can be told."
    grown = "more even" if after < before else "less even"
    return f"{moved}. That is {size}, beyond {limit}: the change is real, the shade has become {grown}."


def _is_real(first: Shot, last: Shot) -> bool:
    before, after, beyond = first.evenness.p95_de00, last.evenness.p95_de00, _beyond(first, last)
    return before is not None and after is not None and beyond is not None and abs(after - before) > beyond


def _beyond(first: Shot, last: Shot) -> float | None:
    """Return how large a difference of two spreads must be to be called real, None where it cannot be told."""
    sigmas = [shot.evenness.sigma.p95_de00 for shot in (first, last) if shot.evenness.sigma is not None]
    return SIGMAS * math.hypot(*sigmas) if len(sigmas) == 2 else None
