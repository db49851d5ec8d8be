"""What a floor's photos say beside their shade: steps at load ends, change over time, mock-ups, what turns over.

Kept beside the measurement and shown in words; no part of the printed JSON.
"""

from finishadvisor.records.base import Record


class LoadStep(Record):
    """The shade on both sides of the line where one truck load ends, in one photo."""

    load: str
    """Name of the load that ends there."""
    photo: str
    """The photo that shows both sides, or two photos that meet there: "one and other"."""
    length_ft: float
    """Length of the line whose both sides are shown."""
    step_lightness: float
    """Mean difference in L* from the left of the line, as it is written in the job, to its right."""
    de00: float
    """CIEDE2000 of the step."""
    error_lab: float
    """Standard error of the step along the line [Lab]."""
    elsewhere_de00: float
    """Usual CIEDE2000 across lines that run beside it."""
    found: bool
    """True where the step stands out of its error and of what is usual elsewhere."""


class UntoldStep(Record):
    """The end of a load between two photos that neither overlap nor bear cards: a step there looks like exposure."""

    load: str
    """Name of the load that ends there."""
    photos: tuple[str, str]


class ShadeChange(Record):
    """What changed between two photos of one place, an even change of all of it left out."""

    before: str
    after: str
    days: int
    seen_ft2: float
    changed_share: float
    """Share of the place that changed beyond noise."""
    fading: bool
    """True where enough changed to be told, and what changed came nearer to the typical shade."""
    whole_slab_de00: float | None
    """Change of the typical shade; None where not both levels rest on cards."""


class MockUpDifference(Record):
    """The slab's typical shade against that of a mock-up in another photo."""

    slab: str
    mock_up: str
    de00: float | None
    """None without cards in both photos."""


class SeenTwice(Record):
    """What two photos or more show of the same place, beyond noise."""

    seen_ft2: float
    """Area that two photos or more show."""
    turned_ft2: float
    """Lighter than the slab in one photo and darker in another: sheen."""
    moved_ft2: float
    """Stands out in one photo only: light, or something that was moved."""


class Mottling(Record):
    """How mottled one photo shows the slab."""

    photo: str
    lightness: float
    """Spread (standard deviation) of L* in marks 4 in to 12 in wide."""


class Comparison(Record):
    """Everything that was compared on one floor."""

    load_steps: tuple[LoadStep, ...] = ()
    untold_steps: tuple[UntoldStep, ...] = ()
    changes: tuple[ShadeChange, ...] = ()
    mock_ups: tuple[MockUpDifference, ...] = ()
    seen_twice: SeenTwice | None = None
    """None where no two photos were laid together on the plan."""
    mottling: tuple[Mottling, ...] = ()

    @property
    def outdated(self) -> frozenset[str]:
        """Photos of a place that a later photo shows as it is now."""
        return frozenset(change.before for change in self.changes)
