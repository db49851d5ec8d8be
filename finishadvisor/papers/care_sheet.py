"""The care sheet of one floor: when it may be used again, how to keep it, when to look at it, how it is mended."""

from collections.abc import Iterator, Sequence
from typing import Final

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.papers.blocks import (
    Block,
    Sheet,
    heading,
    points,
    quiet,
    table,
    text,
    write_in,
)
from finishadvisor.papers.cautions import cautions_in_use
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.own_rows import own_rows
from finishadvisor.papers.wording import (
    day_text,
    moment_text,
    number_text,
)
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.plan import BackInService
from finishadvisor.records.whole import FloorOutcome, WholeJob

FAMILY_TOUCH_UP: Final = {
    "unsealed": "Nothing lies on the slab that could be mended: clean it, and keep new stains off.",
    "penetrating": "A penetrating treatment is renewed by treating again, joint to joint, on a clean and dry slab.",
    "topical": "A clear acrylic can be re-melted with its solvent and laid thin; other films are sanded and recoated.",
    "dye-and-seal": "Color first, from the kept rest, then the seal over it, joint to joint.",
    "coating": "A two-component film is sanded and recoated from joint to joint; a spot in the field always shows.",
    "polish": "A polish is worked again through its last grits from joint to joint, guarded and burnished.",
}
"""By family of finish: how a worn or damaged part is mended. Common practice, no source."""
INSPECT_ROWS: Final = 5
SERVICE_WORDS: Final = (
    ("foot", "Feet, in socks or clean soles"),
    ("water", "Water: first rain or wash"),
    ("furniture", "Furniture, lifted and not pushed"),
    ("cover", "Rugs, covers, other trades"),
    ("vehicle", "Vehicles"),
)

RENEWED_BY_LOOK: Final = {
    "none": "Renew when the answer says so, never by the calendar.",
    "breathable": "Recoat when the answer says so, never by the calendar: coats laid too early build up, turn white "
    "and peel.",
    "tight": "Screen and recoat when the answer says so, before it is worn through, never by the calendar.",
}
"""Behind what to look for, by the finish's film."""


def care_sheet(whole: WholeJob, outcome: FloorOutcome) -> Sheet | None:
    """Return the care sheet of one floor, None where no finish is chosen."""
    finish = chosen(whole, outcome)
    if finish is None:
        return None
    inspect = whole.plan.inspect.get(outcome.floor.name, ()) if whole.plan else ()
    back = whole.plan.back_in_service.get(outcome.floor.name) if whole.plan else None
    asked = finish.upkeep.look_for
    blank = ("",) * (len(asked) + 1)
    rows = [(day_text(day, whole.job.units), *blank) for day in inspect] or [("", *blank)] * INSPECT_ROWS
    advised = [row for row in outcome.advice.finishes if row.id == finish.id]
    blocks = [
        heading("When it may be used again"),
        *_service(back, whole.job.units),
        heading("Everyday care"),
        points(finish.upkeep.care),
        heading("Look at it, then decide"),
        text(f"Look on these days: {', '.join(asked)}? {RENEWED_BY_LOOK[finish.film]}"),
        table(
            ("Look on", *(f"{words[:1].upper()}{words[1:]}?" for words in asked), "Done, by whom"),
            rows,
            shares=(0, *(2,) * len(asked), 3),
            tall=True,
        ),
        text(_recoat_words(finish)),
        heading("Touch-up"),
        points([finish.upkeep.touch_up, FAMILY_TOUCH_UP[finish.family]]),
        heading("What could go wrong"),
        points(finish.goes_wrong),
        *_cautions(advised, whole.catalog),
    ]
    return Sheet(f"{outcome.floor.name}: care", _care_answer(finish, inspect), blocks, foot(whole, outcome.floor.name))


def chosen(whole: WholeJob, outcome: FloorOutcome) -> Finish | None:
    """Return the finish that the floor is worked for."""
    return whole.catalog.finishes[outcome.finish] if outcome.finish else None


def _care_answer(finish: Finish, inspect: Sequence[object]) -> str:
    months = number_text(finish.upkeep.inspect_months, 0)
    when = "on the days below" if inspect else f"every {months} months"
    return f"Clean it gently, look at it {when}, and recoat only when the floor asks for it."


def _recoat_words(finish: Finish) -> str:
    years = finish.upkeep.recoat_years
    if years is None:
        return "This finish is not recoated; what wears is mended as below."
    span = f"{number_text(years.low)} to {number_text(years.high)} years"
    return f"A recoat is usually due after {span}; the floor, not the calendar, says when."


def _service(back: BackInService | None, units: str) -> Iterator[Block]:
    if back is None:
        yield write_in([words for _, words in SERVICE_WORDS], columns=1)
        return
    rows = [(words, getattr(back, name)) for name, words in SERVICE_WORDS]
    yield table(
        ("May come back", "Not before"),
        [(words, moment_text(at, units) if at else "not limited, or not planned") for words, at in rows],
    )
    yield quiet("As planned. If the work is done on other days, the crew corrects these times by hand.")


def _cautions(advised: Sequence[FinishAdvice], catalog: Catalog) -> Iterator[Block]:
    own = [row.id for row in own_rows(catalog) if row.table == "rule"]
    cautions = [caution for finish in advised for caution in cautions_in_use(finish, own)]
    if cautions:
        yield heading("Mind in use")
        yield points(cautions)
