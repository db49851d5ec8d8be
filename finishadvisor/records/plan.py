"""The days: steps with their windows, what is blocked and why, and when the floors return to service."""

from datetime import date, datetime

from msgspec import field

from finishadvisor.records.base import Record
from finishadvisor.records.works import Begun, Task


class StepAir(Record):
    """Air and slab at the start of a step."""

    air_f: float
    rh_pct: float
    slab_f: float
    dew_point_f: float


class Step(Record):
    """One task placed on the calendar. `latest` is the end of the recoat window, None where there is none."""

    floor: str
    task: str
    layer: str | None
    coat: int | None
    start: datetime
    end: datetime
    earliest: datetime
    latest: datetime | None
    crew: int
    hours: float
    air: StepAir | None
    notes: tuple[str, ...]
    task_id: str | None = None
    """The task of the works that this step carries out; it is not part of the JSON."""

    @property
    def crew_words(self) -> str:
        """Return how many work on it: "crew of 2"; what goes with a coat by the same hands has no crew of its own."""
        return f"crew of {self.crew}" if self.crew else "the crew of its coat"

    def as_json(self) -> dict[str, object]:
        """Return the contract's JSON."""
        plain = super().as_json()
        del plain["task_id"]
        return plain


class BackInService(Record):
    """When a floor can be used again; None where the finish sets no limit or the plan does not reach it."""

    foot: datetime | None
    water: datetime | None
    furniture: datetime | None
    cover: datetime | None
    vehicle: datetime | None


class Blocked(Record):
    """A span of time in which a task may not be done."""

    start: datetime
    end: datetime
    task: str
    why: str

    def as_json(self) -> dict[str, object]:
        """Return the span under the contract's keys `from` and `to`."""
        plain = super().as_json()
        return {"from": plain["start"], "to": plain["end"], "task": plain["task"], "why": plain["why"]}


class AirHour(Record):
    """Air and slab of one floor over one hour. `allowed`: the air permits laying the coat that comes next."""

    start: datetime
    air_f: float
    rh_pct: float
    slab_f: float
    dew_point_f: float
    rain: bool
    allowed: bool
    assumed: bool
    """True where no forecast reaches: a steady room, or the forecast's mean day repeated."""


class Added(Record):
    """A task that the plan had to add to the works of a floor, and the task that it goes before; None: the first."""

    task: Task
    before: str | None


class Plan(Record):
    """One calendar for the job's crew over all floors. What stands below `feasible` is not part of the JSON."""

    steps: tuple[Step, ...]
    back_in_service: dict[str, BackInService]
    blocked: tuple[Blocked, ...]
    feasible: bool
    assumptions: tuple[str, ...] = ()
    """What was taken for granted, a sentence each; the first step of each floor bears them as notes."""
    changes: tuple[str, ...] = ()
    """Where nothing fits: the nearest changes that would let it fit, a sentence each."""
    inspect: dict[str, tuple[date, ...]] = field(default_factory=dict)
    """By floor: days on which to look whether the finish still does its work."""
    done: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """By floor: ids of the tasks of the works that are done, by the record or under a coat that is down."""
    begun: dict[str, dict[str, Begun]] = field(default_factory=dict)
    """By floor and task id: what is left of the tasks that are done in part."""
    added: dict[str, tuple[Added, ...]] = field(default_factory=dict)
    """By floor: what the plan had to add to the works, so that the order holds its material."""
    air: dict[str, tuple[AirHour, ...]] = field(default_factory=dict)
    """By floor: the hours that the plan reckons with, for drawing."""

    def as_json(self) -> dict[str, object]:
        """Return the contract's JSON."""
        return {
            "steps": [step.as_json() for step in self.steps],
            "back_in_service": {floor: back.as_json() for floor, back in self.back_in_service.items()},
            "blocked": [span.as_json() for span in self.blocked],
            "feasible": self.feasible,
        }
