"""The evenness report of one floor: photos, shade maps, patches, likely causes, and how far to trust it all."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.blocks import Block, Sheet, heading, new_page, quiet, table, text
from finishadvisor.papers.blocks import pictures as side_by_side
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.evenness_photo import grade_words, patches_table, photo_blocks, photo_pictures
from finishadvisor.papers.evenness_words import compared_sentences
from finishadvisor.papers.over_time import in_short, over_time
from finishadvisor.papers.own_rows import named_with_file, of_causes
from finishadvisor.papers.pictures import has_picture, largest_bay, sealed_picture
from finishadvisor.papers.quantities import in_units
from finishadvisor.papers.wording import (
    counted,
    day_text,
    number_text,
    percent_text,
    sentence,
)
from finishadvisor.records.evenness import Cause, Evenness
from finishadvisor.records.whole import FloorOutcome, WholeJob

MOST_SEALED_PICTURES: Final = 4
MOST_REASONS: Final = 3
"""Reasons told for a cause; the first weigh most."""
ADVICE_WORDS: Final = {
    "go": "Go: nothing measured here speaks against the chosen finish.",
    "hold": "Hold: what is likely here can be removed or will fade. Do it, photograph again, then decide.",
    "change": "Change: what is likely here stays and shows under the chosen finish. Take one that hides it, or accept "
    "it.",
}
SCALE_CAVEAT: Final = (
    "Both scales were made for the grays of formed walls, not for colored floors, and by eye, not by camera. They are "
    "given "
    "so that the span of this floor can be compared with other concrete; no limit for slabs follows from them."
)
METHOD: Final = (
    "The photo is squared up from its marked corners. Joints, cracks, objects, glare, cards and a rim are left out. "
    "The "
    "slow change of light over the slab is fitted and taken out together with any equally slow change of the slab "
    "itself; "
    "gray cards tell the two apart. Color is CIELAB (D65, 2°), averaged over 3 in, and each place is compared with the "
    "typical shade by CIEDE2000 (ISO/CIE 11664-6). The grade is taken from an average over 6 in, as a standing person "
    "sees "
    "it, and is our own scale: no standard grades the color of slabs."
)


def evenness_report(whole: WholeJob, outcome: FloorOutcome, sentences: Mapping[str, str]) -> Sheet | None:
    """Return the evenness report of one floor, None where no photo of it was measured or refused.

    Args:
        whole: the job worked through.
        outcome: the floor.
        sentences: by id, what each caveat, refusal and kind of patch means.
    """
    if outcome.evenness is None:
        return None
    later, pictures = over_time(outcome, whole)
    blocks = [
        *_together(outcome, whole),
        *_compared(outcome, whole),
        *_patches_together(outcome, whole, sentences),
        *_causes(outcome, whole.catalog),
    ]
    blocks += later
    photos = {photo.file: photo for photo in outcome.floor.photos}
    measured = {each.evenness.photo: each for each in outcome.measurements}
    for number, evenness in enumerate(outcome.evenness.photos, start=1):
        blocks.append(new_page())
        photo = photos.get(evenness.photo)
        blocks += photo_blocks(number, evenness, photo, whole, sentences)
        pictures |= photo_pictures(number, photo, measured.get(evenness.photo), whole)
    pictures |= _sealed_pictures(outcome, whole.catalog)
    blocks += [*_sealed(outcome, whole.catalog, pictures), *_method(outcome, whole)]
    kept = [block for block in blocks if block and (block["kind"] != "picture" or block["picture"] in pictures)]
    title = f"{outcome.floor.name}: how even the shade is"
    return Sheet(
        title,
        _answer(outcome.evenness.together, outcome.evenness.photos),
        kept,
        foot(whole, outcome.floor.name),
        pictures,
    )


def _answer(together: Evenness | None, photos: Sequence[Evenness]) -> str:
    shown = _lead(together, photos)
    if shown is None:
        return "No photo could be measured; the reasons stand below."
    share = shown.share_over["3"] if shown.share_over else None
    over = (
        "" if share is None else f": {percent_text(share)} of what was measured differs clearly from the typical shade"
    )
    return f"{grade_words(shown.grade)}{over}."


def _lead(together: Evenness | None, photos: Sequence[Evenness]) -> Evenness | None:
    """Return what speaks for the floor: all photos together, else the one that shows most of it."""
    if together is not None and not together.refused:
        return together
    measured = [photo for photo in photos if not photo.refused]
    return max(measured, key=lambda photo: photo.measured_share or 0.0, default=None)


def _together(outcome: FloorOutcome, whole: WholeJob) -> Iterator[Block]:
    evenness = outcome.evenness
    if evenness is None:
        return
    rows = [
        (str(number), photo.photo, grade_words(photo.grade) if not photo.refused else "refused", *_figures(photo))
        for number, photo in enumerate(evenness.photos, start=1)
    ]
    if evenness.together is not None and not evenness.together.refused:
        rows.append(("", "all together", grade_words(evenness.together.grade), *_figures(evenness.together)))
    yield heading("What the photos say")
    yield table(("No.", "Photo", "Grade", "Over 2", "Over 3", "Over 5", "95 % within"), rows, "lllrrrr", shares=(0, 1))
    yield quiet(
        "Over 2, 3, 5: share of the slab whose CIEDE2000 from the typical shade is larger. A difference of 1 is seen "
        "side by "
        "side, 3 at first look, 5 plainly; common practice, no source."
    )
    lead = _lead(evenness.together, evenness.photos)
    if lead is not None and lead.advice is not None:
        yield text(ADVICE_WORDS[lead.advice])
    pour = outcome.floor.pour
    if pour is not None:
        about = "about " if pour.about else ""
        poured, on = (day_text(day, whole.job.units) for day in (pour.date, whole.on))
        yield quiet(f"Slab poured {about}{poured}; report of {on}.")


def _compared(outcome: FloorOutcome, whole: WholeJob) -> Iterator[Block]:
    """Yield what the photos say when they are compared: load ends, weeks apart, a mock-up, other light."""
    evenness = outcome.evenness
    if evenness is None:
        return
    later, compared = in_short(outcome, whole.job.units)
    told = [*later, *compared_sentences(compared, whole.job.units)]
    if evenness.together is not None:
        own = {warning for photo in evenness.photos for warning in photo.warnings}
        told += [warning for warning in evenness.together.warnings if warning not in own]
    yield from (text(words) for words in told)


def _patches_together(outcome: FloorOutcome, whole: WholeJob, sentences: Mapping[str, str]) -> Iterator[Block]:
    """Yield the patches of all photos together, by the numbers that the causes name."""
    together = outcome.evenness.together if outcome.evenness is not None else None
    if together is None or not together.patches:
        return
    yield heading("The patches, all photos together")
    yield patches_table(together, whole.job.units, sentences)
    yield quiet("x and y on the plan of the floor. On its own photo a patch may bear another number.")


def _figures(evenness: Evenness) -> tuple[str, str, str, str]:
    if evenness.share_over is None or evenness.p95_de00 is None:
        return ("–", "–", "–", "–")
    over = evenness.share_over
    return (percent_text(over["2"]), percent_text(over["3"]), percent_text(over["5"]), number_text(evenness.p95_de00))


def _causes(outcome: FloorOutcome, catalog: Catalog) -> Iterator[Block]:
    evenness = outcome.evenness
    if evenness is None:
        return
    causes: dict[str, Cause] = {}
    for photo in (evenness.together, *evenness.photos):
        for cause in (photo.causes or ()) if photo is not None else ():
            causes.setdefault(cause.cause, cause)
    if not causes:
        return
    yield heading("Probably why, and how to tell")
    rows = [
        (
            f"{_name_of(cause.cause, catalog)} ({cause.likelihood.replace('-', ' ')})",
            " ".join(sentence(because) for because in cause.because[:MOST_REASONS]),
            cause.check,
            cause.do,
        )
        for cause in causes.values()
    ]
    yield table(("Cause", "Because", "Check", "Then"), rows, shares=(0.9, 1.7, 1.3, 1.3), small=True)
    own = named_with_file(of_causes(evenness, catalog), catalog)
    if own:
        yield quiet(f"From your own rows: {'; '.join(own)}.")


def _name_of(cause: str, catalog: Catalog) -> str:
    name = catalog.causes[cause].name if cause in catalog.causes else cause
    return name[:1].upper() + name[1:]


def _drawable(outcome: FloorOutcome, catalog: Catalog) -> list[str]:
    """Return the ranked finishes whose look can be drawn, the chosen one first."""
    ranked = [finish.id for finish in outcome.advice.finishes if finish.rank is not None]
    first = [id_ for id_ in ranked if id_ == outcome.finish]
    ids = first + [id_ for id_ in ranked if id_ != outcome.finish]
    return [id_ for id_ in ids if has_picture(catalog.finishes[id_], catalog)][:MOST_SEALED_PICTURES]


def _sealed_pictures(outcome: FloorOutcome, catalog: Catalog) -> dict[str, bytes]:
    shade = largest_bay(outcome.measurements)
    if shade is None:
        return {}
    looks = {id_: catalog.finishes[id_].sealed_look for id_ in _drawable(outcome, catalog)}
    return {f"sealed-{id_}.jpg": sealed_picture(shade, look) for id_, look in looks.items() if look is not None}


def _sealed(outcome: FloorOutcome, catalog: Catalog, pictures: Mapping[str, bytes]) -> Iterator[Block]:
    """Yield the look once sealed: a picture, and as a band how far the shade will spread."""
    drawn = [id_ for id_ in _drawable(outcome, catalog) if f"sealed-{id_}.jpg" in pictures]
    photos = [photo for photo in (outcome.evenness.photos if outcome.evenness else ()) if photo.sealed]
    least_even = max(photos, key=lambda photo: photo.p95_de00 or 0.0, default=None)
    ranked = {finish.id for finish in outcome.advice.finishes if finish.rank is not None}
    if not drawn and (least_even is None or ranked.isdisjoint(least_even.sealed or {})):
        return
    yield new_page()
    yield heading("How it will probably look once sealed")
    yield quiet(
        "Reckoned from this slab's own shade with a model of light in a clear film; a guide to the direction and size "
        "of the change. A mock-up shows the look, no formula does. The pictures are of the photo that shows most."
    )
    if drawn:
        yield side_by_side([f"sealed-{id_}.jpg" for id_ in drawn], [catalog.finishes[id_].name for id_ in drawn])
    if least_even is not None:
        yield from _spreads(least_even, outcome, catalog)


def _spreads(photo: Evenness, outcome: FloorOutcome, catalog: Catalog) -> Iterator[Block]:
    """Yield the band of each ranked finish, in rank order, and name those that only a mock-up shows."""
    spreads = photo.sealed or {}
    ranked = [finish.id for finish in outcome.advice.finishes if finish.rank is not None and finish.id in spreads]
    rows = [
        (catalog.finishes[id_].name, f"{number_text(spread.p95_low)} to {number_text(spread.p95_high)}")
        for id_ in ranked
        if (spread := spreads[id_]) is not None
    ]
    yield table(("Finish", "95 % within, CIEDE2000"), rows, "lr", shares=(1,))
    now = "" if photo.p95_de00 is None else f" Unsealed, 95 % of it lies within {number_text(photo.p95_de00)} now."
    yield quiet(f"Of {photo.photo}, the least even of the photos.{now}")
    only = [catalog.finishes[id_].name for id_ in ranked if spreads[id_] is None]
    if only:
        yield quiet(f"Mock-up only, since they are ground, polished or hide the slab: {'; '.join(only)}.")


def _method(outcome: FloorOutcome, whole: WholeJob) -> Iterator[Block]:
    yield heading("How this was measured, and how sure it is")
    yield text(in_units(METHOD, whole.job.units))
    count = len(outcome.evenness.photos) if outcome.evenness else 0
    yield text(
        f"This report rests on {counted(count, 'photo')}. One sigma of each figure stands with its photo: it covers "
        "the fit of "
        "the light, the grain of the picture and the marks, not a cause that the photo cannot show, such as a damp "
        "slab. A "
        "grade whose range spans two words may be either."
    )
    if any(photo.scale_steps for photo in (outcome.evenness.photos if outcome.evenness else ())):
        yield text(SCALE_CAVEAT)
