"""Every paper, picture, table and JSON file of a job, written into one folder; each can be made alone."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache, partial
from pathlib import Path
from typing import Final

from finishadvisor.errors import JobError, nearest_of
from finishadvisor.job.writing import write_whole
from finishadvisor.papers import tables
from finishadvisor.papers.files import Paper, Reader, file_stem, file_stems
from finishadvisor.papers.floor_papers import floor_papers, shade_map_of
from finishadvisor.papers.quantities import in_job_units
from finishadvisor.papers.tables import Table
from finishadvisor.records.base import Record
from finishadvisor.records.order import Batch, Order
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks
from finishadvisor.whole_job.files import json_bytes
from finishadvisor.whole_job.work_through import calendar_of

__all__ = ["Paper", "list_papers", "make_paper", "make_papers"]


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
        there = f" There are: {', '.join(by_name)}."
        raise JobError(f'There is no paper "{name}" of this job.{nearest_of(name, by_name) or there}')
    return by_name[name]


def list_papers(whole: WholeJob, *, map_for_client: bool = False) -> list[Paper]:
    """Return every file of a job, none of them made yet: papers first, then tables and JSON.

    Args:
        whole: the job worked through.
        map_for_client: put the shade map on the client sheets, as the contractor wishes.
    """
    papers: list[Paper] = []
    said = in_job_units(whole)
    for outcome, stem in zip(said.floors, file_stems(whole), strict=True):
        papers += floor_papers(said, outcome, stem, map_for_client=map_for_client)
    return [*papers, *_job_papers(said), *_tables(whole)]


# --- the whole job's files -------------------------------------------------------------------------------------------


def _job_papers(whole: WholeJob) -> Iterator[Paper]:
    if whole.order is not None:
        yield Paper("order-list.pdf", "Order list", "supplier", partial(_order_list, whole, whole.order))
    if whole.plan is not None:
        yield Paper("plan.ics", "Calendar", "crew", partial(calendar_of, whole))


def _order_list(whole: WholeJob, order: Order) -> bytes:
    from finishadvisor.papers.order_list import order_list_data
    from finishadvisor.papers.typeset import typeset

    return typeset("order_list", order_list_data(whole, order), units=whole.job.units)


TABLES: Final[tuple[tuple[str, str, Reader], ...]] = (
    ("advice", "Advice, with own costs", "contractor"),
    ("reasons", "Reasons", "contractor"),
    ("prices", "Selling prices", "client"),
    ("readings", "Readings", "contractor"),
    ("works", "Works", "contractor"),
    ("batches", "Batches", "crew"),
    ("order", "Packs to order", "supplier"),
    ("needs", "Needs", "contractor"),
    ("plan", "Steps", "crew"),
    ("back-in-service", "Return to service", "client"),
)
"""The tables of the whole job: name, title and who each is for."""


def _tables(whole: WholeJob) -> Iterator[Paper]:
    """Yield the tables and the JSON of everything."""
    made = cache(lambda: tables.all_tables(whole, _batches(whole)))
    works = [outcome.works for outcome in whole.floors if outcome.works is not None]
    needed = {"works": works, "batches": works, "order": whole.order, "needs": whole.order, "plan": whole.plan,
              "back-in-service": whole.plan}  # fmt: skip
    for name, title, reader in TABLES:
        if needed.get(name, True):
            yield Paper(f"{name}.csv", title, reader, partial(_table_csv, made, name))
    yield Paper("tables.json", "Every table", "contractor", partial(_tables_json, made))
    yield Paper("advice.json", "Advice", "contractor", partial(_json, whole.advice))
    if works:
        yield Paper("works.json", "Works", "contractor", partial(_works_json, works))
    if whole.order is not None:
        yield Paper("order.json", "Order", "contractor", partial(_json, whole.order))
    if whole.plan is not None:
        yield Paper("plan.json", "Plan", "contractor", partial(_json, whole.plan))
    for outcome, stem in zip(whole.floors, file_stems(whole), strict=True):
        yield from _evenness_files(whole, outcome, stem)


def _evenness_files(whole: WholeJob, outcome: FloorOutcome, stem: str) -> Iterator[Paper]:
    """Yield what the photos of one floor gave: JSON, patches, and of each photo its map and cells."""
    floor = outcome.floor.name
    if outcome.evenness is not None:
        evenness = outcome.evenness
        yield Paper(f"{stem}-evenness.json", f"{floor}: evenness", "contractor", partial(_json, evenness))
        patches = tables.patches_table(evenness)
        yield Paper(f"{stem}-patches.csv", f"{floor}: patches", "contractor", patches.csv)
    taken: set[str] = set()
    for number, measured in enumerate(outcome.measurements, start=1):
        if measured.shade is None:
            continue
        photo = file_stem(Path(measured.evenness.photo).stem)
        photo = f"{photo}-{number}" if photo in taken else photo
        taken.add(photo)
        drawn, cells = partial(shade_map_of, measured, whole.job.units), cache(partial(tables.cells_table, measured))
        yield Paper(f"{stem}-{photo}-shade-map.png", f"{floor}: shade map of {photo}", "contractor", drawn)
        title = f"{floor}: cells of {photo}"
        yield Paper(f"{stem}-{photo}-cells.csv", title, "contractor", partial(_cells_csv, cells))
        yield Paper(f"{stem}-{photo}-cells.json", title, "contractor", partial(_cells_json, cells))


def _json(record: Record) -> bytes:
    return json_bytes(record.as_json())


def _works_json(works: list[FloorWorks]) -> bytes:
    return json_bytes({"floors": [each.as_json() for each in works]})


def _tables_json(made: Callable[[], Mapping[str, Table]]) -> bytes:
    return json_bytes({name: table.objects() for name, table in made().items()})


def _table_csv(made: Callable[[], Mapping[str, Table]], name: str) -> bytes:
    return made()[name].csv()


def _cells_csv(cells: Callable[[], Table]) -> bytes:
    return cells().csv_of_numbers()


def _cells_json(cells: Callable[[], Table]) -> bytes:
    """Return many thousand rows as JSON: the names of the columns once, and a line for each row."""
    from msgspec.json import encode

    rows = encode(cells().rows).replace(b"],[", b"],\n[")
    return b'{"columns": ' + encode(cells().header) + b', "rows": ' + rows + b"}\n"


def _batches(whole: WholeJob) -> tuple[Batch, ...]:
    from finishadvisor.papers.recorded import still_to_mix
    from finishadvisor.whole_job.batches import batches_of

    return still_to_mix(batches_of(whole), whole)
