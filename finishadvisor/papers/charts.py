"""Charts of money: what each finish costs first and over the years, and what more money buys."""

import textwrap
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.figures import INK, QUIET, RULE, TEXT_PT, WORK, Form, drawn, title
from finishadvisor.papers.wording import counted, money_text, number_text
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.base import Money

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDE_IN: Final = 6.4
COST_ROW_IN: Final = 0.46
TRADE_OFF_HIGH_IN: Final = 3.7
LONGEST_NAME: Final = 30
MERITS: Final = ("look", "wear", "upkeep", "slip")


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


DrawCosts = Callable[[tuple[Priced, ...], float, str], bytes | None]
"""Draws the prices of finishes, given the years and the currency, as `cost_chart` does."""


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


def cost_chart(finishes: Sequence[Priced], years: float, currency: str, form: Form = "svg") -> bytes | None:
    """Return the price now and over the years of each finish: ranges as bars, the expected value as a tick."""
    if not finishes:
        return None

    def draw(figure: "Figure") -> None:
        axes = figure.add_subplot()
        for row, finish in enumerate(reversed(finishes)):
            _bar(axes, row + 0.18, finish.price, INK, currency)
            if finish.life_price is not None:
                _bar(axes, row - 0.18, finish.life_price, WORK, currency)
        axes.set_yticks(range(len(finishes)), [wrapped(finish.name) for finish in reversed(finishes)], color=INK)
        axes.set_ylim(-0.6, len(finishes) - 0.4)
        axes.set_xlim(left=0)
        axes.spines["left"].set_visible(False)
        _plain_grid(axes, currency, only="x")
        title(axes, f"Price now (dark) and over {counted(round(years), 'year')} with upkeep (blue)", x=0)

    return drawn(WIDE_IN, 0.6 + COST_ROW_IN * len(finishes), form, draw)


def trade_off_chart(
    finishes: Sequence[Priced], catalog: Catalog, weights: Mapping[str, float], currency: str, form: Form = "svg"
) -> bytes | None:
    """Return price against merit, finishes that another one beats in everything drawn hollow."""
    if len(finishes) < 2:
        return None
    merits = {finish.id: merit(finish.id, catalog, weights) for finish in finishes}

    def draw(figure: "Figure") -> None:
        axes = figure.add_subplot()
        for finish in finishes:
            filled = finish.beaten_by is None
            axes.plot(
                finish.price.expected, merits[finish.id], marker="o", markersize=13, color=WORK if filled else QUIET,
                markerfacecolor=WORK if filled else "none", markeredgewidth=1.3, linestyle="none",
            )  # fmt: skip
        axes.margins(x=0.09, y=0.12)
        axes.set_xlim(left=0)
        _plain_grid(axes, currency, only="both")
        axes.set_xlabel("selling price")
        axes.set_ylabel("look, wear, upkeep and grip, 0 to 10")
        title(axes, "What more money buys; hollow: another finish is no dearer and no worse")
        _label(figure, axes, finishes, merits)

    return drawn(WIDE_IN, TRADE_OFF_HIGH_IN, form, draw)


def _plain_grid(axes: "Axes", currency: str, only: Literal["x", "both"]) -> None:
    """Rule light lines behind what is drawn, with amounts of money along the first axis."""
    axes.grid(axis=only, color=RULE, linewidth=0.5)
    axes.set_axisbelow(True)
    axes.tick_params(length=0)
    axes.xaxis.set_major_formatter(lambda amount, _: money_text(amount, currency))


def merit(finish_id: str, catalog: Catalog, weights: Mapping[str, float]) -> float:
    """Return how a finish does in what money does not measure, 0 to 10, by the job's own weights."""
    marks = catalog.finishes[finish_id].merits
    shares = {name: weights.get(name, catalog.criteria[name].weight) for name in MERITS}
    total = sum(shares.values())
    if total <= 0:
        return float(sum(getattr(marks, name) for name in MERITS)) / len(MERITS)
    return float(sum(share * getattr(marks, name) for name, share in shares.items())) / total


def short(name: str) -> str:
    """Return a name that fits beside a chart."""
    return name if len(name) <= LONGEST_NAME else name[: LONGEST_NAME - 1].rstrip() + "…"


def wrapped(name: str) -> str:
    """Return a name on two lines at most."""
    lines = textwrap.wrap(name, LONGEST_NAME - 6, max_lines=2, placeholder=" …")
    return "\n".join(lines)


def _bar(axes: "Axes", height: float, money: Money, color: str, currency: str) -> None:
    axes.plot([money.low, money.high], [height, height], color=color, linewidth=11, alpha=0.2, solid_capstyle="butt")
    axes.plot([money.expected, money.expected], [height - 0.14, height + 0.14], color=color, linewidth=2)
    axes.annotate(
        money_text(money.expected, currency), (money.expected, height), xytext=(4, 0), textcoords="offset points",
        va="center", fontsize=TEXT_PT * 0.9, color=color,
    )  # fmt: skip


def _label(figure: "Figure", axes: "Axes", finishes: Sequence[Priced], merits: Mapping[str, float]) -> None:
    """Write each finish's number into its mark, and its name beside it where there is room for it."""
    _lay_out(figure)
    dot = figure.dpi / 72
    places = {finish.id: axes.transData.transform((finish.price.expected, merits[finish.id])) for finish in finishes}
    taken = [(x - 8 * dot, y - 8 * dot, x + 8 * dot, y + 8 * dot) for x, y in places.values()]
    for finish in finishes:
        point, (x, y), name = (finish.price.expected, merits[finish.id]), places[finish.id], short(finish.name)
        color = "white" if finish.beaten_by is None else QUIET
        axes.annotate(
            str(finish.rank), point, ha="center", va="center_baseline", fontsize=TEXT_PT * 0.83, color=color, zorder=4
        )
        wide, half = len(name) * TEXT_PT * 0.5 * dot, TEXT_PT * 0.6 * dot
        for side, start in (("left", x + 10 * dot), ("right", x - 10 * dot - wide)):
            box = (start, y - half, start + wide, y + half)
            inside = axes.bbox.x0 < box[0] and box[2] < axes.bbox.x1
            if inside and not any(_overlap(box, other) for other in taken):
                taken.append(box)
                offset = (10 if side == "left" else -10, 0)
                axes.annotate(
                    name, point, xytext=offset, textcoords="offset points", ha=side, va="center_baseline",
                    fontsize=TEXT_PT * 0.9, color=INK if finish.beaten_by is None else QUIET,
                )  # fmt: skip
                break


def _lay_out(figure: "Figure") -> None:
    """Give the axes the place that they have once the words around them are measured."""
    engine = figure.get_layout_engine()
    if engine is not None:
        engine.execute(figure)


def _overlap(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def in_words(finish: Priced, currency: str) -> str:
    """Return a finish's money for who does not see the chart."""
    life = "" if finish.life_price is None else f", {money_text(finish.life_price.expected, currency)} with upkeep"
    return f"{finish.name} {money_text(finish.price.expected, currency)}{life}"


def merit_in_words(finish: Priced, catalog: Catalog, weights: Mapping[str, float]) -> str:
    """Return a finish's merit for who does not see the chart."""
    return f"{finish.name} {number_text(merit(finish.id, catalog, weights))}"
