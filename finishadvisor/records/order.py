"""What to buy: need by line, packs pooled over floors, the chance of running short, the cost."""

from typing import Any

from finishadvisor.records.base import Money, Record, SourceNote, Spread
from finishadvisor.records.works import Basis


class OrderLine(Record):
    """One material of one layer of one floor, with arithmetic that a calculator can redo."""

    material: str
    layer: str | None
    coats: int
    need: Spread
    basis: Basis
    working: str
    source: SourceNote


class FloorOrder(Record):
    """The lines of one floor under one finish."""

    floor: str
    finish: str
    area_ft2: float
    lines: tuple[OrderLine, ...]


class Pack(Record):
    """A number of packs of one size; `price` is for one pack, None when no price is known."""

    size: float
    unit: str
    count: int
    price: float | None


class MaterialPacks(Record):
    """All packs of one material over all floors. `left_over` is expected, in the material's unit."""

    material: str
    packs: tuple[Pack, ...]
    ordered: float
    left_over: float
    cost: Money | None
    notes: tuple[str, ...] = ()
    """What to mind when buying and opening the packs; printed, but no part of the JSON."""


class Batch(Record):
    """One mix: its size and the area that it must cover before its pot life ends."""

    floor: str
    task: str
    number: int
    zone: str
    volume_gal: float
    area_ft2: float
    wet_film_mils: float | None
    use_within_min: float | None


class Order(Record):
    """The whole order of a job. `short_risk` is the chance that anything on it runs short, drawn jointly."""

    floors: tuple[FloorOrder, ...]
    packs: tuple[MaterialPacks, ...]
    short_risk: float
    total_cost: Money | None

    def as_json(self) -> dict[str, Any]:
        """Return the contract's JSON."""
        plain = super().as_json()
        for packs in plain["packs"]:
            del packs["notes"]
        return plain
