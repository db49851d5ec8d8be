"""The shade map beside the squared-up photo, drawn to one scale in feet from the origin corner."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, TypeVar

import numpy as np

from finishadvisor.papers.charts import round_step
from finishadvisor.papers.figures import INK, PAPER, QUIET, TEXT_PT, TITLE_PT
from finishadvisor.papers.pixels import Pixels
from finishadvisor.papers.shade_bar import BAR_GAP_PT, draw_bar, room_of_bar
from finishadvisor.papers.shade_scale import colors, signed_difference
from finishadvisor.papers.vector import HALF_FIGURE, Canvas, Drawing, fitting_pt, hatch, words_wide_pt
from finishadvisor.records.shade import Measurement, ShadeMap
from finishadvisor.units import METERS_PER_FOOT

MOST_NUMBERS: Final = 40
PANEL_IN: Final = 3.4
"""Of a picture by itself: its words are still read on a phone, its cells seen on a laptop (our choice)."""
LEFT_PT, BETWEEN_PT, BELOW_PT, TITLE_HIGH_PT, HEADLINE_PT = 36.0, 11.0, 31.0, 17.0, 19.5
"""Room for the words around the two pictures; it is the same on every map, so nothing is measured before drawing."""
TICK_PT: Final = 3.0
_HEADLINE_SIZE_PT: Final = TITLE_PT * 1.2
_MOST_NUMBERS_ON_A_SIDE: Final = 6

OnCanvas = TypeVar("OnCanvas", bound=Canvas)


@dataclass(frozen=True)
class _Page:
    """Where the parts of a map lie [pt]."""

    wide: float
    high: float
    top: float
    """The upper edge of both pictures."""
    lefts: tuple[float, float]
    """The left edges of photo and map."""
    scale: float
    """Length of a foot."""


def shade_map_png(measurement: Measurement, *, units: str = "us") -> bytes:
    """Return the map of a measured photo as a PNG file, the squared-up photo beside it.

    Shade is lighter (warm) or darker (cool) than the typical one, by its CIEDE2000; cells left out are hatched, patches
    outlined and numbered from the largest.

    Args:
        measurement: a photo that was not refused.
        units: axes in feet for "us", in meters for "metric".

    Raises:
        ValueError: the photo was refused, so there is no map.
    """
    return _drawn(Pixels, measurement, units, PANEL_IN, figures=True).png()


def shade_map_svg(measurement: Measurement, *, units: str, panel_in: float, figures: bool = True) -> bytes:
    """Return the same map as a file of vectors, for a paper.

    Args:
        measurement: a photo that was not refused.
        units: as for PNG.
        panel_in: width of each of the two pictures [in].
        figures: whether color differences are told as numbers; a client is not shown them.

    Raises:
        ValueError: the photo was refused, so there is no map.
    """
    return _drawn(Drawing, measurement, units, panel_in, figures=figures).svg()


def _drawn(
    canvas: Callable[[float, float], OnCanvas], measurement: Measurement, units: str, panel_in: float, *, figures: bool
) -> OnCanvas:
    page = _page_of(_shade_of(measurement), panel_in, figures=figures)
    drawing = canvas(page.wide, page.high)
    _draw(drawing, page, measurement, units, figures=figures)
    return drawing


def _shade_of(measurement: Measurement) -> ShadeMap:
    """Return the map.

    Raises:
        ValueError: the photo was refused.
    """
    if measurement.shade is None:
        raise ValueError("a refused photo has no shade map")
    return measurement.shade


def _page_of(shade: ShadeMap, panel_in: float, *, figures: bool) -> _Page:
    """Return where the parts lie: two pictures of one scale in equal slots, left of the bar and its words."""
    headline = HEADLINE_PT if figures else 0.0
    tall = min(max(shade.length_ft / shade.width_ft, 0.35), 2.2)
    wide, high = 72 * (2 * panel_in + 1.5), 72 * (panel_in * tall + 1.1)
    room_high = high - BELOW_PT - TITLE_HIGH_PT - headline
    slot = (wide - LEFT_PT - BETWEEN_PT - BAR_GAP_PT - room_of_bar(room_high, figures=figures)) / 2
    scale = min(slot / shade.width_ft, room_high / shade.length_ft)
    top = headline + TITLE_HIGH_PT + (room_high - scale * shade.length_ft) / 2
    return _Page(wide, high, top, (LEFT_PT, LEFT_PT + slot + BETWEEN_PT), scale)


def _draw(canvas: Canvas, page: _Page, measurement: Measurement, units: str, *, figures: bool) -> None:
    shade = _shade_of(measurement)
    wide, high = shade.width_ft * page.scale, shade.length_ft * page.scale
    photo, map_ = page.lefts
    canvas.picture(photo, page.top, wide, high, np.ascontiguousarray(shade.picture[::-1]))
    canvas.box(map_, page.top, wide, high, PAPER)
    hatch(canvas, map_ + 0.5, page.top + 0.5, wide - 1, high - 1)
    canvas.picture(map_, page.top, wide, high, np.ascontiguousarray(colors(signed_difference(shade))[::-1]))
    _draw_patches(canvas, page, measurement, high)
    for left, words in zip(page.lefts, ("The photo, squared up", "Shade against the typical one"), strict=True):
        canvas.words(left, page.top - 5, words, TITLE_PT, INK)
        _draw_feet(canvas, page, left, shade, units)
    _draw_heights(canvas, page, shade, units)
    draw_bar(canvas, page.wide, (page.top, page.top + high), figures=figures)
    if figures:
        headline = _headline(measurement)
        canvas.words(6, 14, headline, fitting_pt(headline, _HEADLINE_SIZE_PT, page.wide - 12), INK)


def _draw_patches(canvas: Canvas, page: _Page, measurement: Measurement, high: float) -> None:
    left, foot = page.lefts[1], page.top + high
    for number, patch in enumerate(measurement.evenness.patches or (), start=1):
        outline = [(left + x * page.scale, foot - y * page.scale) for x, y in (*patch.outline_ft, patch.outline_ft[0])]
        canvas.line(outline, INK, 0.8)
        if number <= MOST_NUMBERS:
            x, y = patch.x_ft + patch.width_ft / 2, patch.y_ft + patch.length_ft / 2
            place = (left + x * page.scale, foot - y * page.scale + HALF_FIGURE * 8)
            canvas.words(*place, str(number), 8, INK, side="middle", halo=PAPER)


def _marks(side_ft: float, units: str) -> list[tuple[float, str]]:
    """Return the places along a side that bear a number [ft], and the number in the job's unit."""
    per_unit = 1 / METERS_PER_FOOT if units == "metric" else 1.0
    step = round_step(side_ft / per_unit, _MOST_NUMBERS_ON_A_SIDE)
    counts = range(int(side_ft / per_unit / step * (1 + 1e-9)) + 1)
    return [(count * step * per_unit, f"{count * step:g}") for count in counts]


def _draw_feet(canvas: Canvas, page: _Page, left: float, shade: ShadeMap, units: str) -> None:
    """Write the numbers along the first side under a picture."""
    foot = page.top + shade.length_ft * page.scale
    for at, number in _marks(shade.width_ft, units):
        x = left + at * page.scale
        canvas.line([(x, foot), (x, foot + TICK_PT)], QUIET, 0.8)
        canvas.words(x, foot + TICK_PT + TEXT_PT, number, TEXT_PT, QUIET, side="middle")
    words = f"along the first side, {'m' if units == 'metric' else 'ft'}"
    middle = left + max(shade.width_ft * page.scale, words_wide_pt(words, TEXT_PT)) / 2
    canvas.words(middle, foot + TICK_PT + 2.2 * TEXT_PT, words, TEXT_PT, QUIET, side="middle")


def _draw_heights(canvas: Canvas, page: _Page, shade: ShadeMap, units: str) -> None:
    """Write the numbers along the second side left of the photo, and mark them on the map too."""
    high = shade.length_ft * page.scale
    for at, number in _marks(shade.length_ft, units):
        y = page.top + high - at * page.scale
        for left in page.lefts:
            canvas.line([(left - TICK_PT, y), (left, y)], QUIET, 0.8)
        canvas.words(LEFT_PT - 6, y + HALF_FIGURE * TEXT_PT, number, TEXT_PT, QUIET, side="end")
    words = f"along the second side, {'m' if units == 'metric' else 'ft'}"
    half = words_wide_pt(words, TEXT_PT) / 2
    middle = min(max(page.top + high / 2, half + 2), page.high - half - 2)
    canvas.words(TEXT_PT + 1, middle, words, TEXT_PT, QUIET, side="middle", upright=True)


def _headline(measurement: Measurement) -> str:
    evenness = measurement.evenness
    grade = (evenness.grade or "").replace("-", " ").capitalize()
    if evenness.share_over is None or evenness.p95_de00 is None:
        return grade
    return (
        f"{grade}: {evenness.share_over['3'] * 100:.0f} % of the slab differs by more than 3; "
        f"95 % of it stays within {evenness.p95_de00:.1f}"
    )
