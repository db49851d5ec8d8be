"""The job sheet of one floor: what the crew does, in order, with times, batches, hold points and stop rules."""

from collections.abc import Iterator, Sequence

from finishadvisor.catalog.models import Catalog
from finishadvisor.papers.blocks import (
    Block,
    Sheet,
    checks,
    facts,
    heading,
    hold,
    picture,
    points,
    quiet,
    table,
    text,
    together,
)
from finishadvisor.papers.cautions import work_cautions
from finishadvisor.papers.client_options import open_conditions
from finishadvisor.papers.client_sheet import foot
from finishadvisor.papers.doubt import doubt_of_chosen
from finishadvisor.papers.due_tests import due_tests
from finishadvisor.papers.own_rows import named_with_file, of_finishes, of_works
from finishadvisor.papers.places_of_tests import PlacesDue, places_of_tests
from finishadvisor.papers.plans_of_floor import plan_blocks
from finishadvisor.papers.recorded import still_to_mix
from finishadvisor.papers.stop_rules import limits_table, stop_rules
from finishadvisor.papers.wording import (
    area_text,
    length_text,
    moment_text,
    sentence,
)
from finishadvisor.papers.work_steps import work_steps
from finishadvisor.records.advice import OpenFact
from finishadvisor.records.order import Batch
from finishadvisor.records.whole import FloorOutcome, WholeJob
from finishadvisor.records.works import FloorWorks


def job_sheet(
    whole: WholeJob, outcome: FloorOutcome, batches: Sequence[Batch], days_figure: bytes | None = None
) -> Sheet | None:
    """Return the job sheet of one floor, None where no finish is chosen or nothing can be measured.

    Args:
        whole: the job worked through.
        outcome: the floor.
        batches: the batches of the whole job.
        days_figure: the drawn days (SVG), where there is a plan.
    """
    works = outcome.works
    if works is None:
        return None
    due = due_tests(outcome, whole.catalog)
    where = places_of_tests(outcome, due)
    left = still_to_mix([batch for batch in batches if batch.floor == works.floor], whole)
    floor_blocks, pictures = plan_blocks(whole, outcome, works, left, where.marks)
    if days_figure:
        pictures["days.svg"] = days_figure
    blocks = [
        *_before(whole, outcome),
        *_tests(due, where),
        *floor_blocks,
        *_days(whole, works, drawn=days_figure is not None),
        heading("The work, step by step"),
        *work_steps(whole, outcome, works, left),
        *_stops(whole, works),
        *_own_rows(whole, outcome, works),
        heading("PPE"),
        checks(equipment(works, whole.catalog), columns=2),
        heading("Cautions"),
        quiet(
            "The data sheets of the products at hand, local code and licensed practice come before this sheet.",
            leads=True,
        ),
        points(work_cautions(works, whole.catalog), small=True),
    ]
    title, words = f"{outcome.floor.name}: job sheet", foot(whole, outcome.floor.name)
    return Sheet(title, _answer(whole, works), blocks, words, pictures)


def equipment(works: FloorWorks, catalog: Catalog) -> list[str]:
    """Return the protective equipment of every task and material by name, each once."""
    ids = [id_ for task in works.tasks for id_ in catalog.work_items[task.work_item].ppe]
    ids += [id_ for task in works.tasks for use in task.materials for id_ in catalog.materials[use.material].ppe]
    return [catalog.materials[id_].name if id_ in catalog.materials else id_ for id_ in dict.fromkeys(ids)]


def _answer(whole: WholeJob, works: FloorWorks) -> str:
    finish = whole.catalog.finishes[works.finish].name
    size = area_text(works.area_ft2, whole.job.units)
    steps = [step for step in whole.plan.steps if step.floor == works.floor] if whole.plan else []
    if not steps:
        return f"{finish} on {size}, crew of {whole.job.crew}. No day is planned yet."
    first, last = min(step.start for step in steps), max(step.end for step in steps)
    when = f"{moment_text(first, whole.job.units)} to {moment_text(last, whole.job.units)}"
    blocked = "" if whole.plan and whole.plan.feasible else " Not everything fits: see the plan."
    return f"{finish} on {size}, crew of {whole.job.crew}: {when}.{blocked}"


def _before(whole: WholeJob, outcome: FloorOutcome) -> Iterator[Block]:
    """Yield what must be settled before anything is laid."""
    chosen = next((finish for finish in outcome.advice.finishes if finish.id == outcome.finish), None)
    works = outcome.works
    yield heading("Before the first step")
    finish = whole.catalog.finishes[outcome.finish].name if outcome.finish else ""
    yield facts([
        ("Finish", f"{finish}, {outcome.chosen_because}"),
        ("Takeoff", _takeoff_words(works, whole.job.units) if works else ""),
    ])
    if works and works.mock_up_ft2 > 0:
        size = area_text(works.mock_up_ft2, whole.job.units)
        yield hold(f"Mock-up of {size} on the real slab with the real preparation: made, dry, signed by the client.")
    if doubt := doubt_of_chosen(outcome):
        yield hold(doubt)
    for condition in open_conditions(chosen) if chosen else []:
        yield hold(sentence(condition))
    yield checks([
        "The data sheets of the products at hand are read; where they differ from this sheet, they win.",
        "Everything on the order list is here, of one lot where it says so, and as warm as the room.",
        "Slab, air and dew point are read at the floor, not taken from the forecast.",
    ])


def _takeoff_words(works: FloorWorks, units: str) -> str:
    parts = [area_text(works.area_ft2, units), f"edge {length_text(works.edge_ft, units)}"]
    if works.joint_ft:
        parts.append(f"joints {length_text(works.joint_ft, units)}")
    if works.crack_ft:
        parts.append(f"cracks {length_text(works.crack_ft, units)}")
    return ", ".join([*parts, f"absorption {works.absorption}"])


def _tests(due: Sequence[OpenFact], where: PlacesDue) -> Iterator[Block]:
    yield heading("Tests still due")
    if not due:
        yield text("None: no test that is still to be done could change this finish.")
        return
    rows = [(fact.question, fact.how, sentence(where.words[fact.fact]), "") for fact in due]
    yield table(("Test", "How", "Where", "Result, date"), rows, shares=(1.2, 2, 1.3, 0.9))


def _own_rows(whole: WholeJob, outcome: FloorOutcome, works: FloorWorks) -> Iterator[Block]:
    """Yield the user's own rows that this sheet rests on."""
    catalog = whole.catalog
    chosen = [finish for finish in outcome.advice.finishes if finish.id == works.finish]
    rows = dict.fromkeys([*of_finishes(chosen, catalog), *of_works(works, catalog)])
    if rows:
        yield heading("From your own rows")
        yield points(named_with_file(rows, catalog))


def _days(whole: WholeJob, works: FloorWorks, *, drawn: bool) -> Iterator[Block]:
    """Yield the days drawn, and what they rest on."""
    if not drawn or whole.plan is None:
        return
    yield heading("Schedule")
    yield picture("days.svg", "The schedule of the job, coat by coat")
    steps = [step for step in whole.plan.steps if step.floor == works.floor]
    rests_on = [note for note in (steps[0].notes if steps else ()) if note in whole.plan.assumptions]
    if rests_on:
        yield quiet(" ".join(sentence(note.removeprefix(f"{works.floor}: ")) for note in rests_on))


def _stops(whole: WholeJob, works: FloorWorks) -> Iterator[Block]:
    units = whole.job.units
    rules = [limits_table(works, whole.catalog, units), points(stop_rules(works, whole.catalog, units))]
    yield together([heading("Stop rules"), *rules])
