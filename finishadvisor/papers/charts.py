"""The chart of prices: what each finish costs first and over the years; and what every chart of money shares."""

import math
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from finishadvisor.papers.figures import INK, QUIET, RULE, TEXT_PT, TITLE_PT, WHITE, WORK
from finishadvisor.papers.vector import HALF_FIGURE, Drawing, words_wide_pt
from finishadvisor.papers.wording import counted, money_text
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.base import Money

WIDE_PT: Final = 460.8
"""The width between the margins of a paper, nearly."""
NAME_LINE: Final = 24
VALUE_PT: Final = TEXT_PT * 0.9
LINE_PT: Final = 10.5
TITLE_HIGH_PT: Final = 17.0
NUMBERS_HIGH_PT: Final = 16.0
"""Room under a chart for the amounts along its foot."""
EDGE_PT: Final = 3.0
BESIDE_PT: Final = 4.0
"""From a mark to the words beside it, and from words to the axis."""
_ROW_PT: Final = 33.0
_BAR_PT: Final = 11.0
_MOST_AMOUNTS: Final = 6
_STEPS: Final = (1, 2, 5, 10)


@dataclass(frozen=True)
class Priced:
    """A finish with what a client may see of its money."""

    id: str
    rank: int
    name: str
    price: Money
    life_price: Money | None
    beaten_by: str | None
    """Name of a finish that is no dearer and no worse in anything."""


@dataclass(frozen=True)
class Amounts:
    """How amounts of money lie along the foot of a chart."""

    left_pt: float
    """Where no money at all lies."""
    pt_per_amount: float
    currency: str

    def x_pt(self, amount: float) -> float:
        """Return where an amount lies [pt]."""
        return self.left_pt + amount * self.pt_per_amount

    def rule(self, drawing: Drawing, top_pt: float, foot_pt: float) -> None:
        """Rule a light line from top to foot at each round amount, the amount under it, and a line along the foot."""
        right = WIDE_PT - EDGE_PT
        most = (right - self.left_pt) / self.pt_per_amount
        longest = words_wide_pt(money_text(most, self.currency), TEXT_PT)
        step = max(round_step(most, min(_MOST_AMOUNTS, int((right - self.left_pt) / (1.4 * longest)))), 1)
        for amount in (number * step for number in range(int(most / step) + 1)):
            x, words = self.x_pt(amount), money_text(amount, self.currency)
            drawing.line([(x, top_pt), (x, foot_pt)], RULE, 0.5)
            if x + words_wide_pt(words, TEXT_PT) / 2 <= WIDE_PT:
                drawing.words(x, foot_pt + LINE_PT, words, TEXT_PT, QUIET, side="middle")
        drawing.line([(self.left_pt, foot_pt), (right, foot_pt)], RULE, 0.8)


def priced_finishes(
    finishes: Sequence[FinishAdvice], prices: Mapping[str, Money | None], life_prices: Mapping[str, Money | None]
) -> list[Priced]:
    """Return the ranked finishes whose selling price is known, in their order."""
    names = {finish.id: finish.name for finish in finishes}
    return [
        Priced(
            finish.id, finish.rank, finish.name, price, life_prices.get(finish.id), names.get(finish.dominated_by or "")
        )
        for finish in finishes
        if finish.rank is not None and (price := prices.get(finish.id)) is not None
    ]


def cost_chart(finishes: Sequence[Priced], years: float, currency: str) -> bytes | None:
    """Return the price now and over the years of each finish as SVG: ranges as bars, the expected value as a tick.

    Args:
        finishes: from the uppermost to the lowest.
        years: that the second price covers.
        currency: of the prices.
    """
    if not finishes:
        return None
    names = [wrapped(finish.name).split("\n") for finish in finishes]
    left = EDGE_PT + max(words_wide_pt(line, TEXT_PT) for lines in names for line in lines) + BESIDE_PT
    amounts = Amounts(left, _pt_per_amount(finishes, currency, WIDE_PT - EDGE_PT - left), currency)
    foot = TITLE_HIGH_PT + _ROW_PT * len(finishes)
    drawing = Drawing(WIDE_PT, foot + NUMBERS_HIGH_PT)
    drawing.box(left, TITLE_HIGH_PT, WIDE_PT - EDGE_PT - left, foot - TITLE_HIGH_PT, WHITE)
    amounts.rule(drawing, TITLE_HIGH_PT, foot)
    words = f"Price now (dark) and over {counted(round(years), 'year')} with upkeep (blue)"
    drawing.words(left, TITLE_PT, words, TITLE_PT, INK)
    for row, (finish, lines) in enumerate(zip(finishes, names, strict=True)):
        middle = TITLE_HIGH_PT + (row + 0.5) * _ROW_PT
        first = middle + HALF_FIGURE * TEXT_PT - (len(lines) - 1) * LINE_PT / 2
        for number, line in enumerate(lines):
            drawing.words(left - BESIDE_PT, first + number * LINE_PT, line, TEXT_PT, INK, side="end")
        _bar(drawing, amounts, middle - _BAR_PT / 2 - 0.5, finish.price, INK)
        if finish.life_price is not None:
            _bar(drawing, amounts, middle + _BAR_PT / 2 + 0.5, finish.life_price, WORK)
    return drawing.svg()


def _pt_per_amount(finishes: Sequence[Priced], currency: str, wide_pt: float) -> float:
    """Return how long one unit of money is drawn, so that the longest bar and every amount beside a tick have room."""
    prices = [price for finish in finishes for price in (finish.price, finish.life_price) if price is not None]
    highest = max(max(price.high, price.expected) for price in prices)
    scales = [wide_pt / (1.04 * highest)] if highest > 0 else [1.0]
    for price in prices:
        room = wide_pt - BESIDE_PT - words_wide_pt(money_text(price.expected, currency), VALUE_PT)
        if price.expected > 0:
            scales.append(room / price.expected)
    return min(scales)


def _bar(drawing: Drawing, amounts: Amounts, middle: float, money: Money, color: str) -> None:
    low, expected, high = (amounts.x_pt(amount) for amount in (money.low, money.expected, money.high))
    drawing.box(low, middle - _BAR_PT / 2, high - low, _BAR_PT, color, opacity=0.2)
    drawing.box(expected - 1, middle - _BAR_PT / 2, 2, _BAR_PT, color)
    foot = middle + HALF_FIGURE * VALUE_PT
    drawing.words(expected + BESIDE_PT, foot, money_text(money.expected, amounts.currency), VALUE_PT, color)


def round_step(span: float, most: int) -> float:
    """Return the smallest round step, 1, 2 or 5 times a power of ten, that goes into a span no more than so often."""
    rough = span / max(most, 1)
    power: float = 10.0 ** math.floor(math.log10(rough))
    return power * next(step for step in _STEPS if step * power >= rough * (1 - 1e-9))


def wrapped(name: str) -> str:
    """Return a name on two lines at most."""
    return "\n".join(textwrap.wrap(name, NAME_LINE, max_lines=2, placeholder=" …"))


def in_words(finish: Priced, currency: str) -> str:
    """Return a finish's money for who does not see the chart."""
    life = "" if finish.life_price is None else f", {money_text(finish.life_price.expected, currency)} with upkeep"
    return f"{finish.name} {money_text(finish.price.expected, currency)}{life}"
