"""Every paper, picture, table and JSON file of a job, written into one folder; each can be made alone."""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from finishadvisor.errors import JobError, nearest_of
from finishadvisor.job.writing import write_whole
from finishadvisor.papers import tables
from finishadvisor.papers.typeset import PaperSize
from finishadvisor.records.base import Record
from finishadvisor.records.order import Order
from finishadvisor.records.shade import Measurement
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks
from finishadvisor.whole_job.files import json_bytes
from finishadvisor.whole_job.work_through import calendar_of

if TYPE_CHECKING:
    from finishadvisor.papers.blocks import Sheet

Reader = Literal["client", "supplier", "crew", "contractor"]

LONGEST_STEM: Final = 40


@dataclass(frozen=True)
class Paper:
    """One file that can be made: its name, what it is, who it is for, and how it is made."""

    name: str
    title: str
    reader: Reader
    make: Callable[[], bytes]


def make_papers(
    whole: WholeJob,
    out: Path,
    progress: Callable[[str], None],
    only: Sequence[str] = (),
    *,
    map_for_client: bool = False,
) -> list[Path]:
    """Write files into `out`, each in one piece, and return the paths in the order written.

    Args:
        whole: the job worked through.
        out: the folder; it is made where it is missing.
        progress: is told each file in a short line.
        only: names of the files to write; every file when empty.
        map_for_client: put the shade map on the client sheets.

    Raises:
        JobError: the job has no file of a name in `only`; nothing is written then.
    """
    papers = list_papers(whole, map_for_client=map_for_client)
    chosen = [_named(papers, name) for name in only] or papers
    out.mkdir(parents=True, exist_ok=True)
    written = []
    for number, paper in enumerate(chosen, start=1):
        progress(f"Writing {number} of {len(chosen)}: {paper.name}")
        write_whole(out / paper.name, paper.make())
        written.append(out / paper.name)
    return written


def make_paper(whole: WholeJob, name: str) -> bytes:
    """Return one file by its name.

    Raises:
        JobError: the job has no such file.
    """
    return _named(list_papers(whole), name).make()


def _named(papers: Sequence[Paper], name: str) -> Paper:
    """Return the paper of a name.

    Raises:
        JobError: there is none.
    """
    by_name = {paper.name: paper for paper in papers}
    if name not in by_name:
        raise JobError(f'There is no paper "{name}" of this job.{nearest_of(name, by_name)}')
    return by_name[name]


def list_papers(whole: WholeJob, *, map_for_client: bool = False) -> list[Paper]:
    """Return every file of a job, none of them made yet: papers first, then tables and JSON.

    Args:
        whole: the job worked through.
        map_for_client: put the shade map on the client sheets, as the contractor wishes.
    """
    papers: list[Paper] = []
    for outcome, stem in zip(whole.floors, file_stems(whole), strict=True):
        papers += _floor_papers(whole, outcome, stem, map_for_client=map_for_client)
    return [*papers, *_job_papers(whole), *_tables(whole)]


def paper_size(whole: WholeJob) -> PaperSize:
    """Return Letter for a job in US units, A4 for a metric one."""
    return "a4" if whole.job.units == "metric" else "us-letter"


def file_stem(name: str) -> str:
    """Return a name with only the signs that every system allows in a file name."""
    plain = "".join(sign if sign.isalnum() else "-" for sign in name.lower())
    return re.sub("-+", "-", plain)[:LONGEST_STEM].strip("-") or "floor"


def file_stems(whole: WholeJob) -> list[str]:
    """Return how the files of each floor begin; floors whose names come out alike get a number."""
    stems: list[str] = []
    for outcome in whole.floors:
        stem, number = file_stem(outcome.floor.name), 2
        while stem in stems:
            stem, number = f"{file_stem(outcome.floor.name)}-{number}", number + 1
        stems.append(stem)
    return stems


# --- a floor's files -------------------------------------------------------------------------------------------------


def _floor_papers(whole: WholeJob, outcome: FloorOutcome, stem: str, *, map_for_client: bool) -> Iterator[Paper]:
    def paper(name: str, title: str, reader: Reader, make: Callable[[WholeJob, FloorOutcome], bytes]) -> Paper:
        return Paper(f"{stem}-{name}", f"{outcome.floor.name}: {title}", reader, partial(make, whole, outcome))

    yield paper("client-sheet.pdf", "client sheet", "client", partial(_client_sheet, with_map=map_for_client))
    yield paper("all-finishes.pdf", "all finishes", "client", _all_finishes)
    if outcome.evenness is not None:
        yield paper("evenness-report.pdf", "evenness report", "contractor", _evenness_report)
    yield paper("field-card.pdf", "field card", "crew", _field_card)
    if outcome.works is not None:
        yield paper("job-sheet.pdf", "job sheet", "crew", _job_sheet)
        if _is_cut(outcome):
            yield paper("scope.pdf", "scope of grinding and polishing", "crew", _scope)
    if outcome.finish is not None:
        yield paper("care-sheet.pdf", "care sheet", "client", _care_sheet)
        yield paper("warranty.pdf", "warranty", "client", _warranty)
        yield paper("record.pdf", "record", "client", _record)
    if outcome.floor.outline is not None:
        yield paper("plan.svg", "plan", "crew", _plan_figure)
    if any(outcome.selling_prices.get(finish.id) for finish in outcome.advice.finishes if finish.rank is not None):
        yield paper("costs.svg", "cost over life", "client", _cost_figure)
    if whole.plan is not None and whole.plan.air.get(outcome.floor.name):
        yield paper("days.svg", "days", "crew", _days_figure)


def _client_sheet(whole: WholeJob, outcome: FloorOutcome, *, with_map: bool) -> bytes:
    from finishadvisor.papers.client_sheet import client_sheet

    measured = [each for each in outcome.measurements if each.shade is not None]
    shade_map = _shade_map(measured[0], whole.job.units) if with_map and measured else None
    return client_sheet(whole, outcome, shade_map=shade_map).pdf(paper_size(whole))


def _all_finishes(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.all_finishes import all_finishes

    return all_finishes(whole, outcome).pdf(paper_size(whole))


def _evenness_report(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.evenness_report import evenness_report
    from finishadvisor.whole_job.photos import SENTENCES

    return _pdf(evenness_report(whole, outcome, SENTENCES), whole)


def _field_card(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.field_card import field_card

    return field_card(whole, outcome).pdf(paper_size(whole))


def _job_sheet(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.job_sheet import job_sheet
    from finishadvisor.whole_job.batches import batches_of

    days = _days_picture(whole, outcome)
    return _pdf(job_sheet(whole, outcome, batches_of(whole), days), whole)


def _scope(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.subcontract import subcontract_scope

    return _pdf(subcontract_scope(whole, outcome), whole)


def _is_cut(outcome: FloorOutcome) -> bool:
    from finishadvisor.papers.subcontract import cutting_tasks

    return outcome.works is not None and bool(cutting_tasks(outcome.works))


def _care_sheet(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.handover import care_sheet

    return _pdf(care_sheet(whole, outcome), whole)


def _warranty(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.handover import warranty_page

    return _pdf(warranty_page(whole, outcome), whole)


def _record(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.handover import record_of_work

    return _pdf(record_of_work(whole, outcome), whole)


def _pdf(sheet: "Sheet | None", whole: WholeJob) -> bytes:
    """Return a sheet as PDF.

    Raises:
        JobError: there is nothing to put on it.
    """
    if sheet is None:
        raise JobError("There is nothing to put on this paper yet. Draw the floor's outline, or choose a finish.")
    return sheet.pdf(paper_size(whole))


def _plan_figure(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.floor_plan import floor_plan

    return floor_plan(outcome.floor, whole.job.units) or b""


def _cost_figure(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    from finishadvisor.papers.charts import cost_chart, priced_finishes

    priced = priced_finishes(outcome.advice.finishes, outcome.selling_prices, outcome.life_prices)
    return cost_chart(priced, whole.job.business.analysis_years, whole.job.currency) or b""


def _days_figure(whole: WholeJob, outcome: FloorOutcome) -> bytes:
    return _days_picture(whole, outcome) or b""


def _days_picture(whole: WholeJob, outcome: FloorOutcome) -> bytes | None:
    """Return the floor's days drawn, None where the plan has no hours for it."""
    from finishadvisor.papers.days_figure import days_picture

    hours = whole.plan.air.get(outcome.floor.name) if whole.plan else None
    if whole.plan is None or not hours:
        return None
    return days_picture(whole.plan, {outcome.floor.name: hours}, "svg", whole.job.units)


# --- the whole job's files -------------------------------------------------------------------------------------------


def _job_papers(whole: WholeJob) -> Iterator[Paper]:
    if whole.order is not None:
        yield Paper("order-list.pdf", "Order list", "supplier", partial(_order_list, whole, whole.order))
    if whole.plan is not None:
        yield Paper("plan.ics", "Calendar", "crew", partial(calendar_of, whole))


def _order_list(whole: WholeJob, order: Order) -> bytes:
    from finishadvisor.papers.order_list import order_list_data
    from finishadvisor.papers.typeset import typeset

    return typeset("order_list", order_list_data(whole, order), size=paper_size(whole))


def _tables(whole: WholeJob) -> Iterator[Paper]:
    """Yield the tables and the JSON of everything."""

    def file(name: str, title: str, reader: Reader, make: Callable[..., bytes], *given: object) -> Paper:
        return Paper(name, title, reader, partial(make, *given))

    advice, works = whole.advice, [outcome.works for outcome in whole.floors if outcome.works is not None]
    yield file("advice.json", "Advice", "contractor", _json, advice)
    yield file("advice.csv", "Advice, with own costs", "contractor", tables.advice_csv, advice.floors)
    yield file("reasons.csv", "Reasons", "contractor", tables.reasons_csv, advice.floors)
    yield file("prices.csv", "Selling prices", "client", tables.prices_csv, whole)
    yield file("readings.csv", "Readings", "contractor", tables.readings_csv, whole)
    if works:
        yield file("works.json", "Works", "contractor", _works_json, works)
        yield file("works.csv", "Works", "contractor", tables.works_csv, works)
        yield file("batches.csv", "Batches", "crew", _batches, whole)
    if whole.order is not None:
        yield file("order.json", "Order", "contractor", _json, whole.order)
        yield file("order.csv", "Packs to order", "supplier", tables.order_csv, whole.order, whole.catalog)
        yield file("needs.csv", "Needs", "contractor", tables.needs_csv, whole.order)
    if whole.plan is not None:
        yield file("plan.json", "Plan", "contractor", _json, whole.plan)
        yield file("plan.csv", "Steps", "crew", tables.plan_csv, whole.plan)
        yield file("back-in-service.csv", "Back in service", "client", tables.service_csv, whole.plan)
    for outcome, stem in zip(whole.floors, file_stems(whole), strict=True):
        yield from _evenness_files(whole, outcome, stem)


def _evenness_files(whole: WholeJob, outcome: FloorOutcome, stem: str) -> Iterator[Paper]:
    """Yield what the photos of one floor gave: JSON, patches, and of each photo its map and cells."""
    floor = outcome.floor.name
    if outcome.evenness is not None:
        evenness = outcome.evenness
        yield Paper(f"{stem}-evenness.json", f"{floor}: evenness", "contractor", partial(_json, evenness))
        patches = partial(tables.patches_csv, evenness)
        yield Paper(f"{stem}-patches.csv", f"{floor}: patches", "contractor", patches)
    taken: set[str] = set()
    for number, measured in enumerate(outcome.measurements, start=1):
        if measured.shade is None:
            continue
        photo = file_stem(Path(measured.evenness.photo).stem)
        photo = f"{photo}-{number}" if photo in taken else photo
        taken.add(photo)
        drawn, cells = partial(_shade_map, measured, whole.job.units), partial(tables.cells_csv, measured)
        yield Paper(f"{stem}-{photo}-shade-map.png", f"{floor}: shade map of {photo}", "contractor", drawn)
        yield Paper(f"{stem}-{photo}-cells.csv", f"{floor}: cells of {photo}", "contractor", cells)


def _shade_map(measured: Measurement, units: str) -> bytes:
    from finishadvisor.papers.shade_map import shade_map_png

    return shade_map_png(measured, units=units)


def _json(record: Record) -> bytes:
    return json_bytes(record.as_json())


def _works_json(works: list[FloorWorks]) -> bytes:
    return json_bytes({"floors": [each.as_json() for each in works]})


def _batches(whole: WholeJob) -> bytes:
    from finishadvisor.whole_job.batches import batches_of

    return tables.batches_csv(batches_of(whole))
