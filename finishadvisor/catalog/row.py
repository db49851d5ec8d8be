"""What all rows of the catalog share, and the parts that stand in many of them."""

from finishadvisor.frozen import Frozen


class Row(Frozen):
    """A frozen, closed row of a TOML file."""


class SourceRef(Row):
    """On whose word a row stands. `our-choice` needs a `reason`; `clause` names the place in a long document."""

    id: str
    clause: str | None = None
    from_memory: bool = False
    reason: str | None = None


class Source(Row):
    """One published document, or one of the two ids `common-practice` and `our-choice`."""

    id: str
    title: str
    year: int | None = None
    note: str | None = None


class Range(Row):
    """Low, expected and high value of one quantity; for class-wide figures the range covers the class."""

    low: float
    expected: float
    high: float
