"""A drawing of a floor to scale: what is drawn is given in feet on the plan, y upward."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from finishadvisor.papers.figures import INK, TEXT_PT, WHITE, WORK
from finishadvisor.papers.vector import HALF_FIGURE, Drawing, words_wide_pt

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Place = tuple[float, float]
"""x and y on the plan [ft]."""
PT_PER_IN: Final = 72.0
SMALL_PT: Final = TEXT_PT * 0.9
LETTER_PT: Final = TEXT_PT * 1.44
_CROSS_PT: Final = 3.5
"""From the middle of a cross to the end of each arm, along x and y."""
_PILL_PT: Final = (3.2, 12.0)
"""Room at either side of the words in a frame, and how tall it is."""


class PlanDrawing(Drawing):
    """A drawing of a floor; `scale` is the length of a foot [pt]."""

    def __init__(self, bounds: tuple[float, float, float, float], scale: float, around_pt: tuple[float, float]) -> None:
        """Begin a plan.

        Args:
            bounds: of the floor: lowest and highest x and y as x0, y0, x1, y1 [ft].
            scale: length of a foot [pt].
            around_pt: room at the left and on top, then at the right and below [pt].
        """
        before, behind = around_pt
        self.bounds, self.scale = bounds, scale
        self._left, self._top = bounds[0] - before / scale, bounds[3] + before / scale
        wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
        super().__init__(wide * scale + before + behind, high * scale + before + behind)

    def at(self, place: Place) -> tuple[float, float]:
        """Return where a place lies on the drawing [pt]."""
        return (place[0] - self._left) * self.scale, (self._top - place[1]) * self.scale

    def run(self, places: Sequence[Place], color: str, wide_pt: float, *, dash: Sequence[float] = ()) -> None:
        """Draw straight from place to place."""
        self.line([self.at(place) for place in places], color, wide_pt, dash=dash)

    def slab(self, shape: "BaseGeometry") -> None:
        """Draw the outline of the floor with its cut-outs, white inside."""
        rings = [ring for part in getattr(shape, "geoms", [shape]) for ring in (part.exterior, *part.interiors)]
        closed = [" L ".join(f"{x:.2f} {y:.2f}" for x, y in map(self.at, ring.coords[:-1])) for ring in rings]
        path = " ".join(f"M {ring} Z" for ring in closed)
        style = f'fill="{WHITE}" fill-rule="evenodd" stroke="{INK}" stroke-width="1.6"'
        self._parts.append(f'<g id="floor"><path d="{path}" {style}/></g>')

    def letter(self, place: Place, text: str, *, raised: bool) -> None:
        """Write the letter of a zone, over its place or with its middle there."""
        x, y = self.at(place)
        foot = y - 2 if raised else y + HALF_FIGURE * LETTER_PT
        style = f'font-size="{LETTER_PT:.2f}" text-anchor="middle" fill="{WORK}" style="font-weight: 700"'
        halo = f'stroke="{WHITE}" stroke-width="4" stroke-linejoin="round" paint-order="stroke"'
        self._parts.append(f'<text x="{x:.2f}" y="{foot:.2f}" {style} {halo}>{text}</text>')

    def cross(self, place: Place, color: str) -> None:
        """Mark a place with a cross."""
        x, y = self.at(place)
        for rise in (-_CROSS_PT, _CROSS_PT):
            self.line([(x - _CROSS_PT, y - rise), (x + _CROSS_PT, y + rise)], color, 1.6)

    def framed(self, place: Place, text: str, color: str) -> None:
        """Write words in a frame with round corners."""
        x, y = self.at(place)
        beside, high = _PILL_PT
        wide = words_wide_pt(text, SMALL_PT) + 2 * beside
        size = f'x="{x - wide / 2:.2f}" y="{y - high / 2:.2f}" width="{wide:.2f}" height="{high:g}" rx="{high / 4:g}"'
        self._parts.append(f'<rect {size} fill="{WHITE}" stroke="{color}" stroke-width="0.7"/>')
        self.words(x, y + HALF_FIGURE * SMALL_PT, text, SMALL_PT, color, side="middle")
