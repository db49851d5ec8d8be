"""Every paper, picture, table and JSON file of a job, written into one folder."""

from collections.abc import Callable, Iterator
from pathlib import Path

from finishadvisor.job.writing import write_whole
from finishadvisor.papers.client_sheet import client_sheet_data
from finishadvisor.papers.order_list import order_list_data
from finishadvisor.papers.tables import advice_csv, cells_csv, needs_csv, order_csv, plan_csv
from finishadvisor.papers.typeset import PaperSize, typeset
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.whole_job.files import json_bytes
from finishadvisor.whole_job.work_through import calendar_of

Named = tuple[str, bytes]


def make_papers(whole: WholeJob, out: Path, progress: Callable[[str], None]) -> list[Path]:
    """Write everything into `out`, each file in one piece, and return the paths in the order written."""
    out.mkdir(parents=True, exist_ok=True)
    written = []
    for name, content in all_papers(whole):
        progress(f"Writing {name}")
        write_whole(out / name, content)
        written.append(out / name)
    return written


def paper_size(whole: WholeJob) -> PaperSize:
    """Return Letter for a job in US units, A4 for a metric one."""
    return "a4" if whole.job.units == "metric" else "us-letter"


def file_stem(floor_name: str) -> str:
    """Return a floor's name with only the signs that every system allows in a file name."""
    plain = "".join(sign if sign.isalnum() else "-" for sign in floor_name.lower())
    return "-".join(filter(None, plain.split("-")))[:40] or "floor"


def all_papers(whole: WholeJob) -> Iterator[Named]:
    """Yield the name and content of every file."""
    yield "advice.json", json_bytes(whole.advice.as_json())
    yield "advice.csv", advice_csv(whole.advice.floors)
    for outcome in whole.floors:
        yield from floor_papers(whole, outcome)
    if whole.order:
        yield "order.json", json_bytes(whole.order.as_json())
        yield "order.csv", order_csv(whole.order, whole.catalog)
        yield "needs.csv", needs_csv(whole.order)
        yield "order-list.pdf", typeset("order_list", order_list_data(whole, whole.order), size=paper_size(whole))
    if whole.plan:
        yield "plan.json", json_bytes(whole.plan.as_json())
        yield "plan.csv", plan_csv(whole.plan)
        yield "plan.ics", calendar_of(whole)


def floor_papers(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Named]:
    """Yield the files of one floor."""
    stem = file_stem(outcome.floor.name)
    data = client_sheet_data(whole, outcome)
    yield f"{stem}-client-sheet.pdf", typeset("client_sheet", data, size=paper_size(whole))
    if outcome.evenness:
        yield f"{stem}-evenness.json", json_bytes(outcome.evenness.as_json())
    for measured in outcome.measurements:
        if measured.shade is None:
            continue
        from finishadvisor.papers.shade_map import shade_map_png

        photo = file_stem(Path(measured.evenness.photo).stem)
        yield f"{stem}-{photo}-shade-map.png", shade_map_png(measured)
        yield f"{stem}-{photo}-cells.csv", cells_csv(measured)
