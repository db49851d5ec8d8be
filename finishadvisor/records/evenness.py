"""How even the shade of a photographed slab is, and how far that can be trusted."""

from typing import Any, Literal

from msgspec import field

from finishadvisor.records.base import Record
from finishadvisor.records.comparison import Comparison

Lab = tuple[float, float, float]
Range = tuple[float, float]


class Patch(Record):
    """One region whose shade differs from the typical one: feet from the origin corner, signed differences."""

    x_ft: float
    y_ft: float
    width_ft: float
    length_ft: float
    area_ft2: float
    dL: float
    da: float
    db: float
    de00: float
    kind: str
    outline_ft: tuple[tuple[float, float], ...]


class Sigma(Record):
    """One standard deviation of each headline number."""

    share_over_3: float
    p95_de00: float
    index: float


class Lighting(Record):
    """The lighting that was taken out, and what went with it."""

    ratio: float
    taken_as_light_L: float
    weakened_beyond_ft: float


class ScaleSteps(Record):
    """The shade span in steps of two published gray scales made for formed walls."""

    cib: float
    belgian: float


class Cause(Record):
    """A likely cause of unevenness, the check that would confirm it and what to do."""

    cause: str
    likelihood: str
    because: tuple[str, ...]
    check: str
    do: str


class SealedSpread(Record):
    """Predicted p95 CIEDE2000 under a finish, as a band."""

    p95_low: float
    p95_high: float


class Evenness(Record):
    """One measured photo. A refused photo has `refused` ids and None for every measured value."""

    photo: str
    refused: tuple[str, ...] | None = None
    warnings: tuple[str, ...] = ()
    caveats: tuple[str, ...] = ()
    grade: str | None = None
    grade_range: tuple[str, str] | None = None
    typical_lab: Lab | None = None
    second_lab: Lab | None = None
    level: Literal["sheet", "stated", "assumed"] | None = None
    share_over: dict[Literal["2", "3", "5"], float] | None = None
    p95_de00: float | None = None
    index: float | None = None
    sigma: Sigma | None = None
    measured_share: float | None = None
    lighting: Lighting | None = None
    masked: dict[str, float] = field(default_factory=dict)
    scale_steps: ScaleSteps | None = None
    patches: tuple[Patch, ...] | None = None
    causes: tuple[Cause, ...] | None = None
    advice: Literal["go", "hold", "change"] | None = None
    sealed: dict[str, SealedSpread | None] | None = None
    patch_causes: tuple[tuple[Cause, ...], ...] | None = None
    """The likely causes of each patch, in the order of `patches`; shown beside them, not part of the printed JSON."""

    def as_json(self) -> dict[str, Any]:
        """Return the contract's JSON."""
        plain = super().as_json()
        del plain["patch_causes"]
        return plain


class FloorEvenness(Record):
    """All photos of one floor, and what they say together."""

    floor: str
    photos: tuple[Evenness, ...]
    together: Evenness | None = None
    compared: Comparison | None = None
    """Steps at load ends, change over time, mock-ups; shown in words, not part of the printed JSON."""

    def as_json(self) -> dict[str, Any]:
        """Return the contract's JSON."""
        return {
            "floor": self.floor,
            "photos": [photo.as_json() for photo in self.photos],
            "together": self.together.as_json() if self.together else None,
        }
