"""Small jobs, floors, photos and catalogs for tests of the advice."""

import datetime
from functools import cache
from typing import Any

from finishadvisor.advice.derive import derive_facts
from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Catalog, Fact, Finish, Rule
from finishadvisor.job.document import Job
from finishadvisor.records.comparison import Comparison, ShadeChange
from finishadvisor.records.evenness import Evenness, FloorEvenness, Patch
from finishadvisor.records.finding import FactValue
from tests.plain_jobs import job_from_plain

ON = datetime.date(2026, 9, 21)
CHOICE = {"id": "common-practice"}


@cache
def shipped() -> Catalog:
    return load_catalog()


def a_job(**floor: Any) -> Job:
    """A job with one floor."""
    more = floor.pop("job", {})
    return job_from_plain({"name": "Test", **more, "floor": [{"name": "Floor", **floor}]}, metric=False)


def facts_of(
    evenness: FloorEvenness | None = None, on: datetime.date = ON, **floor: Any
) -> dict[str, FactValue | None]:
    """Every fact of a floor written as in a job file."""
    job = a_job(**floor)
    return derive_facts(job, job.floors[0], shipped(), on, evenness)


def reading(kind: str, value: Any, date: str, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "value": value, "date": datetime.date.fromisoformat(date), **more}


def day(text: str) -> datetime.date:
    return datetime.date.fromisoformat(text)


def a_patch(kind: str = "dark-soft", **more: Any) -> Patch:
    plain = {
        "x_ft": 2, "y_ft": 3, "width_ft": 4, "length_ft": 5, "area_ft2": 12, "dL": -6, "da": 0.4, "db": 1.2,
        "de00": 5.5, "kind": kind, "outline_ft": [(2, 3), (6, 3), (6, 8), (2, 8)], **more,
    }  # fmt: skip
    return Patch.model_validate(plain)


def a_photo(*patches: Patch, grade: str = "uneven", photo: str = "a.jpg", **more: Any) -> Evenness:
    return Evenness(photo=photo, grade=grade, typical_lab=(52.0, 6.0, 14.0), level="sheet", patches=patches, **more)


def measured(*photos: Evenness, together: Evenness | None = None) -> FloorEvenness:
    return FloorEvenness(floor="Floor", photos=photos, together=together)


FADED = ShadeChange(
    before="before.jpg", after="a.jpg", days=30, seen_ft2=200, changed_share=0.1, fading=True, whole_slab_de00=None
)


def compared(evenness: FloorEvenness, **more: Any) -> FloorEvenness:
    return evenness.model_copy(update={"compared": Comparison(**more)})


# --- a small catalog with the shipped materials and work ----------------------------------------------------------


def a_fact(id_: str, kind: str = "choice", type_: str = "flag", **more: Any) -> Fact:
    plain = {"label": id_, "question": f"{id_}?", "how": "ask", "effort_hours": 0, "source": CHOICE, **more}
    return Fact.model_validate({"id": id_, "kind": kind, "type": type_, **plain})


def a_rule(effect: str, when: dict[str, Any], id_: str = "r", **more: Any) -> Rule:
    about = more.pop("about", {"all": "finishes"})
    plain = {"id": id_, "about": about, "when": when, "effect": effect, "because": f"because of {id_}"}
    item = {"work_item": "prime"} if effect == "require" else {}
    return Rule.model_validate({**plain, **item, "source": CHOICE, **more})


def a_catalog(facts: list[Fact], rules: list[Rule]) -> Catalog:
    """The shipped catalog with other facts and rules."""
    return shipped().model_copy(
        update={"facts": {fact.id: fact for fact in facts}, "rules": {rule.id: rule for rule in rules}}
    )


def a_finish(id_: str = "epoxy-urethane-solid") -> Finish:
    return shipped().finishes[id_]
