"""Results as CSV tables: UTF-8, one header row, values under names with their unit."""

import csv
import io
from collections.abc import Iterable, Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.advice import FloorAdvice
from finishadvisor.records.evenness import FloorEvenness
from finishadvisor.records.order import Batch, Order
from finishadvisor.records.plan import Plan
from finishadvisor.records.shade import Measurement
from finishadvisor.records.whole import WholeJob
from finishadvisor.records.works import FloorWorks


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """Return a CSV file; None becomes an empty field."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return text.getvalue().encode("utf-8")


def order_csv(order: Order, catalog: Catalog) -> bytes:
    """Return the packs of an order, a row for each pack size."""
    rows = [
        (packs.material, catalog.materials[packs.material].name, pack.count, pack.size, pack.unit, pack.price)
        for packs in order.packs
        for pack in packs.packs
    ]
    return csv_bytes(("material", "name", "count", "pack_size", "unit", "price_per_pack"), rows)


def needs_csv(order: Order) -> bytes:
    """Return every line of an order with its need and arithmetic."""
    rows = [
        (floor.floor, floor.finish, line.material, line.layer, line.coats, line.need.low, line.need.expected,
         line.need.high, line.need.unit, line.basis, line.working)
        for floor in order.floors
        for line in floor.lines
    ]  # fmt: skip
    header = ("floor", "finish", "material", "layer", "coats", "low", "expected", "high", "unit", "basis", "working")
    return csv_bytes(header, rows)


def plan_csv(plan: Plan) -> bytes:
    """Return the steps of a plan."""
    rows = [
        (step.floor, step.task, step.layer, step.coat, step.start.isoformat(), step.end.isoformat(),
         step.earliest.isoformat(), step.latest.isoformat() if step.latest else None, step.crew, step.hours)
        for step in plan.steps
    ]  # fmt: skip
    header = ("floor", "task", "layer", "coat", "start", "end", "earliest", "latest", "crew", "crew_hours")
    return csv_bytes(header, rows)


def advice_csv(floors: Iterable[FloorAdvice]) -> bytes:
    """Return the finishes of every floor in rank order, with the contractor's own costs."""
    rows = [
        (floor.floor, finish.rank, finish.id, finish.name, finish.verdict, "; ".join(finish.conditions),
         finish.first_cost and finish.first_cost.expected, finish.life_cost and finish.life_cost.expected,
         finish.days_out)
        for floor in floors
        for finish in floor.finishes
    ]  # fmt: skip
    header = ("floor", "rank", "finish", "name", "verdict", "conditions", "own_first_cost", "own_life_cost", "days_out")
    return csv_bytes(header, rows)


def cells_csv(measured: Measurement) -> bytes:
    """Return the cells of a measured photo; values are empty where a cell is masked."""
    shade = measured.shade
    if shade is None:
        return csv_bytes(("x_ft", "y_ft", "L", "a", "b", "de00", "used"), ())
    down, across = shade.used.shape
    wide_ft, long_ft = shade.width_ft / across, shade.length_ft / down
    rows = []
    for row, column in ((r, c) for r in range(down) for c in range(across)):
        place = (f"{(column + 0.5) * wide_ft:.4f}", f"{(row + 0.5) * long_ft:.4f}")
        if shade.used[row, column]:
            lightness, a, b = shade.lab[row, column]
            rows.append((*place, f"{lightness:.3f}", f"{a:.3f}", f"{b:.3f}", f"{shade.de00[row, column]:.3f}", 1))
        else:
            rows.append((*place, "", "", "", "", 0))
    return csv_bytes(("x_ft", "y_ft", "L", "a", "b", "de00", "used"), rows)


def prices_csv(whole: WholeJob) -> bytes:
    """Return the selling prices of every finish on every floor: what a client may see."""
    rows = []
    for outcome in whole.floors:
        for finish in outcome.advice.finishes:
            price, life = outcome.selling_prices.get(finish.id), outcome.life_prices.get(finish.id)
            amounts = [(m.low, m.expected, m.high) if m else (None, None, None) for m in (price, life)]
            rows.append((outcome.floor.name, finish.id, finish.name, finish.verdict, *amounts[0], *amounts[1]))
    header = ("floor", "finish", "name", "verdict", "price_low", "price", "price_high", "life_low", "life", "life_high")
    return csv_bytes(header, rows)


def reasons_csv(floors: Iterable[FloorAdvice]) -> bytes:
    """Return every reason of every finish, with the rule that it comes from and its source."""
    rows = [
        (floor.floor, finish.id, reason.rule, reason.effect, reason.met, reason.because, reason.source.id)
        for floor in floors
        for finish in floor.finishes
        for reason in finish.reasons
    ]
    return csv_bytes(("floor", "finish", "rule", "effect", "met", "because", "source"), rows)


def works_csv(works: Iterable[FloorWorks]) -> bytes:
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
    return csv_bytes(header, rows)


def batches_csv(batches: Iterable[Batch]) -> bytes:
    """Return every batch of every coat."""
    rows = [
        (b.floor, b.task, b.number, b.zone, b.volume_gal, b.area_ft2, b.wet_film_mils, b.use_within_min)
        for b in batches
    ]
    header = ("floor", "task", "batch", "zone", "volume_gal", "area_ft2", "wet_film_mils", "use_within_min")
    return csv_bytes(header, rows)


def service_csv(plan: Plan) -> bytes:
    """Return when each floor may be used again."""
    names = ("foot", "water", "furniture", "cover", "vehicle")
    rows = []
    for floor, back in plan.back_in_service.items():
        times = [getattr(back, name) for name in names]
        rows.append((floor, *(time.isoformat() if time else None for time in times)))
    return csv_bytes(("floor", *names), rows)


def patches_csv(evenness: FloorEvenness) -> bytes:
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
    return csv_bytes(header, rows)


def readings_csv(whole: WholeJob) -> bytes:
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
    return csv_bytes(("floor", "reading", "kind", "value", "date", "x_ft", "y_ft", "place", "note"), rows)


def _place(place: tuple[float, float] | str | None) -> tuple[float | None, float | None, str | None]:
    if place is None or isinstance(place, str):
        return None, None, place
    return place[0], place[1], None
