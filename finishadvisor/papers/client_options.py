"""One option of the client sheet: its picture on this slab, verdict, reasons, prices and upkeep in plain words."""

from collections.abc import Sequence
from typing import Any, Final

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.papers.pictures import has_picture, largest_bay, sealed_picture
from finishadvisor.papers.wording import VERDICT_WORDS, counted, money_range_text, number_text, sentence
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.whole import FloorOutcome, WholeJob

REASONS_SHOWN: Final = 3
WORK: Final = "with this work"
"""How a condition begins that is work to be done, not something to wait for or to find out."""


def open_conditions(finish: FinishAdvice) -> list[str]:
    """Return the conditions that must be waited for or found out; work that is simply done is not among them."""
    return [condition for condition in finish.conditions if not condition.startswith(WORK)]


def option_words(finish: FinishAdvice, whole: WholeJob, outcome: FloorOutcome) -> dict[str, Any]:
    """Return one option as the words of its column."""
    row = whole.catalog.finishes[finish.id]
    currency = whole.job.currency
    met = [finding for finding in finish.reasons if finding.met == "yes"]
    ruled_out = [finding.because for finding in met if finding.effect == "forbid"]
    against = [finding.because for finding in met if finding.effect == "against"]
    return {
        "name": finish.name,
        "verdict": finish.verdict,
        "verdict_words": verdict_words(finish),
        "picture": "",
        "picture_words": picture_words(row, whole.catalog, photographed=largest_bay(outcome.measurements) is not None),
        "look": row.look,
        "conditions": [sentence(condition) for condition in open_conditions(finish)],
        "work": work_words(finish, whole.catalog),
        "reasons_for": [sentence(f.because) for f in met if f.effect == "favor"][:REASONS_SHOWN],
        "reasons_against": [sentence(because) for because in (ruled_out + against)[:REASONS_SHOWN]],
        "price": money_range_text(outcome.selling_prices.get(finish.id), currency),
        "life_price": money_range_text(outcome.life_prices.get(finish.id), currency),
        "days_out": "not known" if finish.days_out is None else f"about {counted(round(finish.days_out), 'day')}",
        "upkeep": upkeep_words(finish.id, whole.catalog),
        "goes_wrong": list(row.goes_wrong),
    }


def verdict_words(finish: FinishAdvice) -> str:
    """Return the verdict as it reads under the finish's name."""
    if finish.verdict == "suits-if" and not open_conditions(finish):
        return "suits, with added work"
    return VERDICT_WORDS[finish.verdict] if finish.verdict != "suits-if" else "suits if what is below holds"


def work_words(finish: FinishAdvice, catalog: Catalog) -> list[str]:
    """Return the work that a finish adds on this floor; work that is not certain with what it depends on."""
    words = []
    for title in (work_title(added.work_item, catalog) for added in finish.adds):
        perhaps = (
            told for told in finish.conditions if told.startswith(f"{WORK} if ") and title.lower() in told.lower()
        )
        words.append(sentence(next(perhaps, title).removeprefix(f"{WORK} ")))
    return words


def work_title(work_item: str, catalog: Catalog) -> str:
    """Return a work item's title, its id where the catalog has no such row."""
    row = catalog.work_items.get(work_item)
    return row.title if row else work_item


def option_pictures(shown: Sequence[FinishAdvice], outcome: FloorOutcome, catalog: Catalog) -> dict[str, bytes]:
    """Return a picture of each option on this slab's own shade, by file name, where the look can be drawn."""
    shade = largest_bay(outcome.measurements)
    if shade is None:
        return {}
    pictures = {}
    for finish in shown:
        row = catalog.finishes[finish.id]
        if row.sealed_look is not None and has_picture(row, catalog):
            pictures[f"{finish.id}.jpg"] = sealed_picture(shade, row.sealed_look)
    return pictures


def picture_words(finish: Finish, catalog: Catalog, *, photographed: bool) -> str:
    """Return the words under an option's picture, or why there is none."""
    if not has_picture(finish, catalog):
        return "Mock-up only: this look cannot be drawn from a photo of the bare slab."
    if not photographed:
        return "No picture: the slab has not been photographed."
    if finish.sealed_look is not None and finish.sealed_look.hiding > 0:
        return "From your photo, with a tint in its own color. The mock-up decides."
    return "From your photo; the mock-up decides."


def upkeep_words(finish_id: str, catalog: Catalog) -> str:
    """Return when to inspect and about when a recoat may be due; never a blind date."""
    upkeep = catalog.finishes[finish_id].upkeep
    months = counted(round(upkeep.inspect_months), "month")
    text = f"Look every {months}: {', '.join(upkeep.look_for)}?"
    if upkeep.recoat_years:
        years = upkeep.recoat_years
        text += f" A recoat is usually due after {number_text(years.low)} to {number_text(years.high)} years."
    return text
