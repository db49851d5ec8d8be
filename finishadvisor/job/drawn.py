"""A floor on the plan as a person writes it in job.toml. `outline.py` measures it."""

from typing import Literal

from pydantic import Field

from finishadvisor.job.entry_types import Count, Feet, FeetOrZero, Flag, Point, Polygon, SmallFeet, Words
from finishadvisor.job.part import Part


class Rectangle(Part):
    """An axis-parallel rectangle: its corner nearest the origin, then its sides along x and y."""

    corner: Point = (0.0, 0.0)
    x: Feet
    y: Feet


class Steps(Part):
    """A flight of steps that gets the same finish."""

    count: Count = Field(gt=0)
    width: Feet
    tread: SmallFeet
    riser: SmallFeet


class Joint(Part):
    """A joint or crack line on the plan; moving joints are honored and re-cut through a film."""

    kind: Literal["control", "construction", "isolation", "crack"]
    start: Point
    end: Point
    width: SmallFeet | None = None
    depth: SmallFeet | None = None
    moving: Flag | None = None


class Outline(Part):
    """The floor's shape: rectangles and polygons added, cut-outs taken away."""

    rectangles: tuple[Rectangle, ...] = Field(default=(), alias="rectangle")
    polygons: tuple[Polygon, ...] = ()
    cut_outs: tuple[Polygon, ...] = ()
    steps: tuple[Steps, ...] = ()
    joints: tuple[Joint, ...] = Field(default=(), alias="joint")
    edge: FeetOrZero | None = None
    """Length of edge to be worked by hand; left out: the whole outline."""
    cove: FeetOrZero | None = None
    origin: Words = ""
    """Where the origin corner is, in words: "south-west corner, by the door"."""
    x_direction: Words = ""
    """Which way x runs, in words: "along the street wall"."""
