"""The shape of every catalog row. Rows are frozen; an unknown or missing key is refused by the loader."""

from typing import Annotated, Any, Literal

from msgspec import Meta, field

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


# --- facts -----------------------------------------------------------------------------------------------------------


class Follows(Row):
    """What an unanswered fact is taken to be where `when` holds ("indoors, so no frost"). An answer always wins."""

    when: dict[str, Any]
    value: str | float | bool


class Fact(Row):
    """A named, typed thing that rules may ask about.

    A choice can be answered today (use, place, wishes); a gate needs a test on the cured slab.
    """

    id: str
    label: str
    """How the fact is named inside a sentence: "slab RH"."""
    plural: bool = False
    """True: the label is a plural, as in "cracks are hairline"."""
    words: dict[str, str] = field(default_factory=dict)
    """Values that read otherwise inside a sentence than with their hyphens taken out."""
    yes: str | None = None
    """A flag's yes and no as they read behind "only if": "ground water presses up", "no ground water presses up"."""
    no: str | None = None
    kind: Literal["choice", "gate"]
    type: Literal["word", "number", "flag"]
    unit: str | None = None
    values: tuple[str, ...] | None = None
    least: float | None = None
    most: float | None = None
    question: str
    """Asked of a person in plain words."""
    how: str
    """How it is found out: the test with its standard, a look, a question, a photo."""
    effort_hours: float
    """Rough time until the answer is there, to order what to find out next; 0 for a question."""
    asked_by_new: bool = False
    derived_from: tuple[str, ...] = ()
    """Facts or parts of the job (readings, dates, photos) that it follows from; empty for a plain answer."""
    follows: tuple[Follows, ...] = ()
    """Tried in order while the fact has no answer; the first whose conditions hold gives the value."""
    source: SourceRef


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


# --- finishes --------------------------------------------------------------------------------------------------------


class Layer(Row):
    """One layer of a finish, bottom up."""

    name: str
    """Short, unique in the finish: "primer", "build", "flake", "top"."""
    material: str
    coats: int = 1
    work_item: str = "coat"
    """How it is laid: the work item that holds labor rate and steps of one coat."""
    before: tuple[str, ...] = ()
    """Work items between the layer below and this one: scrape, screen, the next polishing steps."""
    into: str | None = None
    """Broadcast materials: the layer that they are thrown into while it is wet."""


class SealedLook(Row):
    """Weights of the reflection model: how wet the look is (0 to 1), and how much an opaque tint hides (0 to 1)."""

    wet: float
    hiding: float = 0


class Upkeep(Row):
    """Inspect and renew: years between recoats as found by inspection, never a blind date."""

    inspect_months: float
    recoat_years: Range | None = None
    recoat_layers: tuple[str, ...] = ()
    recoat_preparation: tuple[str, ...] = ()
    renew_years: Range | None = None
    """Years until the finish is taken off and made anew."""
    clean_hours_per_100_per_year: Range
    care: tuple[str, ...]
    touch_up: str


Mark = Annotated[float, Meta(ge=0, le=10)]


class Merits(Row):
    """How a finish does by criterion, 0 (worst of the list) to 10 (best), as an experienced finisher would put it."""

    look: Mark
    wear: Mark
    upkeep: Mark
    slip: Mark


class Finish(Row):
    """A finish system: preparation, layers, what it looks like, needs, closes and asks in upkeep."""

    id: str
    name: str
    family: Literal["unsealed", "penetrating", "topical", "dye-and-seal", "coating", "polish"]
    cover: Literal["none", "clear", "tinted", "dyed", "solid", "flake"]
    film: Literal["none", "breathable", "tight"]
    sheen: tuple[Literal["matte", "satin", "semi-gloss", "gloss"], ...]
    look: str
    deepens: Literal["no", "slightly", "clearly", "hides"]
    sealed_look: SealedLook | None = None
    preparation: tuple[str, ...]
    """Work items before the layers, always part of this finish."""
    layers: tuple[Layer, ...]
    afterwards: tuple[str, ...] = ()
    upkeep: Upkeep
    merits: Merits
    before_the_pour: tuple[str, ...]
    closes: tuple[str, ...]
    """Finish ids that can no longer be reached once this one is down, short of taking it off."""
    goes_wrong: tuple[str, ...]
    """What could go wrong, a sentence each, for the client."""
    source: SourceRef
    source_of: dict[str, SourceRef] = field(default_factory=dict)
    """On whose word single keys of the row stand, where it is another's."""


# --- rules -----------------------------------------------------------------------------------------------------------


class Rule(Row):
    """If `when` holds for a subject that `about` speaks of, `effect` follows."""

    id: str
    about: dict[str, str | tuple[str, ...]]
    """Attributes of the subject. Every key must match; a list matches any of its values.

    For a finish: finish, family, cover, film, sheen, deepens, layer, top, first (chemistries), carrier, preparation,
    caution, material; or all = "finishes".
    For a cause of unevenness: cause.
    """
    when: dict[str, Any]
    """Conditions on facts, checked and compiled by the rules package."""
    effect: Literal["forbid", "hold", "require", "caution", "favor", "against"]
    because: str
    work_item: str | None = None
    weight: int = 1
    """For favor and against: how strongly, 1 to 3."""
    source: SourceRef


class OutsideKind(Row):
    """What kind of finish outside the list would serve, where none of the list does."""

    id: str
    when: dict[str, Any]
    sentence: str
    source: SourceRef


class CauseRow(Row):
    """A cause of uneven shade; rules about it favor, go against or forbid it."""

    id: str
    name: str
    removable: bool
    check: str
    do: str
    advice: Literal["go", "hold", "change"]
    source: SourceRef


# --- the rest --------------------------------------------------------------------------------------------------------


class Caution(Row):
    """A usual caution, printed wherever a material or work item names it."""

    id: str
    sentence: str
    source: SourceRef


class Limit(Row):
    """A named number that code asks for: a default, a threshold, a share."""

    id: str
    value: float
    unit: str
    meaning: str
    source: SourceRef


class Criterion(Row):
    """One thing that a client weighs; `weight` is the default share."""

    id: Literal["first_cost", "life_cost", "look", "wear", "upkeep", "slip", "days_out"]
    name: str
    weight: float
    source: SourceRef


class Catalog(Row):
    """All rows by id. `own_rows` names the user's rows that replaced or joined the shipped ones."""

    sources: dict[str, Source]
    facts: dict[str, Fact]
    materials: dict[str, Material]
    work_items: dict[str, WorkItem]
    finishes: dict[str, Finish]
    rules: dict[str, Rule]
    cause_rules: dict[str, Rule]
    causes: dict[str, CauseRow]
    outside_kinds: dict[str, OutsideKind]
    cautions: dict[str, Caution]
    limits: dict[str, Limit]
    criteria: dict[str, Criterion]
    own_rows: tuple[str, ...] = ()
