"""The chosen stack and every required work item of one floor: made once, read by plan, order and ranking."""

from datetime import date
from typing import Literal

from finishadvisor.records.base import Record, SourceNote

Extent = Literal["area", "edge", "joint", "count", "fixed"]
Basis = Literal["film", "rate", "count", "weight", "length", "volume"]


class Hours(Record):
    """Crew-hours of one task: one worker for one hour counts 1."""

    low: float
    expected: float
    high: float


class Band(Record):
    """Low, expected and high value of one quantity."""

    low: float
    expected: float
    high: float


class MaterialUse(Record):
    """One material of one task. How much it takes follows from the material's basis and figures in the catalog."""

    material: str
    layer: str | None
    coats: int
    basis: Basis
    first_coat: bool
    source: SourceNote


class Task(Record):
    """One step of the work on a floor, in the order given by the works."""

    id: str
    """Unique on the floor: work item, or layer and coat ("build-coat-1")."""
    work_item: str
    title: str
    layer: str | None
    coat: int | None
    extent: Extent
    quantity: float
    """Extent of the work: ft² of area, ft of edge or joint, pieces, or 1."""
    volume_ft3: float | None = None
    """For joints and cracks: length x width x depth, what a filler has to fill."""
    unit: str
    crew_hours: Hours
    materials: tuple[MaterialUse, ...]
    certain: bool
    """False where a requirement is undecided: the task counts in `high` only."""
    why: str
    """The reason a person reads: part of the finish, or the rule that asks for it."""
    rule: str | None
    source: SourceNote


class Zone(Record):
    """A part of a floor that ends at joints and is coated in one go."""

    name: str
    area_ft2: float


class FloorWorks(Record):
    """Everything to be done for one finish on one floor."""

    floor: str
    finish: str
    area_ft2: float
    edge_ft: float
    joint_ft: float
    """Joints of every kind, without cracks."""
    crack_ft: float = 0.0
    zones: tuple[Zone, ...]
    absorption: Literal["low", "medium", "high"]
    """How thirsty the surface is: from the water-drop test, or the surface as its proxy."""
    profile_fill_mils: Band = Band(low=0, expected=0, high=0)
    """Wet material of the first film that fills the profile of the bare slab, below the peaks."""
    mock_up_ft2: float = 0.0
    """Area of the mock-up that is still to be made and takes material of every layer."""
    tasks: tuple[Task, ...]


class Begun(Record):
    """What is left of a task that is done in part."""

    rest: Task
    """The task with the extent and hours that are left."""
    zones_left: tuple[Zone, ...]
    """Zones still to be done; one for all of the rest where nobody knows which."""
    said: str
    """What is done in words: "600 ft² of 1,000 ft² done (zones A, B)"."""
    last: date
    """The day of its last part."""
