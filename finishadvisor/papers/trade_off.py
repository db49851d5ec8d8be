"""The chart of trade-offs: what more money buys, price against what money does not measure."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.charts import (
    BESIDE_PT,
    EDGE_PT,
    LINE_PT,
    NUMBERS_HIGH_PT,
    TITLE_HIGH_PT,
    VALUE_PT,
    WIDE_PT,
    Amounts,
    Priced,
    round_step,
)
from finishadvisor.papers.figures import INK, QUIET, RULE, TEXT_PT, TITLE_PT, WHITE, WORK
from finishadvisor.papers.vector import HALF_FIGURE, Drawing, Side, words_wide_pt
from finishadvisor.papers.wording import number_text

MERITS: Final = ("look", "wear", "upkeep", "slip")
LONGEST_NAME: Final = 30
_LONGEST_IN_KEY: Final = 60
_AXIS: Final = "look, wear, upkeep and grip, 0 to 10"
_TITLE: Final = "What more money buys; hollow: another finish is no dearer and no worse"
HIGH_PT: Final = 266.4
_LEFT_PT, _RIGHT_PT, _FOOT_PT = 34.0, WIDE_PT - EDGE_PT, HIGH_PT - NUMBERS_HIGH_PT - LINE_PT
"""Where the sides and the foot of the chart lie; room for the words around it is the same on every job."""
_RADIUS_PT: Final = 6.5
_CLEAR_PT: Final = 10.0
"""From the middle of a mark to the name beside it."""
_MOST_MARKS: Final = 8
_KEY_GAP_PT: Final = 4.0

Place = tuple[float, float]
Box = tuple[float, float, float, float]
Name = tuple[Side, float, float]
"""Where a name stands: which of its ends, at what x, and the height of its middle."""


def trade_off_chart(
    finishes: Sequence[Priced], catalog: Catalog, weights: Mapping[str, float], currency: str
) -> bytes | None:
    """Return price against merit as SVG, finishes that another one beats in everything drawn hollow.

    Args:
        finishes: in rank order; their numbers are their ranks.
        catalog: with the merits of each.
        weights: of the job's criteria, where it has its own.
        currency: of the prices.
    """
    if len(finishes) < 2:
        return None
    merits = {finish.id: merit(finish.id, catalog, weights) for finish in finishes}
    dearest = max(finish.price.expected for finish in finishes)
    amounts = Amounts(_LEFT_PT, (_RIGHT_PT - _LEFT_PT) / (1.09 * dearest) if dearest > 0 else 1.0, currency)
    marks = _Marks(min(merits.values()), max(merits.values()))
    places = {finish.id: (amounts.x_pt(finish.price.expected), marks.y_pt(merits[finish.id])) for finish in finishes}
    names = _room_for_names(finishes, places)
    key = _key([finish for finish in finishes if finish.id not in names])
    drawing = Drawing(WIDE_PT, HIGH_PT + (_KEY_GAP_PT + len(key) * LINE_PT if key else 0))
    drawing.box(_LEFT_PT, TITLE_HIGH_PT, _RIGHT_PT - _LEFT_PT, _FOOT_PT - TITLE_HIGH_PT, WHITE)
    amounts.rule(drawing, TITLE_HIGH_PT, _FOOT_PT)
    marks.rule(drawing)
    _write_around(drawing)
    _draw_finishes(drawing, finishes, places, names)
    for line, words in enumerate(key, start=1):
        drawing.words(_LEFT_PT, HIGH_PT + _KEY_GAP_PT + line * LINE_PT - 3, words, VALUE_PT, QUIET)
    return drawing.svg()


@dataclass(frozen=True)
class _Marks:
    """How marks lie along the left side of the chart, from the least to the most that is drawn."""

    least: float
    most: float

    @property
    def _margin(self) -> float:
        """What is shown below the least and above the most."""
        return max(0.12 * (self.most - self.least), 0.25)

    @property
    def _span(self) -> float:
        return self.most - self.least + 2 * self._margin

    def y_pt(self, mark: float) -> float:
        """Return where a mark lies [pt]."""
        return _FOOT_PT - (mark - self.least + self._margin) / self._span * (_FOOT_PT - TITLE_HIGH_PT)

    def rule(self, drawing: Drawing) -> None:
        """Rule a light line at each round mark, the mark before it, and a line along the side."""
        step = round_step(self._span, _MOST_MARKS)
        first, last = math.ceil((self.least - self._margin) / step), math.floor((self.most + self._margin) / step)
        for mark in (number * step for number in range(first, last + 1)):
            y, words = self.y_pt(mark), f"{mark:.{1 if step < 1 else 0}f}"
            drawing.line([(_LEFT_PT, y), (_RIGHT_PT, y)], RULE, 0.5)
            drawing.words(_LEFT_PT - BESIDE_PT, y + HALF_FIGURE * TEXT_PT, words, TEXT_PT, QUIET, side="end")
        drawing.line([(_LEFT_PT, TITLE_HIGH_PT), (_LEFT_PT, _FOOT_PT)], RULE, 0.8)


def _write_around(drawing: Drawing) -> None:
    """Write the title, and what lies along foot and side."""
    drawing.words(_LEFT_PT, TITLE_PT, _TITLE, TITLE_PT, INK)
    drawing.words((_LEFT_PT + _RIGHT_PT) / 2, HIGH_PT - 3, "selling price", TEXT_PT, QUIET, side="middle")
    drawing.words(TEXT_PT, (TITLE_HIGH_PT + _FOOT_PT) / 2, _AXIS, TEXT_PT, QUIET, side="middle", upright=True)


def merit(finish_id: str, catalog: Catalog, weights: Mapping[str, float]) -> float:
    """Return how a finish does in what money does not measure, 0 to 10, by the job's own weights."""
    marks = catalog.finishes[finish_id].merits
    shares = {name: weights.get(name, catalog.criteria[name].weight) for name in MERITS}
    total = sum(shares.values())
    if total <= 0:
        return float(sum(getattr(marks, name) for name in MERITS)) / len(MERITS)
    return float(sum(share * getattr(marks, name) for name, share in shares.items())) / total


def short(name: str, longest: int = LONGEST_NAME) -> str:
    """Return a name of so many letters at most, as fits beside a mark."""
    return name if len(name) <= longest else name[: longest - 1].rstrip() + "…"


def _draw_finishes(
    drawing: Drawing, finishes: Sequence[Priced], places: Mapping[str, Place], names: Mapping[str, Name]
) -> None:
    """Draw a disc for each finish with its rank in it, the first ones on top, and its name beside it."""
    for finish in reversed(finishes):
        (x, y), filled = places[finish.id], finish.beaten_by is None
        drawing.disc(x, y, _RADIUS_PT, WORK if filled else QUIET, filled=filled, rim_pt=1.3)
        size = TEXT_PT * 0.83
        drawing.words(x, y + HALF_FIGURE * size, str(finish.rank), size, WHITE if filled else QUIET, side="middle")
        if finish.id in names:
            side, x, y = names[finish.id]
            color = INK if filled else QUIET
            drawing.words(x, y + HALF_FIGURE * VALUE_PT, short(finish.name), VALUE_PT, color, side=side)


def _room_for_names(finishes: Sequence[Priced], places: Mapping[str, Place]) -> dict[str, Name]:
    """Return where each finish's name stands free beside, over or under its mark; none where it cannot."""
    reach, half = _RADIUS_PT + 1.5, TEXT_PT * 0.6
    taken: list[Box] = [(x - reach, y - reach, x + reach, y + reach) for x, y in places.values()]
    found: dict[str, Name] = {}
    for finish in finishes:
        x, y = places[finish.id]
        wide = words_wide_pt(short(finish.name), VALUE_PT)
        tried: tuple[Name, ...] = (
            ("start", x + _CLEAR_PT, y),
            ("end", x - _CLEAR_PT, y),
            ("middle", x, y - reach - half),
            ("middle", x, y + reach + half),
        )
        for side, at, middle in tried:
            begin = at - {"start": 0.0, "middle": 0.5, "end": 1.0}[side] * wide
            box = (begin, middle - half, begin + wide, middle + half)
            inside = box[0] > _LEFT_PT and box[1] > TITLE_HIGH_PT and box[2] < _RIGHT_PT and box[3] < _FOOT_PT
            if inside and not any(_overlap(box, other) for other in taken):
                taken.append(box)
                found[finish.id] = (side, at, middle)
                break
    return found


def _key(finishes: Sequence[Priced]) -> list[str]:
    """Return the lines under the chart that name the marks that bear their number alone."""
    lines: list[str] = []
    for finish in finishes:
        told = f"{finish.rank} {short(finish.name, _LONGEST_IN_KEY)}"
        longer = f"{lines[-1]}; {told}" if lines else told
        if lines and words_wide_pt(longer, VALUE_PT) <= WIDE_PT - EDGE_PT - _LEFT_PT:
            lines[-1] = longer
        else:
            lines.append(told)
    return lines


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def merit_in_words(finish: Priced, catalog: Catalog, weights: Mapping[str, float]) -> str:
    """Return a finish's merit for who does not see the chart."""
    return f"{finish.name} {number_text(merit(finish.id, catalog, weights))}"
