"""The same drawing as in `vector`, in pixels, written as PNG."""

import math
from collections.abc import Sequence
from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING, Final

from finishadvisor.papers.figures import WHITE
from finishadvisor.papers.svg_font import FACES
from finishadvisor.papers.typeset import font_folder
from finishadvisor.papers.vector import HALO_PT, Image, Side

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

DOTS_PER_INCH: Final = 160
_PX_PER_PT: Final = DOTS_PER_INCH / 72
_FINER: Final = 4
"""Slanting lines are drawn so many times larger first, so that their edges come out smooth."""
_QUICK: Final = 3
"""PNG compression: about as small as the usual 6 on a grainy picture, in half the time (our choice)."""
_ANCHORS: Final = {"start": "ls", "middle": "ms", "end": "rs"}


class Pixels:
    """What is drawn so far on white paper; each part lies over the ones before it."""

    def __init__(self, wide_pt: float, high_pt: float) -> None:
        """Begin an empty drawing.

        Args:
            wide_pt: its width [pt].
            high_pt: its height [pt].
        """
        from PIL import Image as Picture
        from PIL.ImageDraw import Draw

        self._paper = Picture.new("RGB", (round(wide_pt * _PX_PER_PT), round(high_pt * _PX_PER_PT)), WHITE)
        self._pen = Draw(self._paper)

    def line(self, points: Sequence[tuple[float, float]], color: str, wide_pt: float) -> None:
        """Draw straight from point to point."""
        self.lines([points], color, wide_pt)

    def lines(self, runs: Sequence[Sequence[tuple[float, float]]], color: str, wide_pt: float) -> None:
        """Draw several lines of one kind; all but those along a row or a column of pixels with smooth edges."""
        slanting = []
        for run in runs:
            places = [(x * _PX_PER_PT, y * _PX_PER_PT) for x, y in run]
            (x0, y0), (x1, y1), wide = *places[:2], max(1, round(wide_pt * _PX_PER_PT))
            if len(places) == 2 and x0 == x1:
                left = round(x0 - wide / 2)
                self._fill(left, round(min(y0, y1)), left + wide, round(max(y0, y1)), color)
            elif len(places) == 2 and y0 == y1:
                top = round(y0 - wide / 2)
                self._fill(round(min(x0, x1)), top, round(max(x0, x1)), top + wide, color)
            else:
                slanting.append(places)
        if slanting:
            self._slanting(slanting, color, wide_pt * _PX_PER_PT)

    def box(self, x: float, y: float, wide: float, high: float, color: str) -> None:
        """Fill a box whose upper left corner is given."""
        self._fill(*_edges(x, y, wide, high), color)

    def picture(self, x: float, y: float, wide: float, high: float, image: Image) -> None:
        """Lay a picture into a box whose upper left corner is given; each of its pixels stays a square."""
        from PIL.Image import Resampling, fromarray

        left, top, right, foot = _edges(x, y, wide, high)
        sized = fromarray(image).resize((right - left, foot - top), Resampling.NEAREST)
        self._paper.paste(sized, (left, top), sized if sized.mode == "RGBA" else None)

    def words(
        self, x: float, y: float, text: str, size_pt: float, color: str, *, side: Side = "start", upright: bool = False,
        halo: str = "",
    ) -> None:  # fmt: skip
        """Write words on one line, as `Canvas` says."""
        place, font, anchor = (x * _PX_PER_PT, y * _PX_PER_PT), _font(size_pt), _ANCHORS[side]
        if upright:
            self._upright(place, text, font, anchor, color)
            return
        if halo:
            rim = round(HALO_PT / 2 * _PX_PER_PT)
            self._pen.text(place, text, fill=halo, font=font, anchor=anchor, stroke_width=rim, stroke_fill=halo)
        self._pen.text(place, text, fill=color, font=font, anchor=anchor)

    def png(self) -> bytes:
        """Return the drawing as a file."""
        file = BytesIO()
        self._paper.save(file, "PNG", compress_level=_QUICK, dpi=(DOTS_PER_INCH, DOTS_PER_INCH))
        return file.getvalue()

    def _fill(self, left: int, top: int, right: int, foot: int, color: str) -> None:
        if right > left and foot > top:
            self._pen.rectangle((left, top, right - 1, foot - 1), fill=color)

    def _slanting(self, runs: Sequence[Sequence[tuple[float, float]]], color: str, wide: float) -> None:
        from PIL import Image as Picture
        from PIL.ImageDraw import Draw

        room = math.ceil(wide) + 1
        left, top = (math.floor(min(place[side] for run in runs for place in run)) - room for side in (0, 1))
        right, foot = (math.ceil(max(place[side] for run in runs for place in run)) + room for side in (0, 1))
        ink = Picture.new("L", ((right - left) * _FINER, (foot - top) * _FINER))
        pen, finer = Draw(ink), max(1, round(wide * _FINER))
        for run in runs:
            places = [((x - left) * _FINER, (y - top) * _FINER) for x, y in run]
            pen.line(places, fill=255, width=finer, joint="curve")
        self._paper.paste(color, (left, top), ink.reduce(_FINER))

    def _upright(
        self, place: tuple[float, float], text: str, font: "FreeTypeFont", anchor: str, color: str
    ) -> None:  # fmt: skip
        from PIL import Image as Picture
        from PIL.ImageDraw import Draw

        long, high = math.ceil(font.getlength(text)), math.ceil(1.5 * font.size)
        before = {"ls": 0.0, "ms": 0.5, "rs": 1.0}[anchor] * long
        ink = Picture.new("L", (long + 2, high))
        Draw(ink).text((1, font.size), text, fill=255, font=font, anchor="ls")
        turned = ink.transpose(Picture.Transpose.ROTATE_90)
        corner = (round(place[0] - font.size), round(place[1] + before - long - 1))
        self._paper.paste(color, corner, turned)


def _edges(x: float, y: float, wide: float, high: float) -> tuple[int, int, int, int]:
    """Return the pixels that a box covers, also in part: left, top, and the first ones right of it and below."""
    return (
        math.floor(x * _PX_PER_PT + 1e-6),
        math.floor(y * _PX_PER_PT + 1e-6),
        math.ceil((x + wide) * _PX_PER_PT - 1e-6),
        math.ceil((y + high) * _PX_PER_PT - 1e-6),
    )


@cache
def _font(size_pt: float) -> "FreeTypeFont":
    from PIL.ImageFont import Layout, truetype

    return truetype(str(font_folder() / FACES[400]), size_pt * _PX_PER_PT, layout_engine=Layout.BASIC)
