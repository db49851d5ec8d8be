"""The papers and figures of one floor, each made when it is asked for: libraries are loaded only then."""

from collections.abc import Callable, Iterator
from functools import cache, partial
from typing import TYPE_CHECKING, Final

from finishadvisor.errors import JobError
from finishadvisor.papers.files import Paper, Reader
from finishadvisor.papers.quantities import in_units
from finishadvisor.papers.svg_font import with_font
from finishadvisor.records.shade import Measurement
from finishadvisor.records.whole import FloorOutcome, WholeJob

if TYPE_CHECKING:
    from finishadvisor.papers.blocks import Sheet
    from finishadvisor.papers.charts import Priced

CLIENT_PANEL_IN: Final = 2.3


def floor_papers(whole: WholeJob, outcome: FloorOutcome, stem: str, *, map_for_client: bool) -> Iterator[Paper]:
    """Yield what can be made of one floor; `stem` is how its files begin."""
    draw_days = cache(partial(_days_picture, whole, outcome))  # for two papers

    def paper(name: str, title: str, reader: Reader, make: Callable[[WholeJob, FloorOutcome], bytes]) -> Paper:
        return Paper(f"{stem}-{name}", f"{outcome.floor.name}: {title}", reader, partial(make, whole, outcome))

    yield paper("client-sheet.pdf", "client sheet", "client", partial(_client_sheet, with_map=map_for_client))
    yield paper("all-finishes.pdf", "all finishes", "client", _all_finishes)
    if outcome.evenness is not None:
        yield paper("evenness-report.pdf", "evenness report", "contractor", _evenness_report)
    yield paper("field-card.pdf", "field card", "crew", _field_card)
    if outcome.works is not None:
        yield paper("job-sheet.pdf", "job sheet", "crew", partial(_job_sheet, draw_days=draw_days))
        if _is_cut(outcome):
            yield paper("scope.pdf", "scope of grinding and polishing", "crew", _scope)
    if outcome.finish is not None:
        yield paper("care-sheet.pdf", "care sheet", "client", _care_sheet)
        yield paper("warranty.pdf", "warranty", "client", _warranty)
        yield paper("record.pdf", "record", "client", _record)
    if outcome.floor.outline is not None:
        yield paper("plan.svg", "plan", "crew", _plan_figure)
    priced = [
        finish.id
        for finish in outcome.advice.finishes
        if finish.rank is not None and outcome.selling_prices.get(finish.id)
    ]
    if priced:
        yield paper("costs.svg", "cost over life", "client", _cost_figure)
    if len(priced) > 1:
        yield paper("trade-off.svg", "what more money buys", "client", _trade_off_figure)
    if whole.plan is not None and whole.plan.air.get(outcome.floor.name):
        yield paper("days.svg", "days", "crew", lambda *_: with_font(draw_days() or b""))


def _client_sheet(whole: WholeJob, outcome: FloorOutcome, *, with_map: bool) -> bytes:
    from finishadvisor.papers.client_sheet import client_sheet
    from finishadvisor.papers.shade_map import shade_map_svg

    measured = [each for each in outcome.measurements if each.shade is not None] if with_map else []
    maps = [shade_map_svg(each, units=whole.job.units, panel_in=CLIENT_PANEL_IN, figures=False) for each in measured]
    return client_sheet(whole, outcome, shade_maps=maps).pdf(whole.job.units)


def _all_finishes(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.all_finishes import all_finishes

    return all_finishes(whole, outcome).pdf(whole.job.units)


def _evenness_report(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.evenness_report import evenness_report
    from finishadvisor.whole_job.photos import SENTENCES

    sentences = {id_: in_units(sentence, whole.job.units) for id_, sentence in SENTENCES.items()}
    return _pdf(evenness_report(whole, outcome, sentences), whole)


def _field_card(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.field_card import field_card

    return field_card(whole, outcome).pdf(whole.job.units)


def _job_sheet(whole: WholeJob, outcome: FloorOutcome, *, draw_days: Callable[[], bytes | None]) -> bytes:
    from finishadvisor.papers.job_sheet import job_sheet
    from finishadvisor.whole_job.batches import batches_of

    return _pdf(job_sheet(whole, outcome, batches_of(whole), draw_days()), whole)


def _scope(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.subcontract import subcontract_scope

    return _pdf(subcontract_scope(whole, outcome), whole)


def _is_cut(outcome: FloorOutcome) -> bool:
    from finishadvisor.papers.subcontract import cutting_tasks

    return outcome.works is not None and bool(cutting_tasks(outcome.works))


def _care_sheet(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.care_sheet import care_sheet

    return _pdf(care_sheet(whole, outcome), whole)


def _warranty(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.warranty import warranty_page

    return _pdf(warranty_page(whole, outcome), whole)


def _record(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.record import record_of_work
    from finishadvisor.whole_job.batches import batches_of

    return _pdf(record_of_work(whole, outcome, batches_of(whole)), whole)


def _pdf(sheet: "Sheet | None", whole: WholeJob) -> bytes:
    """Return a sheet as PDF.

    Raises:
        JobError: there is nothing to put on it.
    """
    if sheet is None:
        raise JobError("There is nothing to put on this paper yet. Draw the floor's outline, or choose a finish.")
    return sheet.pdf(whole.job.units)


def _plan_figure(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.floor_plan import floor_plan

    return with_font(floor_plan(outcome.floor, whole.job.units) or b"")


def _cost_figure(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.charts import cost_chart

    return with_font(cost_chart(_priced(outcome), whole.job.business.analysis_years, whole.job.currency) or b"")


def _trade_off_figure(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.trade_off import trade_off_chart

    job = whole.job
    return with_font(trade_off_chart(_priced(outcome), whole.catalog, job.weights, job.currency) or b"")


def _priced(outcome: FloorOutcome) -> "list[Priced]":
    from finishadvisor.papers.charts import priced_finishes

    return priced_finishes(outcome.advice.finishes, outcome.selling_prices, outcome.life_prices)


def _days_picture(whole: WholeJob, outcome: FloorOutcome) -> bytes | None:
    """Return the floor's days drawn, None where the plan has no hours for it."""
    from finishadvisor.papers.days_figure import days_picture

    hours = whole.plan.air.get(outcome.floor.name) if whole.plan else None
    if whole.plan is None or not hours:
        return None
    return days_picture(whole.plan, {outcome.floor.name: hours}, whole.job.units)


def shade_map_of(measured: Measurement, units: str) -> bytes:
    """Return the drawn shade map of one photo."""
    from finishadvisor.papers.shade_map import shade_map_png

    return shade_map_png(measured, units=units)
