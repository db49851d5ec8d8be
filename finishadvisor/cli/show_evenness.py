"""Measured photos as text on a terminal."""

import click

from finishadvisor.catalog.models import Catalog
from finishadvisor.cli.show import bullets, heading
from finishadvisor.job.document import Photo
from finishadvisor.papers.evenness_words import compared_sentences, open_questions
from finishadvisor.records.comparison import Comparison
from finishadvisor.records.evenness import Evenness


def show_evenness(evenness: Evenness, sentences: dict[str, str], photo: Photo | None = None) -> None:
    """Print what one photo says, and what it cannot tell.

    Args:
        evenness: the measured photo, or several together.
        sentences: by id, what each caveat, refusal and kind of patch means.
        photo: its marks; None where several photos speak together.
    """
    heading(evenness.photo)
    if evenness.refused:
        for refusal in evenness.refused:
            click.echo(f"Refused: {sentences.get(refusal, refusal)}")
        return
    low_high = evenness.grade_range
    unsure = f" (could be {low_high[0]} to {low_high[1]})" if low_high and low_high[0] != low_high[1] else ""
    click.echo(f"Grade: {evenness.grade}{unsure}")
    if evenness.share_over and evenness.p95_de00 is not None:
        click.echo(
            f"{evenness.share_over['3']:.1%} of the slab differs clearly (CIEDE2000 over 3); "
            f"95 % of it lies within {evenness.p95_de00:.1f}. Measured: {evenness.measured_share or 0:.0%} of the slab."
        )
    for number, patch in enumerate(evenness.patches or (), start=1):
        click.echo(
            f"  {number}. {sentences.get(patch.kind, patch.kind)}: {patch.area_ft2:.1f} ft² at x {patch.x_ft:.1f}, "
            f"y {patch.y_ft:.1f} ft, {patch.width_ft:.1f} x {patch.length_ft:.1f} ft, "
            f"CIEDE2000 {patch.de00:.1f} ({'darker' if patch.dL < 0 else 'lighter'})"
        )
    bullets("Mind:", list(evenness.warnings))
    bullets("What this photo cannot tell:", list(open_questions(evenness, photo)))


def show_compared(compared: Comparison | None, units: str) -> None:
    """Print what the photos of a floor say when they are compared."""
    bullets("Photos compared:", list(compared_sentences(compared, units)))


def show_causes(evenness: Evenness, catalog: Catalog) -> None:
    """Print what probably made the shade uneven, how to confirm it and what to do."""
    lines = [
        f"{catalog.causes[c.cause].name} ({c.likelihood.replace('-', ' ')}). Check: {c.check} Then: {c.do}"
        for c in evenness.causes or ()
    ]
    bullets("What it probably is:", lines)
