"""Results as CSV tables: UTF-8, one header row, values under names with their unit."""

import csv
import io
from collections.abc import Iterable, Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.records.advice import FloorAdvice
from finishadvisor.records.order import Order
from finishadvisor.records.plan import Plan
from finishadvisor.records.shade import Measurement


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
