"""Results as tables, for CSV files and for JSON: values under names with their unit."""

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.advice import FloorAdvice
from finishadvisor.records.base import Money
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.order import Batch, Order
from finishadvisor.records.plan import Plan
from finishadvisor.records.shade import Measurement
from finishadvisor.records.whole import WholeJob
from finishadvisor.records.works import FloorWorks

Cell = str | float | int | bool | None


@dataclass(frozen=True)
class Table:
    """One table: the names of its columns with their units, and its rows; None where a value is not known."""

    header: tuple[str, ...]
    rows: Sequence[tuple[Cell, ...]]

    def csv(self) -> bytes:
        """Return the table as a CSV file; what is not known is an empty field."""
        text = io.StringIO(newline="")
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(self.header)
        writer.writerows(self.rows)
        return text.getvalue().encode("utf-8")

    def csv_of_numbers(self) -> bytes:
        """Return the file of `csv`, written quickly, of a table that holds nothing but numbers."""
        from msgspec.json import encode

        if not self.rows:
            return self.csv()
        rows = encode(self.rows).removeprefix(b"[[").removesuffix(b"]]")
        rows = rows.replace(b"],[", b"\n").replace(b"null", b"")
        return ",".join(self.header).encode("utf-8") + b"\n" + rows + b"\n"

    def objects(self) -> list[dict[str, Cell]]:
        """Return each row as an object under the names of the columns, for JSON."""
        return [dict(zip(self.header, row, strict=True)) for row in self.rows]


def order_table(order: Order, catalog: Catalog) -> Table:
    """Return the packs of an order, a row for each pack size."""
    rows = [
        (packs.material, catalog.materials[packs.material].name, pack.count, pack.size, pack.unit, pack.price)
        for packs in order.packs
        for pack in packs.packs
    ]
    return Table(("material", "name", "count", "pack_size", "unit", "price_per_pack"), rows)


def needs_table(order: Order) -> Table:
    """Return every line of an order with its need and arithmetic."""
    rows = [
        (floor.floor, floor.finish, line.material, line.layer, line.coats, line.need.low, line.need.expected,
         line.need.high, line.need.unit, line.basis, line.working)
        for floor in order.floors
        for line in floor.lines
    ]  # fmt: skip
    header = ("floor", "finish", "material", "layer", "coats", "low", "expected", "high", "unit", "basis", "working")
    return Table(header, rows)


def plan_table(plan: Plan) -> Table:
    """Return the steps of a plan."""
    rows = [
        (step.floor, step.task, step.layer, step.coat, step.start.isoformat(), step.end.isoformat(),
         step.earliest.isoformat(), step.latest.isoformat() if step.latest else None, step.crew, step.hours)
        for step in plan.steps
    ]  # fmt: skip
    header = ("floor", "task", "layer", "coat", "start", "end", "earliest", "latest", "crew", "crew_hours")
    return Table(header, rows)


def advice_table(floors: Iterable[FloorAdvice]) -> Table:
    """Return the finishes of every floor in rank order, with the contractor's own costs."""
    rows = [
        (floor.floor, finish.rank, finish.id, finish.name, finish.verdict, "; ".join(finish.conditions),
         _expected(finish.first_cost), _expected(finish.life_cost),
         finish.days_out)
        for floor in floors
        for finish in floor.finishes
    ]  # fmt: skip
    header = ("floor", "rank", "finish", "name", "verdict", "conditions", "own_first_cost", "own_life_cost", "days_out")
    return Table(header, rows)


def _expected(money: Money | None) -> float | None:
    return money.expected if money is not None else None


def cells_table(measured: Measurement) -> Table:
    """Return the cells of a measured photo; values are not known where a cell is masked."""
    header = ("x_ft", "y_ft", "L", "a", "b", "de00", "used")
    shade = measured.shade
    if shade is None:
        return Table(header, ())
    down, across = shade.used.shape
    xs = [round((column + 0.5) * shade.width_ft / across, 4) for column in range(across)]
    ys = [round((row + 0.5) * shade.length_ft / down, 4) for row in range(down)]
    # maps are kept in single precision, which has no 51.234: rounded there it would print as 51.23400115966797
    lab, de00 = (values.astype(np.float64).round(3) for values in (shade.lab, shade.de00))
    cells = np.dstack([lab, de00]).astype(object)
    cells[~shade.used] = None
    known = cells.reshape(-1, 4).T.tolist()
    used = shade.used.ravel().astype(int).tolist()
    return Table(header, list(zip(xs * down, np.repeat(ys, across).tolist(), *known, used, strict=True)))


def prices_table(whole: WholeJob) -> Table:
    """Return the selling prices of every finish on every floor: what a client may see."""
    rows = []
    for outcome in whole.floors:
        for finish in outcome.advice.finishes:
            price, life = outcome.selling_prices.get(finish.id), outcome.life_prices.get(finish.id)
            amounts = [(m.low, m.expected, m.high) if m else (None, None, None) for m in (price, life)]
            rows.append((outcome.floor.name, finish.id, finish.name, finish.verdict, *amounts[0], *amounts[1]))
    header = ("floor", "finish", "name", "verdict", "price_low", "price", "price_high", "life_low", "life", "life_high")
    return Table(header, rows)


def reasons_table(floors: Iterable[FloorAdvice]) -> Table:
    """Return every reason of every finish, with the rule that it comes from and its source."""
    rows = [
        (floor.floor, finish.id, reason.rule, reason.effect, reason.met, reason.because, reason.source.id)
        for floor in floors
        for finish in floor.finishes
        for reason in finish.reasons
    ]
    return Table(("floor", "finish", "rule", "effect", "met", "because", "source"), rows)


def works_table(works: Iterable[FloorWorks]) -> Table:
    """Return every task of every floor with its extent and crew-hours."""
    rows = [
        (each.floor, each.finish, task.id, task.work_item, task.title, task.layer, task.coat, task.quantity, task.unit,
         task.crew_hours.low, task.crew_hours.expected, task.crew_hours.high, task.certain, task.why)
        for each in works
        for task in each.tasks
    ]  # fmt: skip
    header = (
        "floor", "finish", "task", "work_item", "title", "layer", "coat", "quantity", "unit", "crew_hours_low",
        "crew_hours", "crew_hours_high", "certain", "why",
    )  # fmt: skip
    return Table(header, rows)


def batches_table(batches: Iterable[Batch]) -> Table:
    """Return every batch of every coat."""
    rows = [
        (b.floor, b.task, b.number, b.zone, b.volume_gal, b.area_ft2, b.wet_film_mils, b.use_within_min)
        for b in batches
    ]
    header = ("floor", "task", "batch", "zone", "volume_gal", "area_ft2", "wet_film_mils", "use_within_min")
    return Table(header, rows)


def service_table(plan: Plan) -> Table:
    """Return when each floor may be used again."""
    names = ("foot", "water", "furniture", "cover", "vehicle")
    rows = []
    for floor, back in plan.back_in_service.items():
        times = [getattr(back, name) for name in names]
        rows.append((floor, *(time.isoformat() if time else None for time in times)))
    return Table(("floor", *names), rows)


def patches_table(evenness: FloorEvenness) -> Table:
    """Return the patches of every photo of a floor, numbered as on its map."""
    rows = [
        (evenness.floor, photo.photo, number, patch.kind, patch.x_ft, patch.y_ft, patch.width_ft, patch.length_ft,
         patch.area_ft2, patch.dL, patch.da, patch.db, patch.de00)
        for photo in evenness.photos
        for number, patch in enumerate(photo.patches or (), start=1)
    ]  # fmt: skip
    header = (
        "floor", "photo", "patch", "kind", "x_ft", "y_ft", "width_ft", "length_ft", "area_ft2", "dL", "da", "db",
        "de00",
    )  # fmt: skip
    return Table(header, rows)


def readings_table(whole: WholeJob) -> Table:
    """Return the readings of every floor, numbered as on its plan; values in the units of the job file's readings."""
    rows = [
        (
            floor.name,
            number,
            reading.kind,
            reading.value,
            reading.date.isoformat(),
            *_place(reading.place),
            reading.note,
        )
        for floor in whole.job.floors
        for number, reading in enumerate(floor.readings, start=1)
    ]
    return Table(("floor", "reading", "kind", "value", "date", "x_ft", "y_ft", "place", "note"), rows)


def _place(place: tuple[float, float] | str | None) -> tuple[float | None, float | None, str | None]:
    if place is None or isinstance(place, str):
        return None, None, place
    return place[0], place[1], None


def all_tables(whole: WholeJob, batches: Sequence[Batch]) -> dict[str, Table]:
    """Return every table of a job by its name, but for the cells of the photos; those that have nothing are left out.

    Args:
        whole: the job worked through.
        batches: the batches of the whole job.
    """
    works = [outcome.works for outcome in whole.floors if outcome.works is not None]
    tables = {
        "advice": advice_table(whole.advice.floors),
        "reasons": reasons_table(whole.advice.floors),
        "prices": prices_table(whole),
        "readings": readings_table(whole),
    }
    if works:
        tables |= {"works": works_table(works), "batches": batches_table(batches)}
    if whole.order is not None:
        tables |= {"order": order_table(whole.order, whole.catalog), "needs": needs_table(whole.order)}
    if whole.plan is not None:
        tables |= {"plan": plan_table(whole.plan), "back-in-service": service_table(whole.plan)}
    patches = [patches_table(each.evenness) for each in whole.floors if each.evenness is not None]
    if patches:
        tables["patches"] = Table(patches[0].header, [row for table in patches for row in table.rows])
    return tables
