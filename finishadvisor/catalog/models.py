"""The shape of all other rows of the catalog, and the catalog itself. Rows are frozen, and closed to unknown keys."""

from typing import Annotated, Any, Literal

from msgspec import Meta, field

from finishadvisor.catalog.row import Range, Row, Source, SourceRef
from finishadvisor.catalog.supplies import Material, WorkItem

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
    phrases: dict[str, str] = field(default_factory=dict)
    """How a condition on it reads where label, "is" and value would be clumsy: "the plastic sheet comes up dry".

    Keyed by a word, by "not " and a word, or by a bound such as "at_least", whose number stands for the {} in it.
    """
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
    look_for: tuple[str, ...] = ("does water still bead", "is it dull")
    """What is asked of the floor at an inspection; the answers, and no date, say when it is renewed."""
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
    answered_by: str | None = None
    """For hold: the work item that answers it. Where another rule certainly requires that work, it does not bind."""
    restates: str | None = None
    """For caution: the usual caution that says the same at more length; where that is told, this one is not."""
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
