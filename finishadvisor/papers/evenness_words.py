"""What photos leave open, and what they say when compared, in sentences for the terminal and the report."""

from collections.abc import Iterator, Sized
from typing import Final, Protocol

from finishadvisor.papers.wording import area_text, counted, length_text, number_text, percent_text
from finishadvisor.records.comparison import Comparison, LoadStep, MockUpDifference, ShadeChange, UntoldStep
from finishadvisor.records.evenness import Evenness, Patch

LEAST_DRIFT_L: Final = 2.0
"""A drift over the whole slab smaller than this is not seen."""
CARDS_FOR_DRIFT: Final = 4
"""Fewer cards set the level only."""
LEAST_WALL_RATIO: Final = 1.3
"""Brightest to dimmest; below it no wall or opening shapes the light."""
SAME_COLOR: Final = 1.5
"""Difference in a* and b* below which a mark has the slab's own color [CIELAB]."""
LEAST_CHANGED_SHARE: Final = 0.02


class Marked(Protocol):
    """The marks of a photo, of which the cards count here."""

    @property
    def sheets(self) -> Sized:
        """Its cards and sheets."""


def open_questions(evenness: Evenness, photo: Marked | None) -> tuple[str, ...]:
    """Return what one measured photo cannot tell apart, with its size and what would settle it; empty if nothing.

    Args:
        evenness: the measured photo.
        photo: its marks, None where they are not known.
    """
    return (*_drift(evenness, photo), *_wall_band(evenness), *_sheen(evenness))


def _drift(evenness: Evenness, photo: Marked | None) -> Iterator[str]:
    light = evenness.lighting
    settled = photo is not None and evenness.level == "sheet" and len(photo.sheets) >= CARDS_FOR_DRIFT
    if light is None or light.taken_as_light_L < LEAST_DRIFT_L or settled:
        return
    size = number_text(light.taken_as_light_L)
    yield (
        f"A slow change of {size} L* across the slab was taken to be light. A drift of the slab's own shade, up to "
        "that size, would be hidden in it. Gray cards at the middle and the corners settle it, or a photo under an "
        "open, overcast sky; more photos alone do not."
    )


def _wall_band(evenness: Evenness) -> Iterator[str]:
    light = evenness.lighting
    if light is not None and light.ratio >= LEAST_WALL_RATIO and _kinds(evenness, "edge-band"):
        yield (
            "The band along the edge may be light thrown back or shaded by a wall. A gray card at the wall and one "
            "3 ft in settle it."
        )


def _sheen(evenness: Evenness) -> Iterator[str]:
    bands = _kinds(evenness, "stripe", "ring")
    if any(abs(band.da) < SAME_COLOR and abs(band.db) < SAME_COLOR for band in bands):
        yield (
            "Bands or rings of the slab's own color may be sheen, not shade. A photo from the opposite end settles it: "
            "what turns from light to dark is sheen."
        )
    elif "glare-left-out" in evenness.caveats:
        yield "What lies under the glare is not known. A photo from the opposite end shows it."


def _kinds(evenness: Evenness, *kinds: str) -> list[Patch]:
    return [patch for patch in evenness.patches or () if patch.kind in kinds]


def compared_sentences(compared: Comparison | None, units: str) -> tuple[str, ...]:
    """Return what a floor's photos say when they are compared, a sentence or two for each comparison."""
    if compared is None:
        return ()
    return (
        *(_step(step, units) for step in compared.load_steps),
        *(_untold(step) for step in compared.untold_steps),
        *(_change(change, units) for change in compared.changes),
        *(_mock_up(one) for one in compared.mock_ups),
    )


def _step(step: LoadStep, units: str) -> str:
    length, de00, usual = length_text(step.length_ft, units), number_text(step.de00), number_text(step.elsewhere_de00)
    where = f"along {length} of its line in {step.photo} ({usual} is usual beside it)"
    if not step.found:
        return f'No step of shade where "{step.load}" ends: CIEDE2000 {de00} {where}.'
    side = "right" if step.step_lightness > 0 else "left"
    return (
        f'The shade steps where "{step.load}" ends: CIEDE2000 {de00} {where}, lighter on its {side}. The edge of a '
        "shadow would look the same; a photo under other light settles it."
    )


def _untold(step: UntoldStep) -> str:
    one, other = step.photos
    return (
        f'Whether the shade steps where "{step.load}" ends cannot be told from exposure: {one} and {other} meet there, '
        "do not overlap and share no card. A gray card in both, or an overlap of a foot, settles it."
    )


def _change(change: ShadeChange, units: str) -> str:
    when = f"From {change.before} to {change.after}, {counted(change.days, 'day')} later"
    share = f"{percent_text(change.changed_share)} of the {area_text(change.seen_ft2, units)} that both show"
    if change.changed_share < LEAST_CHANGED_SHARE:
        told = f"nothing changed beyond noise ({share}): the marks stay."
    elif change.fading:
        told = f"{share} changed beyond noise, and comes nearer to the slab's shade: marks are fading."
    else:
        told = f"{share} changed beyond noise, and stands out more than before: it does not fade."
    if change.whole_slab_de00 is None:
        return f"{when}: {told} Whether all of it grew lighter or darker needs gray cards in both photos."
    return f"{when}: {told} The typical shade changed by CIEDE2000 {number_text(change.whole_slab_de00)}."


def _mock_up(one: MockUpDifference) -> str:
    if one.de00 is None:
        return (
            f"How far the mock-up in {one.mock_up} differs from the slab in {one.slab} cannot be told: it needs a gray "
            "card in both photos."
        )
    return f"The mock-up in {one.mock_up} differs from the slab in {one.slab} by CIEDE2000 {number_text(one.de00)}."
