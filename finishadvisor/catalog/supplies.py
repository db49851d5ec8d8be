"""The shape of rows about what is bought and what is done with it: materials and work items."""

from typing import Literal

from msgspec import field

from finishadvisor.catalog.row import Range, Row, SourceRef

# --- materials -------------------------------------------------------------------------------------------------------


class PackSize(Row):
    """A pack that can be bought; `price` is class-wide and in US dollars, the user's own price wins."""

    size: float
    price: Range


class CurePoint(Row):
    """Times of one coat at one slab temperature, as a data sheet prints them; None where not applicable."""

    slab_f: float
    pot_life_min: float | None = None
    tack_free_h: float
    recoat_min_h: float
    recoat_max_h: float | None = None
    foot_h: float
    water_h: float
    furniture_h: float
    cover_h: float
    vehicle_h: float | None = None


class AirLimits(Row):
    """Conditions in which a material may be laid. `dew_margin_f` is held until tack-free."""

    air_low_f: float
    air_high_f: float
    slab_low_f: float
    slab_high_f: float
    rh_low_pct: float = 0
    rh_high_pct: float
    dew_margin_f: float = 0


class SpreadRates(Row):
    """Area per unit of a rate material, ft² per unit, by how thirsty the surface is."""

    low: Range
    medium: Range
    high: Range


class Material(Row):
    """Something that is bought. Exactly the keys of its `basis` are given."""

    id: str
    name: str
    chemistry: str
    """acrylic, epoxy, urethane, polyaspartic, silane-siloxane, silicate, dye, guard, enhancer, ... or "supply"."""
    carrier: Literal["water", "solvent", "none"]
    unit: str
    basis: Literal["film", "rate", "count", "weight", "length", "volume"]
    volume_solids: Range | None = None
    dry_film_mils: Range | None = None
    spread_ft2_per_unit: SpreadRates | None = None
    weight_lb_per_ft2: Range | None = None
    per_piece: Range | None = None
    """count: units per piece or per task; of protective equipment, per worker and day on site."""
    per_ft: Range | None = None
    per_ft3: Range | None = None
    first_coat_factor: Range | None = None
    """How much more the first coat takes than a later one, 1 or more."""
    loss: Range
    """Share of the material that ends elsewhere than on the floor, fraction."""
    mix_ratio: tuple[float, ...] | None = None
    kit: bool = False
    """True: packs hold all components at the mix ratio and are opened whole."""
    one_lot: bool = False
    """True: a second lot would not match (tinted, solid, flake)."""
    packs: tuple[PackSize, ...]
    shelf_life_months: float | None = None
    cure: tuple[CurePoint, ...] = ()
    limits: AirLimits | None = None
    voc_g_per_l: Range | None = None
    flash_point_f: float | None = None
    cautions: tuple[str, ...] = ()
    ppe: tuple[str, ...] = ()
    source: SourceRef
    source_of: dict[str, SourceRef] = field(default_factory=dict)
    """On whose word single keys of the row stand, where it is another's."""


# --- work items ------------------------------------------------------------------------------------------------------


class WorkMaterial(Row):
    """A material that a work item uses up over its extent; `coats` multiplies."""

    material: str
    coats: int = 1


class WorkItem(Row):
    """A task with an extent, a labor rate, materials and waits. `phase` orders the tasks of a floor.

    Phases: 10 find out, 20 prepare the site, 30 clean, 40 cut and profile, 50 repair, 60 last before the coats,
    70 layers and what lies between them, 80 after the last layer, 90 until the handover.
    """

    id: str
    title: str
    phase: int
    extent: Literal["area", "edge", "joint", "count", "fixed"]
    hours_per_100: Range | None = None
    """Crew-hours per 100 ft² or 100 ft."""
    hours_each: Range | None = None
    """Crew-hours per piece, or for the whole fixed task."""
    setup_hours: float = 0
    joint_kinds: tuple[Literal["control", "construction", "isolation", "moving", "crack"], ...] = (
        "control",
        "construction",
        "isolation",
        "moving",
    )
    """For extent "joint": which lines of the plan it is done on. A line that moves counts as "moving" and no other."""
    leaves_csp: float | None = None
    """For a preparation: the concrete surface profile that it leaves, ICRI number."""
    count_rule: str | None = None
    """For extent "count": the id of a published counting rule, e.g. "f2170-holes", "f1869-kits", "d4262-readings"."""
    materials: tuple[WorkMaterial, ...] = ()
    rental_per_day: Range | None = None
    tool: str | None = None
    """The rented tool, where other tasks use it too: on one floor they share its days."""
    disposal_per_100: Range | None = None
    wait_hours: Range | None = None
    """Time that must pass after the task before the next one (drying, a test's exposure)."""
    stirred_in: bool = False
    """True: it goes into the mix of the coat that follows, in that coat's own hours."""
    wets_slab: bool = False
    """True: older moisture readings become stale and drying starts again."""
    changes_shade: bool = False
    """True: the floor must be photographed again afterwards, a hold point."""
    hold_point: bool = False
    indoors_quiet: bool = True
    steps: tuple[str, ...]
    """What the job sheet says, a sentence each."""
    cautions: tuple[str, ...] = ()
    ppe: tuple[str, ...] = ()
    source: SourceRef
    source_of: dict[str, SourceRef] = field(default_factory=dict)
    """On whose word single keys of the row stand, where it is another's."""
