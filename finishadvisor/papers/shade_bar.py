"""The bar beside a shade map that says which color stands for which difference."""

from typing import Final

import numpy as np

from finishadvisor.papers.figures import INK, QUIET, TEXT_PT
from finishadvisor.papers.shade_scale import END_OF_BAR, LIMITS, colors
from finishadvisor.papers.vector import HALF_FIGURE, Canvas, words_wide_pt

BAR_GAP_PT, WORDS_PT, NUMBERS_PT, LINE_PT = 7.0, 17.0, 15.0, 11.0
"""Room between map and bar, and for the words and numbers beside it."""
_SHARE: Final = 0.86
"""Height of the bar as a share of the picture's."""
_LEAST_HIGH_PT: Final = 100.0
"""The numbers of a low map's bar need room."""
_OVER_PT: Final = 14.0
"""A taller bar reaches so far over the picture."""
_ASPECT: Final = 28
_LEAST_WIDE_PT: Final = 6.5
_TICK_PT: Final = 5.0
_STEPS: Final = 256
_WITH_FIGURES: Final = "darker   —   CIEDE2000 from typical   —   lighter"
_PLAIN: Final = "darker   —   typical   —   lighter"


def room_of_bar(picture_high_pt: float, *, figures: bool) -> float:
    """Return how wide the bar is with all that stands beside it [pt]."""
    high = _high(picture_high_pt)
    beside = NUMBERS_PT + (LINE_PT if len(_lines(high, figures=figures)) > 1 else 0) if figures else 0.0
    return _wide(high) + beside + WORDS_PT


def draw_bar(canvas: Canvas, right: float, upright: tuple[float, float], *, figures: bool) -> None:
    """Draw the bar along the right edge of a map.

    Args:
        canvas: to draw on.
        right: the right edge of the map's page [pt].
        upright: where its picture begins and ends [pt]; a bar that is taller reaches down under it.
        figures: whether differences are told as numbers.
    """
    top, foot = upright
    high = _high(foot - top)
    left, middle = right - room_of_bar(foot - top, figures=figures), max((top + foot) / 2, top + high / 2 - _OVER_PT)
    wide = _wide(high)
    steps = np.linspace(END_OF_BAR, -END_OF_BAR, _STEPS)[:, np.newaxis]
    canvas.picture(left, middle - high / 2, wide, high, colors(steps))
    if figures:
        for mark in (END_OF_BAR, *LIMITS, 0.0, *(-limit for limit in LIMITS), -END_OF_BAR):
            y = middle - mark / END_OF_BAR * high / 2
            within = left if abs(mark) in LIMITS else left + wide
            canvas.line([(within, y), (left + wide, y)], INK, 0.6)
            canvas.line([(left + wide, y), (left + wide + _TICK_PT, y)], QUIET, 0.8)
            canvas.words(left + wide + _TICK_PT + 3, y + HALF_FIGURE * TEXT_PT, f"{abs(mark):g}", TEXT_PT, QUIET)
    for number, line in enumerate(reversed(_lines(high, figures=figures))):
        canvas.words(right - 5 - number * LINE_PT, middle, line, TEXT_PT, QUIET, side="middle", upright=True)


def _high(picture_high_pt: float) -> float:
    return max(_SHARE * picture_high_pt, _LEAST_HIGH_PT)


def _wide(high_pt: float) -> float:
    return max(high_pt / _ASPECT, _LEAST_WIDE_PT)


def _lines(high_pt: float, *, figures: bool) -> tuple[str, ...]:
    """Return the words beside the bar, on two lines where it is too low for one."""
    if not figures:
        return (_PLAIN,)
    return (_WITH_FIGURES,) if words_wide_pt(_WITH_FIGURES, TEXT_PT) <= high_pt else (_PLAIN, "CIEDE2000")
