"""The job as a person writes it in job.toml. Everything that may be unknown may be left out.

Inside, lengths are feet, temperatures °F, whatever the job's `units`; `lengths.py` reads what a person types.
"""

import datetime
from typing import Annotated, Any, Literal, Self

from pydantic import Field, ValidationInfo, field_validator, model_validator

from finishadvisor.job.drawn import Outline
from finishadvisor.job.entry_types import (
    NUMBER_OR_TEXT,
    Answer,
    Clock,
    Count,
    Day,
    Fahrenheit,
    Flag,
    Moment,
    Name,
    Number,
    Pixel,
    PixelPolygon,
    Point,
    PointOrWords,
    Size,
    SmallFeet,
    Words,
)
from finishadvisor.job.part import Part
from finishadvisor.job.reading_values import read_reading_value

# --- what is known of the slab ---------------------------------------------------------------------------------------


class Load(Part):
    """One truck load: where blotches come from."""

    name: Name
    slump: SmallFeet | None = None
    water_added_gal: Number | None = Field(default=None, ge=0)
    time: Moment | None = None
    placed_by: Literal["pump", "chute", "other"] | None = None
    weather: Words | None = None
    finisher: Words | None = None
    boundary: tuple[Point, ...] = ()
    """The line on the plan where this load ends."""


class LayerDown(Part):
    """A layer that lies on the slab already. `material` is a chemistry of the catalog, or "unknown"."""

    material: Name
    laid: Day | None = None
    coats: Count | None = Field(default=None, gt=0)
    bonded: Flag | None = None
    color: Literal["clear", "tinted", "solid"] | None = None


ReadingKind = Literal[
    "slab-rh", "calcium-chloride", "ph", "rinse-water-ph", "sheet-test", "water-drop", "scratch-hardness", "sounding",
    "pull-off", "slab-temperature", "air-temperature", "air-rh",
]  # fmt: skip


class Reading(Part):
    """One dated reading.

    Units inside, by kind: slab-rh and air-rh %, calcium-chloride lb/1000 ft² in 24 h, ph and rinse-water-ph pH,
    water-drop seconds until absorbed, scratch-hardness Mohs, pull-off psi, temperatures °F; sheet-test "dry" or "damp";
    sounding "solid" or "hollow". In a metric job bare numbers are g/m² in 24 h, MPa and °C; a text may bear its unit.
    """

    kind: ReadingKind
    value: Annotated[float | str, NUMBER_OR_TEXT]
    date: Day
    place: PointOrWords | None = None
    note: Words | None = None

    @field_validator("value", mode="before")
    @classmethod
    def _value_of_its_kind(cls, value: Any, info: ValidationInfo) -> float | str:
        kind = info.data.get("kind")
        return value if kind is None else read_reading_value(kind, value, info)


class Pour(Part):
    """When the slab was or will be poured; `about` marks a date that is not certain."""

    date: Day
    about: Flag = False


class Room(Part):
    """Steady conditions indoors; the weather file is for floors without a room."""

    air: Fahrenheit
    rh_pct: Number = Field(gt=0, le=100)
    slab: Fahrenheit | None = None


# --- photos ----------------------------------------------------------------------------------------------------------


class Sheet(Part):
    """A neutral card or sheet in the photo: its pixel and reflectance."""

    at: Pixel
    reflectance: Number = Field(default=0.18, gt=0, lt=1)


class KnownPoint(Part):
    """A pixel whose place on the slab is known."""

    pixel: Pixel
    place: Point


class Photo(Part):
    """A photo of the floor with its marks.

    Corner order: origin, along the first side, opposite, along the second side.
    """

    file: Name
    """Inside the job's photos folder."""
    taken: Moment | None = None
    shows: Literal["slab", "mock-up", "after-preparation"] = "slab"
    corners: tuple[Pixel, Pixel, Pixel, Pixel] | None = None
    points: tuple[KnownPoint, ...] = Field(default=(), alias="point")
    size: Size | None = None
    origin_on_plan: Point | None = None
    """Where the photo's origin corner lies on the floor plan; needed to join bays."""
    turned_deg: Literal[0, 90, 180, 270] = 0
    """How far the photo's first side is turned against the plan's x, counter-clockwise."""
    sheets: tuple[Sheet, ...] = Field(default=(), alias="sheet")
    leave_out: tuple[PixelPolygon, ...] = ()
    wet: tuple[PixelPolygon, ...] = ()


# --- decisions and records -------------------------------------------------------------------------------------------


class MockUp(Part):
    """A trial patch on the real slab, with what one coat of a material really took."""

    finish: Name
    area_ft2: Number = Field(gt=0)
    material: Name
    coat: Count = Field(default=1, gt=0)
    used: Number = Field(gt=0)
    """In the material's unit of the catalog (gal, lb)."""
    date: Day | None = None
    signed_by: Name | None = None


class Used(Part):
    """What was really used of one material for one layer."""

    material: Name
    layer: Name
    coats: Count = Field(default=1, gt=0)
    area_ft2: Number = Field(gt=0)
    used: Number = Field(ge=0)
    date: Day
    lot: Name | None = None


class Done(Part):
    """A task of the works that is finished, or the part of one that was done by then.

    A coat is better recorded by what it used, which says so too.
    """

    task: Name
    """The task's id: a work item ("grind-light"), or layer and coat ("build-coat-1")."""
    date: Day
    time: Clock | None = None
    """When it ended; left out: some time of that workday."""
    area_ft2: Number | None = Field(default=None, gt=0)
    """How much of it was done this time, where it is not finished; parts of one task add up."""
    zones: tuple[Name, ...] = Field(default=(), max_length=500)
    """Instead of the area: which zones were done this time, by the letters of the plan."""

    @property
    def is_part(self) -> bool:
        """Whether only a part of the task was done."""
        return self.area_ft2 is not None or bool(self.zones)

    @model_validator(mode="after")
    def _area_or_zones(self) -> Self:
        if self.area_ft2 is not None and self.zones:
            raise ValueError("area_ft2 and zones both say how much is done. Keep one of the two")
        return self


class Decision(Part):
    """The finish that was decided, by whom, when."""

    finish: Name
    by: Name | None = None
    date: Day | None = None


class Floor(Part):
    """One floor that gets one finish. `answers` holds plain facts by their id (see docs/facts.md)."""

    name: Name
    outline: Outline | None = None
    pour: Pour | None = None
    answers: dict[str, Answer] = Field(default_factory=dict)
    last_wetting: Day | None = None
    layers_down: tuple[LayerDown, ...] = Field(default=(), alias="layer_down")
    loads: tuple[Load, ...] = Field(default=(), alias="load")
    readings: tuple[Reading, ...] = Field(default=(), alias="reading")
    room: Room | None = None
    photos: tuple[Photo, ...] = Field(default=(), alias="photo")
    mock_ups: tuple[MockUp, ...] = Field(default=(), alias="mock_up")
    decision: Decision | None = None
    used: tuple[Used, ...] = ()
    done: tuple[Done, ...] = ()


# --- the job ---------------------------------------------------------------------------------------------------------

Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class Workday(Part):
    """The crew's hours."""

    start: Clock = datetime.time(7, 0)
    end: Clock = datetime.time(15, 30)
    days: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri")
    """Days on which work begins; where it ends before it starts, it ends on the next day."""

    @property
    def hours(self) -> float:
        """Length of a workday or a night's work [h]."""
        minutes = 60 * (self.end.hour - self.start.hour) + self.end.minute - self.start.minute
        return minutes % (24 * 60) / 60


class Price(Part):
    """The user's own price of one pack of a material, in the job's currency."""

    material: Name
    size: Number = Field(gt=0)
    price: Number = Field(ge=0)


class Business(Part):
    """What the contractor's work costs and sells for. Left out: class-wide ranges, marked as such."""

    labor_per_hour: Number | None = Field(default=None, ge=0)
    mobilization: Number | None = Field(default=None, ge=0)
    margin: Number | None = Field(default=None, ge=0, lt=1)
    """Share of the selling price."""
    analysis_years: Number = Field(default=15, gt=0, le=60)
    discount_rate: Number = Field(default=0.05, ge=0, lt=1)
    short_risk_limit: Number | None = Field(default=None, gt=0, lt=1)


class OwnFiles(Part):
    """The user's own rows, relative to the job folder."""

    rules: tuple[str, ...] = ()
    finishes: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()


class Job(Part):
    """A whole job: one folder, one client, one crew, one or more floors."""

    name: Name
    client: Name | None = None
    """The name as the client's papers print it."""
    units: Literal["us", "metric"] = "us"
    currency: str = Field(default="USD", pattern="^[A-Z]{3}$")
    time_zone: Name = "America/Chicago"
    voc_rules: Literal["us-national", "otc-phase-2", "south-coast", "none"] | None = None
    workday: Workday = Workday()
    crew: Count = Field(default=2, gt=0, le=100)
    teams: Count = Field(default=1, gt=0, le=100)
    """Into how many teams the crew may part, each on a floor of its own."""
    business: Business = Business()
    prices: tuple[Price, ...] = Field(default=(), alias="price")
    weights: dict[str, Number] = Field(default_factory=dict)
    own_files: OwnFiles = OwnFiles()
    weather: Name | None = None
    """An hourly weather file in the job folder, used where no other is named."""
    floors: tuple[Floor, ...] = Field(alias="floor", min_length=1)
