"""The order list: what the supplier needs. It carries material costs and no selling price."""

from typing import Any

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.wording import area_text, money_range_text, money_text, number_text, quantity_text
from finishadvisor.records.order import FloorOrder, MaterialPacks, Order
from finishadvisor.records.whole import WholeJob


def order_list_data(whole: WholeJob, order: Order) -> dict[str, Any]:
    """Return the order list as plain words for the template."""
    count = sum(pack.count for packs in order.packs for pack in packs.packs)
    return {
        "title": f"{whole.job.name}: order",
        "answer": f"{len(order.packs)} materials in {count} packs for {len(order.floors)} floor"
        f"{'s' if len(order.floors) > 1 else ''}.",
        "packs": [pack_words(packs, whole) for packs in order.packs],
        "total": f"Material: {money_range_text(order.total_cost, whole.job.currency)}",
        "risk": f"Low and high are the 10th and 90th percentile. The chance that anything on this order runs short is "
        f"{order.short_risk:.1%}.",
        "floors": [floor_words(floor, whole) for floor in order.floors],
        "on_arrival": [
            "Check lot numbers: everything of one tinted, solid or flake finish comes from one lot.",
            "Read the product data sheets: where they differ from this list, they win.",
            "Store between 50 and 85 °F and let cold cans warm up for a day before use.",
        ],
        "cautions": material_cautions(order, whole.catalog),
        "foot": foot(whole),
    }


def pack_words(packs: MaterialPacks, whole: WholeJob) -> dict[str, str]:
    """Return one material's row."""
    material = whole.catalog.materials[packs.material]
    notes = ["one lot" if material.one_lot else "", "whole kits" if material.kit else ""]
    return {
        "name": material.name,
        "note": ", ".join(note for note in notes if note),
        "packs": " + ".join(f"{pack.count} × {number_text(pack.size, 2)} {pack.unit}" for pack in packs.packs),
        "ordered": quantity_text(packs.ordered, material.unit, whole.job.units),
        "cost": money_text(packs.cost.expected, whole.job.currency) if packs.cost else "no price",
    }


def floor_words(floor: FloorOrder, whole: WholeJob) -> dict[str, Any]:
    """Return one floor's lines with their arithmetic."""
    finish = whole.catalog.finishes[floor.finish]
    lines = []
    for line in floor.lines:
        material = whole.catalog.materials[line.material]
        low, high = (number_text(amount, 1) for amount in (line.need.low, line.need.high))
        lines.append({
            "name": material.name + (f", {line.layer}" if line.layer else ""),
            "working": line.working,
            "need": f"{number_text(line.need.expected, 1)} {line.need.unit} ({low}–{high})",
        })
    return {"title": f"{floor.floor}, {area_text(floor.area_ft2, whole.job.units)}: {finish.name}", "lines": lines}


def material_cautions(order: Order, catalog: Catalog) -> list[str]:
    """Return every caution of the materials ordered, each once."""
    ids = {id_: None for packs in order.packs for id_ in catalog.materials[packs.material].cautions}
    return [catalog.cautions[id_].sentence for id_ in ids]
