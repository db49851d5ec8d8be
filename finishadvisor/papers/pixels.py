"""The same drawing as in `vector`, in pixels, written as PNG."""

import math
from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from finishadvisor.papers.figures import DOTS_PER_INCH, QUICK, WHITE, ready
from finishadvisor.papers.look import look
from finishadvisor.papers.vector import HALO_PT, Image, Side, words_wide_pt

if TYPE_CHECKING:
    from matplotlib.font_manager import FontProperties

_PX_PER_PT: Final = DOTS_PER_INCH / 72


class Pixels:
    """What is drawn so far on white paper; each part lies over the ones before it."""

    def __init__(self, wide_pt: float, high_pt: float) -> None:
        """Begin an empty drawing.

        Args:
            wide_pt: its width [pt].
            high_pt: its height [pt].
        """
        ready()
        from matplotlib.backends import backend_agg

        begin: Any = backend_agg.RendererAgg
        self._high = round(high_pt * _PX_PER_PT)
        self._renderer = begin(round(wide_pt * _PX_PER_PT), self._high, DOTS_PER_INCH)
        self.box(0, 0, wide_pt, high_pt, WHITE)

    def line(self, points: Sequence[tuple[float, float]], color: str, wide_pt: float) -> None:
        """Draw straight from point to point."""
        from matplotlib.path import Path

        self._draw(Path([self._place(x, y) for x, y in points]), color, wide_pt)

    def box(self, x: float, y: float, wide: float, high: float, color: str) -> None:
        """Fill a box whose upper left corner is given."""
        from matplotlib.path import Path

        corners = [self._place(*corner) for corner in ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))]
        self._draw(Path([*corners, corners[0]], closed=True), color, 0, filled=True)

    def picture(self, x: float, y: float, wide: float, high: float, image: Image) -> None:
        """Lay a picture into a box whose upper left corner is given; each of its pixels stays a square."""
        from PIL.Image import Resampling, fromarray

        left, foot = (math.floor(value) for value in self._place(x, y + high))
        right, top = (math.ceil(value) for value in self._place(x + wide, y))
        sized = fromarray(image).convert("RGBA").resize((right - left, top - foot), Resampling.NEAREST)
        self._renderer.draw_image(self._pen(WHITE, 0), left, foot, np.asarray(sized)[::-1])

    def words(
        self, x: float, y: float, text: str, size_pt: float, color: str, *, side: Side = "start", upright: bool = False,
        halo: str = "",
    ) -> None:  # fmt: skip
        """Write words on one line.

        Args:
            x: where the line begins, has its middle or ends, as `side` says [pt].
            y: the foot of its letters [pt].
            text: the words.
            size_pt: size of the type [pt].
            color: of the words.
            side: what stands at x.
            upright: turned to be read from below.
            halo: color of a rim around each letter; none when empty.
        """
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}[side] * words_wide_pt(text, size_pt)
        x, y = (x, y + before) if upright else (x - before, y)
        font = _font(size_pt)
        if halo:
            self._rim(x, y, text, font, halo)
        self._renderer.draw_text(
            self._pen(color, 1), x * _PX_PER_PT, y * _PX_PER_PT, text, font, 90.0 if upright else 0.0
        )

    def png(self) -> bytes:
        """Return the drawing as a file."""
        from PIL.Image import fromarray

        file = BytesIO()
        opaque = fromarray(np.asarray(self._renderer.buffer_rgba())).convert("RGB")
        opaque.save(file, "PNG", compress_level=QUICK, dpi=(DOTS_PER_INCH, DOTS_PER_INCH))
        return file.getvalue()

    def _rim(self, x: float, y: float, text: str, font: "FontProperties", color: str) -> None:
        from matplotlib.textpath import TextPath
        from matplotlib.transforms import Affine2D

        letters = TextPath((0, 0), text, prop=font)
        place = Affine2D().scale(_PX_PER_PT).translate(*self._place(x, y))
        self._draw(letters.transformed(place), color, HALO_PT)

    def _draw(self, path: Any, color: str, wide_pt: float, *, filled: bool = False) -> None:
        from matplotlib.colors import to_rgba
        from matplotlib.transforms import IdentityTransform

        self._renderer.draw_path(
            self._pen(color, wide_pt), path, IdentityTransform(), to_rgba(color) if filled else None
        )

    def _pen(self, color: str, wide_pt: float) -> Any:
        pen = self._renderer.new_gc()
        pen.set_foreground(color)
        pen.set_linewidth(wide_pt)
        pen.set_joinstyle("round")
        return pen

    def _place(self, x: float, y: float) -> tuple[float, float]:
        """Return a place in pixels from the lower left corner."""
        return x * _PX_PER_PT, self._high - y * _PX_PER_PT


def _font(size_pt: float) -> "FontProperties":
    from matplotlib.font_manager import FontProperties

    return FontProperties(family=[look().type["family"], "DejaVu Sans"], size=size_pt)
