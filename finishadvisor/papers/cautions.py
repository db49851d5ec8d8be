"""Which cautions go with a finish: those that the rules found for this floor, and the usual ones of its work."""

from collections.abc import Iterable, Sequence
from typing import Final

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.papers.wording import sentence
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.subject import cautions_of

IN_USE: Final = frozenset({
    "acrylic-wants-floor-finish", "acrylic-wears-outdoors", "battery-acid-on-coating", "claws-on-gloss",
    "do-not-anchor", "dye-in-part-sun", "enhancer-fades-outdoors", "epoxy-shielded-by-pigment",
    "epoxy-under-clear-in-part-sun", "film-splashed", "flake-and-small-wheels", "heat-moves-cracks",
    "heat-softens-acrylic", "hot-dark-slab-barefoot", "hot-tires-mark-acrylic-outdoors", "near-black-shows-salts",
    "near-black-shows-scratches", "no-salt-the-first-winter", "oil-on-smooth-film", "polish-splashed",
    "pool-water-on-acrylic", "rock-salt-pits-freeze", "rubber-mats-on-film", "tire-marks-on-pale",
    "wash-bay-ask-how-hot",
})  # fmt: skip
"""Rules whose cautions are about using the floor, not about making it: what the care sheet tells."""


def floor_cautions(finishes: Iterable[FinishAdvice]) -> list[str]:
    """Return what the rules warn of on this floor under these finishes, each once."""
    met = [
        finding.because
        for finish in finishes
        for finding in finish.reasons
        if finding.effect == "caution" and finding.met == "yes"
    ]
    return [sentence(because) for because in dict.fromkeys(met)]


def cautions_by_finish(finishes: Sequence[FinishAdvice]) -> list[tuple[str, list[str]]]:
    """Return what `floor_cautions` returns, grouped by the finishes that it goes with; no names: it goes with all."""
    of_each = {finish.name: floor_cautions([finish]) for finish in finishes}
    groups: dict[str, list[str]] = {}
    for caution in floor_cautions(finishes):
        names = [name for name, cautions in of_each.items() if caution in cautions]
        groups.setdefault("" if len(names) == len(of_each) else "; ".join(names), []).append(caution)
    return sorted(groups.items(), key=lambda group: group[0] != "")


def cautions_in_use(finish: FinishAdvice, own: Iterable[str]) -> list[str]:
    """Return what the rules warn of once the floor is handed over; warnings about the work stand on other papers.

    Args:
        finish: the finish as it was advised on.
        own: ids of the user's own rules, whose warnings are all told.
    """
    told = {*IN_USE, *own}
    kept = [finding for finding in finish.reasons if finding.rule in told]
    return floor_cautions([finish.model_copy(update={"reasons": tuple(kept)})])


def finish_cautions(finish: Finish, added: Iterable[str], catalog: Catalog) -> list[str]:
    """Return the usual cautions of a finish: of its materials, its work items and the work that rules add, each once.

    Args:
        finish: the finish.
        added: ids of work items that rules add on this floor.
        catalog: the catalog as this job sees it.
    """
    items = [catalog.work_items[id_] for id_ in (*finish.upkeep.recoat_preparation, *added)]
    ids = [*cautions_of(finish, catalog)]
    ids += [id_ for item in items for id_ in item.cautions]
    ids += [id_ for item in items for use in item.materials for id_ in catalog.materials[use.material].cautions]
    return sentences_of(ids, catalog)


def work_cautions(works: FloorWorks, catalog: Catalog) -> list[str]:
    """Return every caution of the tasks of a floor and of the materials that they use, each once."""
    ids = [id_ for task in works.tasks for id_ in catalog.work_items[task.work_item].cautions]
    ids += [id_ for task in works.tasks for use in task.materials for id_ in catalog.materials[use.material].cautions]
    return sentences_of(ids, catalog)


def sentences_of(ids: Iterable[str], catalog: Catalog) -> list[str]:
    """Return the sentence of each caution, each once, the data sheet's first."""
    in_order = sorted(dict.fromkeys(ids), key=lambda id_: id_ != "read-data-sheet")
    return [catalog.cautions[id_].sentence for id_ in in_order]
