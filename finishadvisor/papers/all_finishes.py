"""Every finish on one floor in rank order: verdict, selling price, reason; what each costs and what it gives."""

from collections.abc import Iterator
from typing import Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.blocks import Block, Sheet, heading, picture, quiet, table, text
from finishadvisor.papers.charts import cost_chart, in_words, priced_finishes
from finishadvisor.papers.client_options import open_conditions
from finishadvisor.papers.client_sheet import NONE_FITS, foot
from finishadvisor.papers.trade_off import merit_in_words, trade_off_chart
from finishadvisor.papers.wording import VERDICT_WORDS, money_text, number_text, sentence, stability_words
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.base import Money
from finishadvisor.records.whole import FloorOutcome, WholeJob

MOST_DRAWN: Final = 8
"""The cost chart shows the first of the ranking; all prices stand in the table."""


def all_finishes(whole: WholeJob, outcome: FloorOutcome) -> Sheet:
    """Return the comparison of all finishes on one floor, at selling prices.

    Args:
        whole: the job worked through.
        outcome: the floor.
    """
    advice = outcome.advice
    priced = priced_finishes(advice.finishes, outcome.selling_prices, outcome.life_prices)
    currency, years = whole.job.currency, whole.job.business.analysis_years
    costs = cost_chart(priced[:MOST_DRAWN], years, currency)
    trade = trade_off_chart(priced, whole.catalog, whole.job.weights, currency)
    pictures = {name: chart for name, chart in (("costs.svg", costs), ("trade-off.svg", trade)) if chart}
    rows = [_row(finish, outcome, currency, whole.catalog) for finish in advice.finishes]
    blocks = [
        *([text(advice.none_fits)] if advice.none_fits else []),
        table(
            ("", "Finish", "Verdict", "Price", f"{number_text(years, 0)} years", "Days out", "Why"),
            rows,
            "lllrrrl",
            shares=(0, 1, 0, 0, 0, 0, 2.4),
            small=True,
        ),
        quiet("Price: expected selling price; its range stands in the chart. Why: the weightiest of the reasons."),
        *_charts(whole, outcome, pictures),
    ]
    return Sheet(
        f"{outcome.floor.name}: all finishes", _answer(outcome), blocks, foot(whole, outcome.floor.name), pictures
    )


def _answer(outcome: FloorOutcome) -> str:
    ranked = [finish for finish in outcome.advice.finishes if finish.rank is not None]
    if not ranked:
        return NONE_FITS
    stable = outcome.advice.winner_stability
    often = "" if stable is None else f" {stability_words(stable)}"
    return f"{ranked[0].name} comes first of {len(ranked)} that can be had.{often}"


def _row(finish: FinishAdvice, outcome: FloorOutcome, currency: str, catalog: Catalog) -> tuple[str, ...]:
    return (
        str(finish.rank or "–"),
        finish.name,
        verdict_in_short(finish),
        _expected(outcome.selling_prices.get(finish.id), currency),
        _expected(outcome.life_prices.get(finish.id), currency),
        "–" if finish.days_out is None else number_text(finish.days_out, 0),
        why(finish, catalog),
    )


def verdict_in_short(finish: FinishAdvice) -> str:
    """Return the verdict as the client sheet has it, in a word or two: work that is simply done is no condition."""
    if finish.verdict == "suits-if" and not open_conditions(finish):
        return "suits, with work"
    return VERDICT_WORDS[finish.verdict]


def why(finish: FinishAdvice, catalog: Catalog) -> str:
    """Return the reason that decides a finish most: what rules it out, what holds it, what speaks for it."""
    if finish.verdict == "does-not-suit":
        told = [f.because for f in finish.reasons if f.effect == "forbid" and f.met == "yes"]
        return sentence(told[0]) if told else ""
    if finish.verdict == "cannot-tell":
        missing = dict.fromkeys(fact for f in finish.reasons if f.effect == "forbid" for fact in f.missing)
        return f"Not known: {', '.join(catalog.facts[fact].label for fact in missing)}." if missing else ""
    if finish.conditions:
        return sentence(finish.conditions[0])
    told = [f.because for f in finish.reasons if f.effect == "favor" and f.met == "yes"]
    return sentence(told[0]) if told else ""


def _expected(money: Money | None, currency: str) -> str:
    return "not known" if money is None else money_text(money.expected, currency)


def _charts(whole: WholeJob, outcome: FloorOutcome, pictures: dict[str, bytes]) -> Iterator[Block]:
    priced = priced_finishes(outcome.advice.finishes, outcome.selling_prices, outcome.life_prices)
    currency = whole.job.currency
    if "costs.svg" in pictures:
        yield heading("What each costs")
        yield picture("costs.svg", "Prices: " + "; ".join(in_words(finish, currency) for finish in priced[:MOST_DRAWN]))
    if "trade-off.svg" in pictures:
        yield heading("What each gives for it")
        merits = "; ".join(merit_in_words(finish, whole.catalog, whole.job.weights) for finish in priced)
        yield picture(
            "trade-off.svg", f"Merit against price: {merits}", caption="Numbers: the rank in the table above."
        )
