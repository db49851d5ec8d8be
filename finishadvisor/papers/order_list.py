"""The order list: what the supplier needs. It carries material costs and no selling price."""

from typing import Any, Final

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.cautions import sentences_of
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.doubt import doubt_of_chosen
from finishadvisor.papers.own_rows import named_with_file, of_order
from finishadvisor.papers.wording import (
    area_text,
    counted,
    money_range_text,
    money_text,
    percent_text,
    quantity_text,
    sentence,
    temperature_text,
)
from finishadvisor.records.base import Spread
from finishadvisor.records.order import FloorOrder, MaterialPacks, Order, Pack
from finishadvisor.records.whole import WholeJob

NOTHING_LEFT: Final = "Nothing is left to buy."
STORE_LOW_F: Final = 50.0
STORE_HIGH_F: Final = 85.0
"""UFC 3-190-06, 7.2 and 7.4.1, as the catalog's caution on frost has it."""


def order_list_data(whole: WholeJob, order: Order) -> dict[str, Any]:
    """Return the order list as plain words for the template."""
    count = sum(pack.count for packs in order.packs for pack in packs.packs)
    units = whole.job.units
    store = f"{temperature_text(STORE_LOW_F, units).split()[0]} and {temperature_text(STORE_HIGH_F, units)}"
    return {
        "title": f"{whole.job.name}: order",
        "answer": f"{counted(len(order.packs), 'material')} in {counted(count, 'pack')} for "
        f"{counted(len(order.floors), 'floor')}, material {money_range_text(order.total_cost, whole.job.currency)}."
        if order.packs
        else NOTHING_LEFT,
        "groups": [group for group in _groups(whole, order) if group["packs"]],
        "prices": price_words(order) if order.packs else "",
        "risk": f"Needs are expected values with the 10th and 90th percentile. The chance that anything on this order "
        f"runs short is {percent_text(order.short_risk, 1)}.{_mock_up_words(order)}",
        "floors": [floor_words(floor, whole) for floor in order.floors],
        "warnings": [sentence(warning) for warning in (*doubts(whole, order), *_warnings(whole, order))],
        "on_arrival": [
            "Check lot numbers: everything of one tinted, solid or flake finish comes from one lot.",
            "Read the product data sheets: where they differ from this list, they win.",
            f"Store between {store} and let cold cans warm up for a day before use.",
            "Write lot numbers on the record of the floor before a can is opened.",
        ],
        "own_rows": named_with_file(of_order(order, whole.catalog), whole.catalog),
        "cautions": material_cautions(order, whole.catalog),
        "foot": foot(whole),
    }


def _mock_up_words(order: Order) -> str:
    counted_in = any("mock-up)" in line.working for floor in order.floors for line in floor.lines)
    return " The mock-up is counted in." if counted_in else ""


def doubts(whole: WholeJob, order: Order) -> list[str]:
    """Return which finishes that are ordered for do not suit their floor, or may not."""
    ordered = {floor.floor for floor in order.floors}
    told = [(outcome.floor.name, doubt_of_chosen(outcome)) for outcome in whole.floors]
    return [f"{name}: {doubt}" for name, doubt in told if doubt and name in ordered]


def _warnings(whole: WholeJob, order: Order) -> list[str]:
    """Return what to mind with this order: of the whole of it, then of single materials."""
    noted: dict[str, list[str]] = {}
    for packs in order.packs:
        for note in packs.notes:
            noted.setdefault(note, []).append(whole.catalog.materials[packs.material].name)
    notes = [f"{'; '.join(dict.fromkeys(names))}: {note}" for note, names in noted.items()]
    return list(dict.fromkeys([*whole.order_warnings, *notes]))


def _groups(whole: WholeJob, order: Order) -> list[dict[str, Any]]:
    """Return the materials in three groups: what stays on the floor, what the work uses up, what the crew wears."""
    layers = {line.material for floor in order.floors for line in floor.lines if line.layer}
    groups: dict[str, list[dict[str, str]]] = {"On the floor": [], "Used up by the work": [], "For the crew": []}
    for packs in order.packs:
        material = whole.catalog.materials[packs.material]
        stays = packs.material in layers or material.basis in {"film", "volume", "weight"}
        worn = material.chemistry == "protective"
        title = "On the floor" if stays else "For the crew" if worn else "Used up by the work"
        groups[title].append(pack_words(packs, whole))
    return [{"title": title, "packs": rows} for title, rows in groups.items()]


def price_words(order: Order) -> str:
    """Return what the costs rest on: the user's own prices, or what the class usually costs."""
    bases = {packs.cost.basis for packs in order.packs if packs.cost is not None}
    unknown = sum(packs.cost is None for packs in order.packs)
    words = f"Prices: {', '.join(sorted(bases))}." if bases else "No price is known."
    return words + (f" {counted(unknown, 'material')} without a price." if bases and unknown else "")


def pack_words(packs: MaterialPacks, whole: WholeJob) -> dict[str, str]:
    """Return one material's row."""
    material = whole.catalog.materials[packs.material]
    notes = ["one lot" if material.one_lot else "", "whole kits" if material.kit else ""]
    left = quantity_text(packs.left_over, material.unit, whole.job.units)
    return {
        "name": material.name,
        "note": ", ".join(note for note in notes if note),
        "packs": " + ".join(_pack_text(pack, whole.job.units) for pack in packs.packs),
        "ordered": quantity_text(packs.ordered, material.unit, whole.job.units),
        "left": left,
        "cost": money_text(packs.cost.expected, whole.job.currency) if packs.cost else "no price",
    }


def _pack_text(pack: Pack, units: str) -> str:
    return f"{pack.count} × {quantity_text(pack.size, pack.unit, units)}"


def floor_words(floor: FloorOrder, whole: WholeJob) -> dict[str, Any]:
    """Return one floor's lines with their arithmetic."""
    finish = whole.catalog.finishes[floor.finish]
    lines = []
    for line in floor.lines:
        material = whole.catalog.materials[line.material]
        lines.append({
            "name": material.name + (f", {line.layer}" if line.layer else ""),
            "working": line.working,
            "need": need_text(line.need, whole.job.units),
        })
    return {"title": f"{floor.floor}, {area_text(floor.area_ft2, whole.job.units)}: {finish.name}", "lines": lines}


def need_text(need: Spread, units: str) -> str:
    """Return a need with its range, in the job's units: "4.2 gal (3.1–6.1)"."""
    low, expected, high = (quantity_text(value, need.unit, units) for value in (need.low, need.expected, need.high))
    if low == high:
        return expected
    return f"{expected} ({low.rsplit(' ', 1)[0]}–{high.rsplit(' ', 1)[0]})"


def material_cautions(order: Order, catalog: Catalog) -> list[str]:
    """Return every caution of the materials ordered, each once."""
    return sentences_of((id_ for packs in order.packs for id_ in catalog.materials[packs.material].cautions), catalog)
