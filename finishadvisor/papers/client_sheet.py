"""The client sheet: three options or fewer, side by side, in plain words and selling prices.

It carries no cost of the contractor's, no color-difference figure and no wall class. The shade map comes with it only
when the contractor asks for it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from finishadvisor import __version__
from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.cautions import cautions_by_finish, finish_cautions
from finishadvisor.papers.charts import cost_chart, in_words, priced_finishes
from finishadvisor.papers.client_options import open_conditions, option_pictures, option_words
from finishadvisor.papers.own_rows import in_plain_words, of_finishes
from finishadvisor.papers.quantities import in_units
from finishadvisor.papers.typeset import typeset
from finishadvisor.papers.wording import (
    area_text,
    counted,
    day_text,
    length_text,
    number_text,
    rest_on_dollars,
    sentence,
)
from finishadvisor.records.advice import FinishAdvice, FloorAdvice, OpenFact
from finishadvisor.records.whole import FloorOutcome, WholeJob

MOST_OPTIONS: Final = 3
QUESTIONS_SHOWN: Final = 6
NONE_FITS: Final = "None of the finishes fits this floor as it is described now."
JUDGED_FROM: Final = "5 ft"
"""Our choice: no published distance exists for colored slabs; about an arm's length more than standing height."""
JUDGED_AFTER_DAYS: Final = 28


@dataclass(frozen=True)
class ClientSheet:
    """The words of one floor's client sheet and its pictures by file name."""

    words: dict[str, Any]
    pictures: dict[str, bytes] = field(default_factory=dict)

    def pdf(self, units: str) -> bytes:
        """Return the paper as PDF, on the page of a job in these units."""
        return typeset("client_sheet", self.words, units=units, pictures=self.pictures)


def client_sheet(whole: WholeJob, outcome: FloorOutcome, *, shade_maps: Sequence[bytes] = ()) -> ClientSheet:
    """Return the client sheet of one floor.

    Args:
        whole: the job worked through.
        outcome: the floor.
        shade_maps: drawn maps (SVG) without figures, where the contractor wants the client to see them.
    """
    shown = options_shown(outcome)
    pictures = option_pictures(shown, outcome, whole.catalog)
    priced = priced_finishes(shown, outcome.selling_prices, outcome.life_prices)
    chart = cost_chart(priced, whole.job.business.analysis_years, whole.job.currency)
    if chart:
        pictures["costs.svg"] = chart
    maps = {f"shade-map-{number}.svg": drawn for number, drawn in enumerate(shade_maps, start=1)}
    pictures |= maps
    words = client_sheet_data(whole, outcome)
    for option, finish in zip(words["options"], shown, strict=True):
        option["picture"] = f"{finish.id}.jpg" if f"{finish.id}.jpg" in pictures else ""
    words["costs"] = "; ".join(in_words(finish, whole.job.currency) for finish in priced) if chart else ""
    words["shade_maps"] = list(maps)
    words["map_words"] = map_words(outcome, whole.job.units)[: len(maps)]
    return ClientSheet(words, pictures)


def map_words(outcome: FloorOutcome, units: str) -> list[str]:
    """Return what stands under the map of each measured photo: which part of the floor it shows, and of which day."""
    photos = {photo.file: photo for photo in outcome.floor.photos}
    words = []
    for measured in outcome.measurements:
        photo = photos.get(measured.evenness.photo)
        if measured.shade is None or photo is None:
            continue
        x, y = (length_text(at, units) for at in photo.origin_on_plan or (0.0, 0.0))
        what = {"slab": "", "mock-up": "The mock-up. ", "after-preparation": "After preparation. "}[photo.shows]
        day = f", photographed {day_text(photo.taken.date(), units)}" if photo.taken else ""
        words.append(f"{what}From x {x}, y {y} on the plan{day}. Outlined: clearly lighter or darker than the rest.")
    return words


def client_sheet_data(whole: WholeJob, outcome: FloorOutcome) -> dict[str, Any]:
    """Return the client sheet of one floor as plain words for the template, without pictures."""
    shown = options_shown(outcome)
    advice = outcome.advice
    years = counted(round(whole.job.business.analysis_years), "year")
    return {
        "title": f"{outcome.floor.name}: which finish",
        "answer": answer_sentence(shown, outcome),
        "floor": floor_sentence(whole, outcome),
        "client": whole.job.client or "the client",
        "options": [option_words(finish, whole, outcome) for finish in shown],
        "years_words": f"Over {years}",
        "money_words": money_words(whole, years) + added_words(whole, outcome, shown) if shown else "",
        "none_fits": advice.none_fits or "",
        "nothing_open": nothing_open_words(shown),
        "open_questions": [[sentence(fact.question), fact.how] for fact in questions_of(advice)],
        "before_the_pour": by_finish(before_the_pour_of(shown, advice), shown),
        "terms": acceptance_terms(whole.job.units) if shown else [],
        "cautions": cautions_told(shown, advice),
        "work_cautions": work_cautions_of(shown, whole.catalog),
        "own_rows": in_plain_words(of_finishes(shown, whole.catalog), whole.catalog),
        "costs": "",
        "shade_maps": [],
        "map_words": [],
        "foot": foot(whole, outcome.floor.name),
    }


def questions_of(advice: FloorAdvice) -> list[OpenFact]:
    """Return what the client is told that is not known; the mock-up stands among the terms already."""
    return [fact for fact in advice.find_out_next if fact.fact != "mock_up_signed"][:QUESTIONS_SHOWN]


def nothing_open_words(shown: Sequence[FinishAdvice]) -> str:
    """Return what is said where no question is open."""
    held = any(open_conditions(finish) for finish in shown)
    return "No test is missing." + (" What must hold first stands in the table." if held else "")


def before_the_pour_of(shown: Sequence[FinishAdvice], advice: FloorAdvice) -> list[str]:
    """Return what the pour must bring for the finishes shown; lines that name only other finishes are left out."""
    known, wanted = {finish.name for finish in advice.finishes}, [finish.name for finish in shown]
    lines = []
    for line in advice.before_the_pour:
        told, _, rest = line.rpartition(". (")
        named = [name for name in rest.removesuffix(")").split("; ") if name in known]
        kept = [name for name in wanted if name in named]
        if not named:
            lines.append(line)
        elif kept:
            lines.append(f"{told}." if len(kept) == len(wanted) else f"{told}. ({'; '.join(kept)})")
    return lines


def by_finish(lines: Sequence[str], shown: Sequence[FinishAdvice]) -> list[tuple[str, list[str]]]:
    """Return lines by the finishes that they name in brackets at their end; those that name none go with all."""
    known = {finish.name for finish in shown}
    groups: dict[str, list[str]] = {"": []}
    for line in lines:
        told, _, rest = line.rpartition(". (")
        names = rest.removesuffix(")")
        if rest.endswith(")") and set(names.split("; ")) <= known:
            groups.setdefault(names, []).append(f"{told}.")
        else:
            groups[""].append(line)
    return [(names, group) for names, group in groups.items() if group]


def cautions_told(shown: Sequence[FinishAdvice], advice: FloorAdvice) -> list[tuple[str, list[str]]]:
    """Return the cautions of this floor by the finishes that they go with, but for what stands under the pour."""
    poured = " ".join(before_the_pour_of(shown, advice))
    groups = cautions_by_finish(shown) if shown else [("", list(advice.cautions))]
    left = [(names, [caution for caution in told if caution not in poured]) for names, told in groups]
    return [(names, told) for names, told in left if told]


def foot(whole: WholeJob, floor: str = "") -> str:
    """Return the words in the foot of every paper: job, floor, date, version."""
    parts = [whole.job.name, floor, day_text(whole.on, whole.job.units), f"Finish Advisor {__version__}"]
    return "  |  ".join(part for part in parts if part)


def options_shown(outcome: FloorOutcome) -> list[FinishAdvice]:
    """Return the decided finish first, then the best ranked ones that can be had, three at most."""
    ranked = [finish for finish in outcome.advice.finishes if finish.rank is not None]
    first = [finish for finish in outcome.advice.finishes if finish.id == outcome.finish]
    return (first + [finish for finish in ranked if finish.id != outcome.finish])[:MOST_OPTIONS]


def answer_sentence(shown: Sequence[FinishAdvice], outcome: FloorOutcome) -> str:
    """Return the one sentence that answers the client."""
    if not shown:
        return NONE_FITS
    first = shown[0]
    decision = outcome.floor.decision
    begin = "Decided" if decision is not None and decision.finish == first.id else "First choice for this floor"
    if first.verdict == "does-not-suit":
        return f"{begin}: {first.name}. It does not suit this floor; the reasons stand below."
    waits = len(open_conditions(first))
    settled = f", once {counted(waits, 'thing')} below {'is' if waits == 1 else 'are'} settled" if waits else ""
    return f"{begin}: {first.name}{settled}."


def floor_sentence(whole: WholeJob, outcome: FloorOutcome) -> str:
    """Return the floor in a sentence: how large, how old, and when this was written."""
    parts = [area_text(outcome.works.area_ft2, whole.job.units)] if outcome.works else []
    pour = outcome.floor.pour
    if pour is not None:
        about = "about " if pour.about else ""
        when = "poured" if pour.date <= whole.on else "to be poured"
        parts.append(f"{when} {about}{day_text(pour.date, whole.job.units)}")
    begin = f"{outcome.floor.name}: {', '.join(parts)}. " if parts else ""
    return f"{begin}Written {day_text(whole.on, whole.job.units)}, from what is known of the floor on that day."


def money_words(whole: WholeJob, years: str) -> str:
    """Return what the prices stand for."""
    rate = number_text(whole.job.business.discount_rate * 100)
    return (
        f"Prices include preparation, material, work and the work listed above. In brackets: from a good to a bad "
        f"course. Over {years}: laying, cleaning, inspection and renewal, later years counted at {rate} % a year less. "
        f"Tax is not included.{dollars_words(whole)}"
    )


def added_words(whole: WholeJob, outcome: FloorOutcome, shown: Sequence[FinishAdvice]) -> str:
    """Return which work that the plan of the days added is in the price of the finish that is planned."""
    added = whole.plan.added.get(outcome.floor.name, ()) if whole.plan else ()
    finish = next((finish for finish in shown if finish.id == outcome.finish), None)
    if not added or finish is None:
        return ""
    titles = " and ".join(dict.fromkeys(f'"{each.task.title}"' for each in added))
    return f" The price of {finish.name} also includes what its days ask for: {titles}."


def dollars_words(whole: WholeJob) -> str:
    """Return what is to be said where amounts in another currency rest on usual prices in US dollars."""
    if not rest_on_dollars(money for outcome in whole.floors for money in outcome.selling_prices.values()):
        return ""
    return " Where no price of our own is known, a usual US price in dollars is taken one for one."


def acceptance_terms(units: str) -> list[str]:
    """Return the terms on which the floor is looked at and accepted."""
    return [
        "A mock-up is made on your own slab with the real preparation, dried, and signed by you before anything is "
        "ordered. What was signed is what is built.",
        f"The floor is judged dry and at least {JUDGED_AFTER_DAYS} days old, by a person standing on it, from no "
        f"nearer than {in_units(JUDGED_FROM, units)}, in daylight or the room's own light, never in light that "
        "grazes it.",
        "Concrete is not paint: shade varies from place to place and from load to load, and that is no defect.",
        "Cracks, joints, repairs and trowel marks show under every clear finish; colored patches never match.",
    ]


def work_cautions_of(shown: Sequence[FinishAdvice], catalog: Catalog) -> list[str]:
    """Return the usual cautions of the finishes shown, of their materials and work, each once."""
    sentences = [
        caution
        for finish in shown
        for caution in finish_cautions(catalog.finishes[finish.id], [a.work_item for a in finish.adds], catalog)
    ]
    return list(dict.fromkeys(sentences))
