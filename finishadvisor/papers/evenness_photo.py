"""One photo in the evenness report: its marks, its map, its patches, and how far to trust it."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from finishadvisor.job.document import Photo
from finishadvisor.papers.blocks import Block, facts, heading, picture, points, table, text
from finishadvisor.papers.evenness_words import open_questions
from finishadvisor.papers.pictures import marked_photo
from finishadvisor.papers.quantities import in_units
from finishadvisor.papers.shade_map import shade_map_svg
from finishadvisor.papers.wording import (
    area_text,
    length_text,
    moment_text,
    number_text,
    percent_text,
    sides_text,
)
from finishadvisor.records.evenness import Evenness, Patch
from finishadvisor.records.shade import Measurement
from finishadvisor.records.whole import WholeJob

MAP_PANEL_IN: Final = 2.3
MOST_PATCHES: Final = 40
LEVEL_WORDS: Final = {
    "sheet": "set by a card or sheet in the photo",
    "stated": "as stated",
    "assumed": "assumed; differences hold, the absolute shade does not",
}


def grade_words(grade: str | None) -> str:
    """Return a grade as the beginning of a sentence."""
    return (grade or "not graded").replace("-", " ").capitalize()


def photo_blocks(
    number: int, evenness: Evenness, photo: Photo | None, whole: WholeJob, sentences: Mapping[str, str]
) -> Iterator[Block]:
    """Yield the page of one photo: marks, map, patches, trust and caveats; a refused photo says why."""
    taken = f", taken {moment_text(photo.taken, whole.job.units)}" if photo is not None and photo.taken else ""
    yield heading(f"Photo {number}: {evenness.photo}")
    yield picture(
        f"photo-{number}.jpg",
        f"The photo {evenness.photo} with its marks",
        width=32,
        caption=f"{evenness.photo}{taken}. Blue: corners, the filled one is the origin. Rust: left out. Dark rings: "
        "cards.",
    )
    if evenness.refused:
        yield points([sentences.get(reason, reason) for reason in evenness.refused])
        return
    yield picture(
        f"map-{number}.svg",
        f"The photo squared up, beside its shade map: {grade_words(evenness.grade)}",
        width=84,
        caption="The origin corner is at the bottom left. Hatched: left out. Outlined: patches, by their number.",
    )
    yield patches_table(evenness, whole.job.units, sentences)
    if evenness.patches is not None and not evenness.patches:
        yield text("No patch stands out.")
    yield facts(_trust_rows(evenness, whole.job.units))
    told = [*evenness.warnings, *(sentences.get(caveat, caveat) for caveat in evenness.caveats)]
    left_open = [in_units(question, whole.job.units) for question in open_questions(evenness, photo)]
    yield points(dict.fromkeys([*told, *left_open]))


def patches_table(evenness: Evenness, units: str, sentences: Mapping[str, str]) -> Block:
    """Return the patches by their numbers, the largest first."""
    return table(
        ("No.", "What", "x", "y", "Size", "Area", "Lighter or darker", "CIEDE2000"),
        [_patch_row(n, patch, units, sentences) for n, patch in enumerate(_shown(evenness), start=1)],
        "llrrrrrr",
        shares=(0, 1),
        small=True,
    )


def _shown(evenness: Evenness) -> tuple[Patch, ...]:
    return (evenness.patches or ())[:MOST_PATCHES]


def _patch_row(number: int, patch: Patch, units: str, sentences: Mapping[str, str]) -> tuple[str, ...]:
    return (
        str(number),
        sentences.get(patch.kind, patch.kind),
        length_text(patch.x_ft, units),
        length_text(patch.y_ft, units),
        sides_text(patch.width_ft, patch.length_ft, units),
        area_text(patch.area_ft2, units) if patch.area_ft2 >= 10 else _small_area(patch.area_ft2, units),
        f"{patch.dL:+.1f} L*".replace("-", "−"),
        f"{patch.de00:.1f}",
    )


def _small_area(area_ft2: float, units: str) -> str:
    return area_text(area_ft2, units) if units == "metric" else f"{number_text(area_ft2)} ft²"


def _trust_rows(evenness: Evenness, units: str) -> Iterator[tuple[str, str]]:
    """Yield how far the numbers of one photo can be trusted."""
    if evenness.grade_range is not None:
        low, high = evenness.grade_range
        span = f"from {low} to {high}".replace("-", " ")
        yield (
            "Grade",
            f"{grade_words(evenness.grade)}; {'the same over its whole uncertainty' if low == high else span}",
        )
    if evenness.typical_lab is not None:
        yield "Typical shade", f"{_lab_text(evenness.typical_lab)}, {LEVEL_WORDS.get(evenness.level or '', '')}"
    if evenness.second_lab is not None:
        yield "Second shade", _lab_text(evenness.second_lab)
    if evenness.sigma is not None and evenness.share_over is not None and evenness.p95_de00 is not None:
        share = number_text(evenness.sigma.share_over_3 * 100)
        yield (
            "Uncertainty",
            f"share over 3: ± {share} %; 95 % within: ± {number_text(evenness.sigma.p95_de00, 2)} (one sigma)",
        )
    if evenness.measured_share is not None:
        left_out = ", ".join(
            f"{reason.replace('-', ' ')} {percent_text(part)}" for reason, part in evenness.masked.items()
        )
        yield (
            "Measured",
            f"{percent_text(evenness.measured_share)} of the slab" + (f"; left out: {left_out}" if left_out else ""),
        )
    if evenness.lighting is not None:
        light = evenness.lighting
        yield (
            "Light",
            f"ranges {number_text(light.ratio, 2)} to 1; {number_text(light.taken_as_light_L)} L* taken as light; "
            f"changes slower than {length_text(light.weakened_beyond_ft, units)} weakened",
        )
    if evenness.scale_steps is not None:
        steps = evenness.scale_steps
        yield (
            "Wall scales",
            f"CIB {number_text(steps.cib)} steps, Belgian {number_text(steps.belgian)} steps (see the caveat)",
        )


def _lab_text(lab: tuple[float, float, float]) -> str:
    return f"L* {lab[0]:.1f}, a* {lab[1]:.1f}, b* {lab[2]:.1f}".replace("-", "−")


def photo_pictures(number: int, photo: Photo | None, measured: Measurement | None, whole: WholeJob) -> dict[str, bytes]:
    """Return the marked photo and the map of one photo, by file name, as far as they can be drawn."""
    found: dict[str, bytes] = {}
    if photo is not None:
        marked = marked_photo(Path(whole.folder) / "photos" / photo.file, photo)
        if marked is not None:
            found[f"photo-{number}.jpg"] = marked
    if measured is not None and measured.shade is not None:
        found[f"map-{number}.svg"] = shade_map_svg(measured, units=whole.job.units, panel_in=MAP_PANEL_IN)
    return found
