"""Measured photos as text on a terminal."""

from typing import TYPE_CHECKING

import click

from finishadvisor.cli.columns import print_prose
from finishadvisor.cli.show import bullets, heading
from finishadvisor.papers.evenness_words import Marked, compared_sentences, open_questions
from finishadvisor.papers.wording import area_text, length_text, plain_words, sides_text
from finishadvisor.records.comparison import Comparison
from finishadvisor.records.evenness import Evenness, Patch

if TYPE_CHECKING:
    from finishadvisor.catalog.models import Catalog


def show_evenness(
    evenness: Evenness, sentences: dict[str, str], photo: Marked | None = None, units: str = "us"
) -> None:
    """Print what one photo says, and what it cannot tell.

    Args:
        evenness: the measured photo, or several together.
        sentences: by id, what each caveat, refusal and kind of patch means.
        photo: its marks; None where several photos speak together.
        units: "us" or "metric".
    """
    heading("All photos together" if evenness.photo == "together" else evenness.photo)
    if evenness.refused:
        for refusal in evenness.refused:
            print_prose(f"Refused: {sentences.get(refusal, refusal)}")
        return
    low_high = evenness.grade_range
    unsure = f" (could be {' to '.join(map(plain_words, low_high))})" if low_high and low_high[0] != low_high[1] else ""
    click.echo(f"Grade: {plain_words(evenness.grade or 'none')}{unsure}")
    if evenness.share_over and evenness.p95_de00 is not None:
        print_prose(
            f"{evenness.share_over['3']:.1%} of the slab differs clearly (CIEDE2000 over 3); "
            f"95 % of it lies within {evenness.p95_de00:.1f}. Measured: {evenness.measured_share or 0:.0%} of the slab."
        )
    for number, patch in enumerate(evenness.patches or (), start=1):
        print_prose(f"{number}. {patch_line(patch, sentences, units)}", "  ", "      ")
    bullets("Mind:", list(evenness.warnings))
    bullets("What this photo cannot tell:", list(open_questions(evenness, photo)))


def patch_line(patch: Patch, sentences: dict[str, str], units: str) -> str:
    """Return what a patch is, its size, where it lies from the slab's origin and how far its shade is off."""
    sides = sides_text(patch.width_ft, patch.length_ft, units)
    x, y = length_text(patch.x_ft, units), length_text(patch.y_ft, units)
    what = sentences.get(patch.kind, patch.kind)
    shade = "darker" if patch.dL < 0 else "lighter"
    behind = "" if shade in what else f" ({shade})"
    return (
        f"{what}: {area_text(patch.area_ft2, units)}, {sides}, from x {x}, y {y} on; CIEDE2000 {patch.de00:.1f}{behind}"
    )


def show_compared(compared: Comparison | None, units: str) -> None:
    """Print what the photos of a floor say when they are compared."""
    bullets("Photos compared:", list(compared_sentences(compared, units)))


def show_causes(evenness: Evenness, catalog: "Catalog") -> None:
    """Print what probably made the shade uneven, how to confirm it and what to do."""
    lines = [
        f"{catalog.causes[c.cause].name} ({plain_words(c.likelihood)}). Check: {c.check} Then: {c.do}"
        for c in evenness.causes or ()
    ]
    bullets("What it probably is:", lines)
