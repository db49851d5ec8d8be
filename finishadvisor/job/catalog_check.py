"""What a job names of the catalog: answers to facts, finishes, materials, weights."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Final, Protocol

from finishadvisor.catalog.models import Catalog, Fact
from finishadvisor.catalog.supplies import WorkItem
from finishadvisor.errors import JobError, nearest_of
from finishadvisor.job.document import Floor, Job
from finishadvisor.job.entries import shown
from finishadvisor.job.folder import JOB_FILE


def check_against_catalog(job: Job, catalog: Catalog) -> None:
    """Refuse whatever the job names that the catalog does not have: answers, finishes, materials, weights.

    Raises:
        JobError: something named is not there; `mistakes` lists all.
    """
    lines = [
        *(f"weights, {_unknown(name, catalog.criteria, 'is nothing that is weighed')}"
          for name in job.weights if name not in catalog.criteria),
        *(f"price {number}, material: {_unknown(price.material, catalog.materials, 'is not a material')}"
          for number, price in enumerate(job.prices, start=1) if price.material not in catalog.materials),
        *(f"weights, {name}: {weight:g} is below zero; a weight is zero or more."
          for name, weight in job.weights.items() if weight < 0),
    ]  # fmt: skip
    for floor in job.floors:
        lines += [*_answers(floor, catalog.facts), *_named_by_floor(floor, catalog)]
    _refuse(lines)


def answer_mistake(fact: Fact, value: str | float | bool) -> str | None:
    """Return why a value does not answer a fact, None when it does."""
    if fact.type == "flag":
        return (
            None if isinstance(value, bool) else f"{shown(value)} is not allowed; write true or false, without quotes."
        )
    if fact.type == "word":
        allowed = fact.values or ()
        if isinstance(value, str) and (value in allowed or not allowed):
            return None
        nearest = nearest_of(str(value), allowed)
        return f"{shown(value)} is not allowed; write one of: {', '.join(allowed)}.{nearest}"
    return _number_mistake(fact, value)


def _number_mistake(fact: Fact, value: str | float | bool) -> str | None:
    """Return why a value is not a number that the fact takes, None when it is."""
    unit = f" {fact.unit}" if fact.unit else ""
    if isinstance(value, bool | str):
        return f"{shown(value)} is not allowed; write a number{' in' + unit if unit else ''}, without quotes."
    if fact.least is not None and value < fact.least:
        return f"{value:g} is out of range; it must be at least {fact.least:g}{unit}."
    if fact.most is not None and value > fact.most:
        return f"{value:g} is out of range; it must be at most {fact.most:g}{unit}."
    return None


def _answers(floor: Floor, facts: Mapping[str, Fact]) -> Iterator[str]:
    here = f"floor {shown(floor.name)}, answers"
    for name, value in floor.answers.items():
        fact = facts.get(name)
        if fact is None:
            nearest = nearest_of(name, facts) or " The ids of all facts are listed in docs/facts.md."
            yield f"{here}: {shown(name)} is not a fact.{nearest}"
            continue
        mistake = answer_mistake(fact, value)
        if mistake:
            yield f"{here}, {name}: {mistake}"


def _named_by_floor(floor: Floor, catalog: Catalog) -> Iterator[str]:
    finishes, materials = catalog.finishes, catalog.materials
    chemistries = {"unknown", *(material.chemistry for material in materials.values())}
    named: list[tuple[str, str, Iterable[str] | Mapping[str, _Named], str]] = []
    if floor.decision:
        named.append(("decision, finish", floor.decision.finish, finishes, "is not a finish"))
    for number, mock_up in enumerate(floor.mock_ups, start=1):
        named.append((f"mock_up {number}, finish", mock_up.finish, finishes, "is not a finish"))
        named.append((f"mock_up {number}, material", mock_up.material, materials, "is not a material"))
    for number, used in enumerate(floor.used, start=1):
        named.append((f"used {number}, material", used.material, materials, "is not a material"))
    tasks = frozenset(task_items(catalog)) if floor.done else frozenset()
    for number, done in enumerate(floor.done, start=1):
        named.append((f"done {number}, task", plain_task(done.task, tasks), tasks, "is not a task"))
    for number, layer in enumerate(floor.layers_down, start=1):
        named.append((f"layer_down {number}, material", layer.material, chemistries, "is not a kind of material"))
    for where, name, allowed, what in named:
        if name not in set(allowed):
            yield f"floor {shown(floor.name)}, {where}: {_unknown(name, allowed, what)}"


def task_items(catalog: Catalog) -> Mapping[str, WorkItem]:
    """Return the work item of every task that a finish may have, by the task's id: work items, and coats of layers."""
    coats = {
        f"{layer.name}-coat-{coat}": catalog.work_items[layer.work_item]
        for finish in catalog.finishes.values()
        for layer in finish.layers
        for coat in range(1, layer.coats + 1)
    }
    return {**catalog.work_items, **coats}


def plain_task(task: str, tasks: Collection[str]) -> str:
    """Return a task's id without what tells it from another of its kind: "vacuum-2", "screen-...-before-top-coat-1"."""
    head, _, number = task.rpartition("-")
    plain = [task, task.partition("-before-")[0], *([head] if number.isdigit() else [])]
    return next((each for each in plain if each in tasks), task)


_MOST_LISTED: Final = 30
_SOME: Final = 9


class _Named(Protocol):
    """A row that a person may know by its name."""

    @property
    def name(self) -> str: ...


def _unknown(name: str, allowed: Iterable[str] | Mapping[str, _Named], what: str) -> str:
    """Return the end of a line for a name that is not there: the nearest one, else all, or some where they are many."""
    by_name = {row.name.casefold(): id_ for id_, row in allowed.items()} if isinstance(allowed, Mapping) else {}
    if id_ := by_name.get(name.casefold()):
        return f"{shown(name)} is a name; write its id, {shown(id_)}."
    names = sorted(allowed)
    every = f" Write one of: {', '.join(names)}."
    some = f" Write one of the {len(names)} that there are, such as {', '.join(names[:: len(names) // _SOME + 1])}."
    return f"{shown(name)} {what}.{nearest_of(name, names) or (every if len(names) <= _MOST_LISTED else some)}"


def _refuse(lines: Iterable[str]) -> None:
    mistakes = [f"{JOB_FILE}: {line}" for line in lines]
    if mistakes:
        raise JobError(*mistakes)
