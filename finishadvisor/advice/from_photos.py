"""Facts that follow from the measured photos of a floor: its shade, its marks, how dark it is."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from finishadvisor.advice.known import Derivation, Known
from finishadvisor.advice.marks import gather_marks, mark_facts, photo_facts
from finishadvisor.advice.plan_places import closed, on_plan, share_near
from finishadvisor.job.document import Photo
from finishadvisor.job.entry_types import Point
from finishadvisor.records.evenness import Evenness
from finishadvisor.records.finding import FactValue
from finishadvisor.works.limits import limit

_DEPTHS: Final = ("near-black", "dark", "medium")


def counted_photos(known: Known) -> tuple[Evenness, ...]:
    """Return what speaks for the floor: what all photos say together, else each one that was measured.

    Photos after preparation show another floor and take the place of older ones, as later photos of a place do of
    earlier ones; mock-ups are not the floor.
    """
    if known.evenness is None:
        return ()
    shows = {photo.file: photo.shows for photo in known.floor.photos}
    outdated = known.evenness.compared.outdated if known.evenness.compared else frozenset()
    measured = [
        photo
        for photo in known.evenness.photos
        if photo.grade and shows.get(photo.photo) != "mock-up" and photo.photo not in outdated
    ]
    prepared = tuple(photo for photo in measured if shows.get(photo.photo) == "after-preparation")
    if prepared:
        return prepared
    together = known.evenness.together
    return (together,) if together is not None and together.grade else tuple(measured)


def _shade_grade(known: Known) -> str | None:
    """The worst of the photos that count."""
    grades = known.catalog.facts["shade_grade"].values or ()
    seen = [photo.grade for photo in counted_photos(known) if photo.grade in grades]
    return max(seen, key=lambda grade: grades.index(str(grade)), default=None)


def _shade_kind(known: Known) -> FactValue | None:
    photos = counted_photos(known)
    marks = gather_marks(photos)
    if marks:
        return marks[0].kind
    return "none" if photos else None


def _of_main_marks(fact: str) -> Derivation:
    """Return a derivation of a fact about the kind of marks that covers most."""

    def of_main_marks(known: Known) -> FactValue | None:
        photos = counted_photos(known)
        marks = gather_marks(photos)
        return mark_facts(marks[0], photos[0].typical_lab, known.catalog)[fact] if marks else None

    return of_main_marks


def _of_photos(fact: str) -> Derivation:
    def of_photos(known: Known) -> FactValue | None:
        return photo_facts(counted_photos(known))[fact]

    return of_photos


def _shade_fades(known: Known) -> bool | None:
    """Whether marks faded between the two latest photos of one place, weeks apart."""
    changes = known.evenness.compared.changes if known.evenness and known.evenness.compared else ()
    return changes[-1].fading if changes else None


def _sheen_found(known: Known) -> bool | None:
    """Whether photos of one place showed marks that turn from light to dark; none proves that there are none."""
    seen = known.evenness.compared.seen_twice if known.evenness and known.evenness.compared else None
    if seen is None or not seen.seen_ft2:
        return None
    return seen.turned_ft2 / seen.seen_ft2 > limit(known.catalog, "sheen-turned-share") or None


def _mottled(known: Known) -> bool | None:
    """Whether the slab is mottled in any of the photos that count."""
    mottling = known.evenness.compared.mottling if known.evenness and known.evenness.compared else ()
    counted = {photo.photo for photo in counted_photos(known)}
    seen = [one.lightness for one in mottling if one.photo in counted or "together" in counted]
    return max(seen) >= limit(known.catalog, "mottling-lightness") if seen else None


def _shade_removable(known: Known) -> bool | None:
    """As the wiped square or photos weeks apart say; else a young slab may still fade, an even one shows nothing."""
    wiped = known.answers.get("wipe_changes_shade")
    if "shade_removable" in known.answers or known.poured_on is None:
        return None
    if wiped is True:
        return True
    if _shade_grade(known) == "even":
        return False
    age_days = (known.on - known.poured_on).days
    if age_days < limit(known.catalog, "fade-wait-days-high") and _shade_fades(known):
        return True
    if age_days < limit(known.catalog, "fade-wait-days-low"):
        return True
    return False if wiped is False else None


def _color_depth(known: Known) -> str | None:
    """As answered; else by the typical lightness, where a card or a stated level makes it one to trust."""
    if "color_depth" in known.answers:
        return None
    photos = [photo for photo in counted_photos(known) if photo.typical_lab and photo.level in {"sheet", "stated"}]
    if not photos or photos[0].typical_lab is None:
        return None
    light = photos[0].typical_lab[0]
    darker = [word for word in _DEPTHS if light < limit(known.catalog, f"color-depth-{word}-below")]
    return darker[0] if darker else "pale"


# --- a step of shade where one truck load ends ----------------------------------------------------------------------


def _shade_step_at_load_boundary(known: Known) -> bool | None:
    """As measured across the boundaries; where too little of them is seen, by the borders of large marks."""
    steps = known.evenness.compared.load_steps if known.evenness and known.evenness.compared else ()
    if steps:
        return any(step.found for step in steps)
    photos = counted_photos(known)
    boundaries = [load.boundary for load in known.floor.loads if len(load.boundary) > 1]
    if not photos or not boundaries:
        return None
    reach_ft = limit(known.catalog, "load-boundary-reach-ft")
    least = limit(known.catalog, "load-boundary-share")
    borders = [border for photo in photos for border in _large_borders(photo, known.floor.photos)]
    return any(share_near(boundary, borders, reach_ft) >= least for boundary in boundaries)


def _large_borders(photo: Evenness, placed: Sequence[Photo]) -> Iterator[tuple[Point, ...]]:
    """Yield the outlines of marks that take up one side of the slab, on the floor plan.

    A joint may cut one shade into several marks, so that their outlines count together.
    """
    place = next((one for one in placed if one.file == photo.photo), None)
    for patch in photo.patches or ():
        if patch.kind == "large-side":
            yield closed([on_plan(point, place) for point in patch.outline_ft])


FROM_PHOTOS: Final[Mapping[str, Derivation]] = {
    "shade_grade": _shade_grade,
    "shade_kind": _shade_kind,
    "shade_marks_tone": _of_main_marks("shade_marks_tone"),
    "shade_marks_color": _of_main_marks("shade_marks_color"),
    "shade_marks_count": _of_main_marks("shade_marks_count"),
    "two_shades": _of_photos("two_shades"),
    "light_in_doubt": _of_photos("light_in_doubt"),
    "sheen_found": _sheen_found,
    "mottled": _mottled,
    "shade_fades": _shade_fades,
    "shade_removable": _shade_removable,
    "shade_step_at_load_boundary": _shade_step_at_load_boundary,
    "color_depth": _color_depth,
}
