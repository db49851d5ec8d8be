"""Small materials, airs and tasks of our own, so that each test shows all that it rests on."""

import datetime
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Catalog
from finishadvisor.catalog.row import Range, SourceRef
from finishadvisor.catalog.supplies import AirLimits, CurePoint, Material, PackSize, WorkItem
from finishadvisor.formulas.air import dew_point_f
from finishadvisor.job.document import Workday
from finishadvisor.plan.chain import Link, with_conditions
from finishadvisor.plan.clock import Clock
from finishadvisor.plan.slab import FloorAir
from finishadvisor.records.base import SourceNote
from finishadvisor.records.works import Hours, Task

CHICAGO = ZoneInfo("America/Chicago")
MONDAY = datetime.date(2026, 6, 1)
ONE = Range(low=1, expected=1, high=1)
NONE = Range(low=0, expected=0, high=0)


@cache
def shipped() -> Catalog:
    return load_catalog()


def a_material(*points: dict[str, Any], id_: str = "resin", **limits: float) -> Material:
    """A film with these data sheet points; what a point leaves out follows from its recoat minimum."""
    rows = []
    for point in points or ({"slab_f": 77, "recoat_min_h": 6, "recoat_max_h": 24},):
        least = point["recoat_min_h"]
        rows.append(
            CurePoint(**{
                "tack_free_h": least / 2, "foot_h": least * 2, "water_h": least * 4, "furniture_h": least * 6,
                "cover_h": least * 12, "vehicle_h": least * 10, **point,
            })
        )  # fmt: skip
    wide: dict[str, float] = {
        "air_low_f": 40, "air_high_f": 110, "slab_low_f": 40, "slab_high_f": 120, "rh_high_pct": 85, "dew_margin_f": 5,
    }  # fmt: skip
    return Material(
        id=id_, name=id_, chemistry="epoxy", carrier="none", unit="gal", basis="film", volume_solids=ONE,
        dry_film_mils=ONE, loss=NONE, packs=(PackSize(size=1, price=ONE),), cure=tuple(rows),
        limits=AirLimits(**{**wide, **limits}), source=SourceRef(id="common-practice"),
    )  # fmt: skip


def an_air(hours: int, **given: Any) -> FloorAir:
    """Conditions over a floor: a number for every hour, or a list for the first hours, its last for the rest."""

    def course(name: str, default: Any) -> tuple[Any, ...]:
        value = given.get(name, default)
        values = list(value) if isinstance(value, list | tuple) else [value]
        return tuple(values[:hours] + [values[-1]] * (hours - len(values)))

    air_f, rh_pct = course("air_f", 77.0), course("rh_pct", 50.0)
    rain = course("rain", False)
    since, dry = 1e6, []
    for wet in rain:
        since = 0.0 if wet else since + 1
        dry.append(since)
    return FloorAir(
        floor="Shop",
        outdoors=given.get("outdoors", False),
        state=course("state", "known"),
        air_f=air_f,
        rh_pct=rh_pct,
        slab_f=course("slab_f", 77.0),
        dew_point_f=tuple(dew_point_f(a, r) for a, r in zip(air_f, rh_pct, strict=True)),
        rain=rain,
        hours_since_rain=tuple(dry),
        direct_sun=course("direct_sun", False),
        wind_mph=(None,) * hours,
        assumptions=(),
    )


def a_link(hours: float = 1, coat: Material | None = None, phase: int = 60, wait_h: float = 0, **more: Any) -> Link:
    """One task of a chain."""
    wait = Range(low=wait_h, expected=wait_h, high=wait_h) if wait_h else None
    item = WorkItem(
        id=more.pop("item", "some-work"), title="Some work", phase=phase, extent="fixed", wait_hours=wait, steps=(),
        hold_point=more.pop("hold_point", False), source=SourceRef(id="common-practice"),
    )  # fmt: skip
    task = Task(
        id=more.pop("id_", "task"), work_item=item.id, title="Some work", layer="build" if coat else None,
        coat=1 if coat else None, extent="fixed", quantity=1, unit="", materials=(), certain=True, why="", rule=None,
        crew_hours=Hours(low=hours, expected=hours, high=hours), source=SourceNote(id="common-practice"),
    )  # fmt: skip
    return Link(task, item, coat, **more)


def a_chain(air: FloorAir, *links: Link) -> tuple[Link, ...]:
    return with_conditions(links, air, shipped())


def a_clock(span_days: int = 7, first: datetime.date = MONDAY, zone: str = "America/Chicago", **workday: Any) -> Clock:
    return Clock(ZoneInfo(zone), first, span_days, Workday(**workday))
