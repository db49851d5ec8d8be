"""Which cautions go with a finish: those that the rules found for this floor, and the usual ones of its work."""

from collections.abc import Iterable

from finishadvisor.catalog.models import Catalog, Finish
from finishadvisor.papers.wording import sentence
from finishadvisor.records.advice import FinishAdvice
from finishadvisor.records.works import FloorWorks
from finishadvisor.works.subject import cautions_of


def floor_cautions(finishes: Iterable[FinishAdvice]) -> list[str]:
    """Return what the rules warn of on this floor under these finishes, each once."""
    met = [
        finding.because
        for finish in finishes
        for finding in finish.reasons
        if finding.effect == "caution" and finding.met == "yes"
    ]
    return [sentence(because) for because in dict.fromkeys(met)]


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
