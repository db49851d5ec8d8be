"""The shipped catalog's rows and small floors, for tests of works and order."""

from functools import cache
from typing import Any

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.catalog.supplies import Material, WorkItem
from finishadvisor.job.document import Floor, Job
from finishadvisor.records.base import SourceNote
from finishadvisor.records.finding import Finding
from tests.plain_jobs import job_from_plain


@cache
def shipped() -> Catalog:
    """The shipped catalog."""
    return load_catalog()


def with_limits(catalog: Catalog, **values: float) -> Catalog:
    """The catalog with some limits changed; dashes are written as underscores."""
    limits = dict(catalog.limits)
    for name, value in values.items():
        id_ = name.replace("_", "-")
        limits[id_] = limits[id_].model_copy(update={"value": value})
    return catalog.model_copy(update={"limits": limits})


def with_rows(catalog: Catalog, *rows: Any) -> Catalog:
    """The catalog with rows added or replaced by id."""
    places = {Material: "materials", WorkItem: "work_items", Finish: "finishes"}
    tables = {name: dict(getattr(catalog, name)) for name in places.values()}
    for row in rows:
        tables[places[type(row)]][row.id] = row
    return catalog.model_copy(update=tables)


def a_job(*floors: dict[str, Any], **more: Any) -> Job:
    """A job with these floors, all else left out."""
    plain = {"name": "Test job", "floor": list(floors) or [a_floor_plain()], **more}
    return job_from_plain(plain, metric=more.get("units") == "metric")


def a_floor_plain(x: float = 25, y: float = 20, name: str = "Shop", **more: Any) -> dict[str, Any]:
    """One rectangular floor as TOML would hold it; `outline` adds to its outline."""
    outline = {"rectangle": [{"x": x, "y": y}], **more.pop("outline", {})}
    return {"name": name, "outline": outline, **more}


def a_floor(x: float = 25, y: float = 20, name: str = "Shop", **more: Any) -> Floor:
    """One rectangular floor."""
    return a_job(a_floor_plain(x, y, name, **more)).floors[0]


def required(work_item: str, met: str = "yes", rule: str = "some-rule", missing: tuple[str, ...] = ()) -> Finding:
    """A finding that requires a work item."""
    return Finding(
        rule=rule,
        effect="require",
        met=met,
        because=f"{rule} asks for it",
        facts={},
        source=SourceNote(id="common-practice"),
        work_item=work_item,
        missing=missing,
    )
