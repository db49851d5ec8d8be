"""A drawing of lines, boxes, rings, words and pictures, in points from its upper left corner, written as SVG."""

from base64 import b64encode
from collections.abc import Sequence
from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING, Any, Final, Literal, Protocol
from xml.sax.saxutils import escape

import numpy as np

from finishadvisor.papers.figures import QUIET
from finishadvisor.papers.look import look
from finishadvisor.papers.svg_font import FACES
from finishadvisor.papers.typeset import font_folder

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

Side = Literal["start", "middle", "end"]
Image = np.ndarray[Any, np.dtype[np.uint8]]
"""A picture of shape (rows, cols, 3), or (rows, cols, 4) where part of it is clear; its first row on top."""

HALO_PT: Final = 2.4
HALF_FIGURE: Final = 0.33
"""From the middle of a figure or a capital down to its foot, as a share of the size of the type."""
_MEASURED_AT: Final = 1000
_HATCH_PT: Final = 6.0
_PHOTO_QUALITY: Final = 92


class Canvas(Protocol):
    """What can be drawn in vectors and in pixels alike."""

    def line(self, points: Sequence[tuple[float, float]], color: str, wide_pt: float) -> None:
        """Draw straight from point to point."""

    def lines(self, runs: Sequence[Sequence[tuple[float, float]]], color: str, wide_pt: float) -> None:
        """Draw several lines of one kind."""

    def box(self, x: float, y: float, wide: float, high: float, color: str) -> None:
        """Fill a box whose upper left corner is given."""

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

    def picture(self, x: float, y: float, wide: float, high: float, image: Image) -> None:
        """Lay a picture into a box whose upper left corner is given."""


class Drawing:
    """What is drawn so far; each part lies over the ones before it."""

    def __init__(self, wide_pt: float, high_pt: float) -> None:
        """Begin an empty drawing.

        Args:
            wide_pt: its width [pt].
            high_pt: its height [pt].
        """
        self._size = (_number(wide_pt), _number(high_pt))
        self._parts: list[str] = []

    def line(
        self, points: Sequence[tuple[float, float]], color: str, wide_pt: float, *, dash: Sequence[float] = ()
    ) -> None:
        """Draw straight from point to point.

        Args:
            points: at least two.
            color: of the line.
            wide_pt: its width [pt].
            dash: lengths of strokes and gaps in turn [pt]; none for a line without gaps.
        """
        path = " L".join(f"{_number(x)} {_number(y)}" for x, y in points)
        style = f'fill="none" stroke="{color}" stroke-width="{_number(wide_pt)}" stroke-linejoin="round"'
        if dash:
            style += f' stroke-dasharray="{" ".join(_number(length) for length in dash)}"'
        self._parts.append(f'<path d="M{path}" {style}/>')

    def lines(self, runs: Sequence[Sequence[tuple[float, float]]], color: str, wide_pt: float) -> None:
        """Draw several lines of one kind."""
        for run in runs:
            self.line(run, color, wide_pt)

    def box(self, x: float, y: float, wide: float, high: float, color: str, *, opacity: float = 1.0) -> None:
        """Fill a box whose upper left corner is given."""
        size = f'width="{_number(wide)}" height="{_number(high)}"'
        self._parts.append(
            f'<rect x="{_number(x)}" y="{_number(y)}" {size} fill="{color}" fill-opacity="{_number(opacity)}"/>'
        )

    def disc(self, x: float, y: float, radius: float, color: str, *, filled: bool, rim_pt: float) -> None:
        """Draw a disc, or only its rim."""
        place = f'cx="{_number(x)}" cy="{_number(y)}" r="{_number(radius)}"'
        paint = f'fill="{color if filled else "none"}" stroke="{color}" stroke-width="{_number(rim_pt)}"'
        self._parts.append(f"<circle {place} {paint}/>")

    def picture(self, x: float, y: float, wide: float, high: float, image: Image) -> None:
        """Lay a picture into a box whose upper left corner is given: a photo as JPEG, else as PNG."""
        from PIL.Image import fromarray

        file, kind = BytesIO(), "jpeg" if image.shape[2] == 3 else "png"
        if kind == "jpeg":
            fromarray(image).save(file, "JPEG", quality=_PHOTO_QUALITY, subsampling=0)
        else:
            fromarray(image).save(file, "PNG")
        place = f'x="{_number(x)}" y="{_number(y)}" width="{_number(wide)}" height="{_number(high)}"'
        source = f'href="data:image/{kind};base64,{b64encode(file.getvalue()).decode("ascii")}"'
        self._parts.append(f'<image {place} preserveAspectRatio="none" {source}/>')

    def words(
        self, x: float, y: float, text: str, size_pt: float, color: str, *, side: Side = "start", upright: bool = False,
        halo: str = "",
    ) -> None:  # fmt: skip
        """Write words on one line, as `Canvas` says."""
        place = f'x="{_number(x)}" y="{_number(y)}"'
        turned = f' transform="rotate(-90 {_number(x)} {_number(y)})"' if upright else ""
        style = f'font-size="{_number(size_pt)}" text-anchor="{side}" fill="{color}"'
        if halo:
            style += f' stroke="{halo}" stroke-width="{HALO_PT}" stroke-linejoin="round" paint-order="stroke"'
        self._parts.append(f"<text {place}{turned} {style}>{escape(text)}</text>")

    def svg(self) -> bytes:
        """Return the drawing as a file."""
        wide, high = self._size
        family = f"text{{font-family: '{look().type['family']}', 'DejaVu Sans', sans-serif}}"
        return "\n".join([
            '<?xml version="1.0" encoding="utf-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}pt" height="{high}pt" viewBox="0 0 {wide} {high}">',
            f"<style>{family}</style>",
            *self._parts,
            "</svg>\n",
        ]).encode("utf-8")


def hatch(canvas: Canvas, left: float, top: float, wide: float, high: float) -> None:
    """Rule a box with lines that rise to the right.

    Args:
        canvas: to draw on.
        left: the left edge of the box [pt].
        top: its upper edge [pt].
        wide: its width [pt].
        high: its height [pt].
    """
    foot, right = top + high, left + wide
    rising = []
    for number in range(1, int((wide + high) / _HATCH_PT) + 1):
        along = number * _HATCH_PT  # from the upper left corner down the side and along the foot to where it begins
        begin = (left, top + along) if along <= high else (left + along - high, foot)
        end = (left + along, top) if along <= wide else (right, top + along - wide)
        rising.append((begin, end))
    canvas.lines(rising, QUIET, 0.6)


def words_wide_pt(text: str, size_pt: float) -> float:
    """Return how wide a line of words is [pt], in the open font at a size [pt]."""
    return _font().getlength(text) * size_pt / _MEASURED_AT


def fitting_pt(text: str, size_pt: float, room_pt: float) -> float:
    """Return the size at which a line of words has room, the wanted one where it can be [pt]."""
    return size_pt * min(1.0, room_pt / max(words_wide_pt(text, size_pt), 1e-9))


@cache
def _font() -> "FreeTypeFont":
    from PIL.ImageFont import Layout, truetype

    return truetype(str(font_folder() / FACES[400]), _MEASURED_AT, layout_engine=Layout.BASIC)


def _number(value: float) -> str:
    """Return a number to a hundredth, without zeros that say nothing."""
    return f"{value:.2f}".rstrip("0").rstrip(".")
