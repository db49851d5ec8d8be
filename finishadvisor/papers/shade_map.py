"""The shade map beside the squared-up photo, drawn to one scale in feet from the origin corner."""

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from finishadvisor.papers.figures import INK, PAPER, QUIET, TITLE_PT, WHITE, plain_style, printed, ready
from finishadvisor.records.shade import Measurement, ShadeMap
from finishadvisor.units import METERS_PER_FOOT

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.image import AxesImage

LIMITS: Final = (2.0, 3.0, 5.0)
"""Differences whose share of the slab is given; marked on the bar."""
END_OF_BAR: Final = 8.0
COLORS: Final = "PuOr_r"
"""Darker to lighter, told apart by who is color-blind too."""
MOST_NUMBERS: Final = 40
PANEL_IN: Final = 4.6
LEFT_IN, BETWEEN_IN, BELOW_IN, TITLE_IN, HEADLINE_IN = 0.5, 0.15, 0.43, 0.24, 0.27
"""Room for the words around the two pictures; it is the same on every map, so nothing is measured before drawing."""
BAR_GAP_IN, BAR_WORDS_IN, BAR_NUMBERS_IN, LINE_IN = 0.1, 0.24, 0.2, 0.15
BAR_SHARE: Final = 0.86
"""Height of the bar as a share of the picture's."""
BAR_ASPECT: Final = 28
LONG_BAR_IN: Final = 2.1
"""A bar of this height has its words on one line."""


def shade_map_png(
    measurement: Measurement, *, units: str = "us", panel_in: float = PANEL_IN, figures: bool = True
) -> bytes:
    """Return the map of a measured photo as a PNG file, the squared-up photo beside it.

    Shade is lighter (warm) or darker (cool) than the typical one, by its CIEDE2000; cells left out are hatched, patches
    outlined and numbered from the largest.

    Args:
        measurement: a photo that was not refused.
        units: axes in feet for "us", in meters for "metric".
        panel_in: width of each of the two pictures [in].
        figures: whether color differences are told as numbers; a client is not shown them.

    Raises:
        ValueError: the photo was refused, so there is no map.
    """
    shade = measurement.shade
    if shade is None:
        raise ValueError("a refused photo has no shade map")
    ready()
    from matplotlib.figure import Figure

    scale = METERS_PER_FOOT if units == "metric" else 1.0
    tall = min(max(shade.length_ft / shade.width_ft, 0.35), 2.2)
    figure = Figure(figsize=(2 * panel_in + 1.5, panel_in * tall + 1.1), facecolor=WHITE)
    with plain_style():
        photo, drawn, bar = _panels(figure, figures=figures)
        extent = (0, shade.width_ft * scale, 0, shade.length_ft * scale)
        photo.imshow(shade.picture, origin="lower", extent=extent, interpolation="nearest")
        photo.set_title("The photo, squared up", loc="left", fontsize=TITLE_PT, color=INK)
        _draw_cells(drawn, shade, extent)
        _draw_patches(drawn, measurement, scale)
        drawn.set_title("Shade against the typical one", loc="left", fontsize=TITLE_PT, color=INK)
        for axes in (photo, drawn):
            _draw_axes(axes, extent, "m" if units == "metric" else "ft")
        _draw_bar(figure, bar, drawn.images[0], figures=figures)
        if figures:
            figure.suptitle(_headline(measurement), x=0.012, ha="left", fontsize=TITLE_PT * 1.2, color=INK)
        return printed(figure, "png")


def signed_difference(shade: ShadeMap) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return CIEDE2000 from the typical shade, negative where darker; not a number where left out."""
    lighter = np.where(np.nan_to_num(shade.lab[:, :, 0]) >= shade.typical_lab[0], 1.0, -1.0)
    return np.where(shade.used, shade.de00 * lighter, np.nan)


def _panels(figure: "Figure", *, figures: bool) -> "tuple[Axes, Axes, Axes]":
    """Return the axes of the photo, of the map and of the bar beside it."""
    wide, tall = figure.get_size_inches()
    high = tall - BELOW_IN - TITLE_IN - (HEADLINE_IN if figures else 0)
    bar_high = max(BAR_SHARE * high, min(high + TITLE_IN + 0.5 * BELOW_IN, 1.4))  # a low map's numbers need room
    bar_wide = max(bar_high / BAR_ASPECT, 0.09)
    beside = BAR_NUMBERS_IN + (LINE_IN if bar_high < LONG_BAR_IN else 0) if figures else 0
    bar_left = wide - BAR_WORDS_IN - beside - bar_wide
    right = bar_left - BAR_GAP_IN
    room = {
        "left": LEFT_IN / wide,
        "right": right / wide,
        "bottom": BELOW_IN / tall,
        "top": (BELOW_IN + high) / tall,
        "wspace": 2 * BETWEEN_IN / (right - LEFT_IN - BETWEEN_IN),
    }
    photo, drawn = figure.subplots(1, 2, sharex=True, sharey=True, gridspec_kw=room)
    bar_below = BELOW_IN + (high - bar_high) / 2
    bar = figure.add_axes((bar_left / wide, bar_below / tall, bar_wide / wide, bar_high / tall))
    return photo, drawn, bar


def _draw_cells(axes: "Axes", shade: ShadeMap, extent: tuple[float, float, float, float]) -> None:
    from matplotlib.patches import Rectangle

    axes.add_patch(Rectangle((0, 0), extent[1], extent[3], facecolor=PAPER, edgecolor="none", hatch="////", zorder=0))
    axes.imshow(
        signed_difference(shade), origin="lower", extent=extent, interpolation="nearest", cmap=COLORS,
        vmin=-END_OF_BAR, vmax=END_OF_BAR, zorder=1,
    )  # fmt: skip


def _draw_patches(axes: "Axes", measurement: Measurement, scale: float) -> None:
    from matplotlib.patheffects import withStroke

    halo = [withStroke(linewidth=2.4, foreground=PAPER)]
    for number, patch in enumerate(measurement.evenness.patches or (), start=1):
        outline = np.array([*patch.outline_ft, patch.outline_ft[0]]) * scale
        axes.plot(outline[:, 0], outline[:, 1], color=INK, linewidth=0.8, zorder=2)
        if number <= MOST_NUMBERS:
            x, y = (patch.x_ft + patch.width_ft / 2) * scale, (patch.y_ft + patch.length_ft / 2) * scale
            axes.text(
                x, y, str(number), ha="center", va="center", fontsize=8, color=INK, path_effects=halo, zorder=3,
                clip_on=True,
            )  # fmt: skip


def _draw_axes(axes: "Axes", extent: tuple[float, float, float, float], unit: str) -> None:
    from matplotlib.ticker import MaxNLocator

    axes.set(xlim=extent[:2], ylim=extent[2:], aspect="equal")
    axes.set_xlabel(f"along the first side, {unit}", color=QUIET)
    axes.set_ylabel(f"along the second side, {unit}", color=QUIET)
    for side in axes.spines.values():
        side.set_visible(False)
    axes.label_outer()
    axes.xaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
    axes.yaxis.set_major_locator(MaxNLocator(6, steps=[1, 2, 5, 10]))
    axes.tick_params(colors=QUIET, length=3)


def _draw_bar(figure: Any, axes: "Axes", cells: "AxesImage", *, figures: bool) -> None:
    bar = figure.colorbar(cells, cax=axes)
    bar.outline.set_visible(False)
    if not figures:
        bar.set_ticks([])
        bar.set_label("darker   —   typical   —   lighter", color=QUIET)
        return
    marks = [-END_OF_BAR, *(-limit for limit in reversed(LIMITS)), 0.0, *LIMITS, END_OF_BAR]
    bar.set_ticks(marks, labels=[f"{abs(mark):g}" for mark in marks])
    bar.ax.tick_params(colors=QUIET, length=5)
    for limit in LIMITS:
        bar.ax.axhline(limit, color=INK, linewidth=0.6)
        bar.ax.axhline(-limit, color=INK, linewidth=0.6)
    if axes.get_position().height * figure.get_figheight() < LONG_BAR_IN:
        bar.set_label("darker  —  typical  —  lighter\nCIEDE2000", color=QUIET)
    else:
        bar.set_label("darker   —   CIEDE2000 from typical   —   lighter", color=QUIET)


def _headline(measurement: Measurement) -> str:
    evenness = measurement.evenness
    grade = (evenness.grade or "").replace("-", " ").capitalize()
    if evenness.share_over is None or evenness.p95_de00 is None:
        return grade
    return (
        f"{grade}: {evenness.share_over['3'] * 100:.0f} % of the slab differs by more than 3; "
        f"95 % of it stays within {evenness.p95_de00:.1f}"
    )
