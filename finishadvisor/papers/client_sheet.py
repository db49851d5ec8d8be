"""The client sheet: three options or fewer, side by side, in plain words and selling prices."""

from collections.abc import Sequence
from typing import Any, Final

from finishadvisor import __version__
from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.wording import VERDICT_WORDS, day_text, money_range_text, number_text
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.whole import FloorOutcome, WholeJob

MOST_OPTIONS: Final = 3
REASONS_SHOWN: Final = 3

TERMS: Final = (
    "A mock-up is made on your own slab with the real preparation, dried, and signed by you before anything is "
    "ordered.",
    "The floor is judged standing, from a normal distance and not closer than 5 ft, in daylight or the room's "
    "own light, never in grazing light, with the slab dry and at least 28 days old.",
    "Concrete is not paint: shade varies from place to place; cracks, joints and repairs show under a clear finish.",
)


def client_sheet_data(whole: WholeJob, outcome: FloorOutcome) -> dict[str, Any]:
    """Return the client sheet of one floor as plain words for the template."""
    shown = options_shown(outcome)
    advice = outcome.advice
    return {
        "title": f"{outcome.floor.name}: which finish",
        "answer": answer_sentence(shown, outcome),
        "client": whole.job.client or "the client",
        "options": [option_words(finish, whole, outcome) for finish in shown],
        "years_words": f"Over {number_text(whole.job.business.analysis_years)} years",
        "none_fits": advice.none_fits or "No finish of the list suits this floor as it is described now.",
        "open_questions": [f"{fact.question} {fact.how}" for fact in advice.find_out_next[:5]],
        "terms": list(TERMS),
        "cautions": list(advice.cautions),
        "foot": foot(whole, outcome.floor.name),
    }


def foot(whole: WholeJob, floor: str = "") -> str:
    """Return the words in the foot of every paper: job, floor, date, version."""
    parts = [whole.job.name, floor, day_text(whole.on), f"Finish Advisor {__version__}"]
    return "  |  ".join(part for part in parts if part)


def options_shown(outcome: FloorOutcome) -> list[FinishAdvice]:
    """Return the decided finish first, then the best ranked ones that can be had, three at most."""
    ranked = [finish for finish in outcome.advice.finishes if finish.rank is not None]
    first = [finish for finish in outcome.advice.finishes if finish.id == outcome.finish]
    return (first + [finish for finish in ranked if finish.id != outcome.finish])[:MOST_OPTIONS]


def answer_sentence(shown: Sequence[FinishAdvice], outcome: FloorOutcome) -> str:
    """Return the one sentence that answers the client."""
    if not shown:
        return outcome.advice.none_fits or "Nothing suits this floor as it is described now."
    first = shown[0]
    count = len(first.conditions)
    after = "" if not count else f", once {count} thing{'s are' if count > 1 else ' is'} settled (see below)"
    if outcome.floor.decision is not None and outcome.floor.decision.finish == first.id:
        return f"Decided: {first.name}{after}."
    return f"First choice for this floor: {first.name}{after}."


def option_words(finish: FinishAdvice, whole: WholeJob, outcome: FloorOutcome) -> dict[str, Any]:
    """Return one option as the words of its column."""
    row = whole.catalog.finishes[finish.id]
    currency = whole.job.currency
    met = [finding for finding in finish.reasons if finding.met == "yes"]
    return {
        "name": finish.name,
        "verdict": finish.verdict,
        "verdict_words": VERDICT_WORDS[finish.verdict],
        "picture": "",
        "picture_words": "",
        "look": row.look,
        "conditions": list(finish.conditions),
        "reasons_for": [f.because for f in met if f.effect == "favor"][:REASONS_SHOWN],
        "reasons_against": [f.because for f in met if f.effect in {"against", "caution"}][:REASONS_SHOWN],
        "price": money_range_text(outcome.selling_prices.get(finish.id), currency),
        "life_price": money_range_text(outcome.life_prices.get(finish.id), currency),
        "days_out": "" if finish.days_out is None else f"about {number_text(finish.days_out, 0)} days",
        "upkeep": upkeep_words(finish.id, whole.catalog),
        "goes_wrong": list(row.goes_wrong),
    }


def upkeep_words(finish_id: str, catalog: Catalog) -> str:
    """Return when to inspect and about when a recoat may be due; never a blind date."""
    upkeep = catalog.finishes[finish_id].upkeep
    months = number_text(upkeep.inspect_months, 0)
    text = f"Look every {months} months: does water still bead, is it dull?"
    if upkeep.recoat_years:
        years = upkeep.recoat_years
        text += f" A recoat is usually due after {number_text(years.low)} to {number_text(years.high)} years."
    return text
