"""Reads the floors of this folder, and judges them by the shipped catalog."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from finishadvisor.advice.verdict import verdict_of
from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Catalog
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.rules.evaluate import Subject, try_rules
from finishadvisor.rules.facts import complete
from finishadvisor.works.subject import finish_subject

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Case:
    """A floor with its facts, and what the trade says of it."""

    name: str
    given: Mapping[str, FactValue]
    why: str = ""
    verdicts: Mapping[str, str] = field(default_factory=dict)
    reasons: Mapping[str, Sequence[str]] = field(default_factory=dict)
    """Finish -> rules that must be met."""
    undecided: Mapping[str, Sequence[str]] = field(default_factory=dict)
    not_met: Mapping[str, Sequence[str]] = field(default_factory=dict)
    complete: bool = False
    """The reasons given are all there are: no other rule is met for the finishes named in them."""
    none_fits: str | None = None
    """The outside kind that is told because no finish suits."""

    def finishes(self) -> frozenset[str]:
        return frozenset({*self.verdicts, *self.reasons, *self.undecided, *self.not_met})

    def values(self) -> dict[str, FactValue | None]:
        return complete(self.given, catalog().facts)


@cache
def catalog() -> Catalog:
    """The shipped catalog and one finish that a user might add: the solid epoxy without its top coat."""
    shipped = load_catalog()
    solid = shipped.finishes["epoxy-urethane-solid"]
    alone = solid.model_copy(update={"id": "epoxy-alone", "layers": solid.layers[:1]})
    return shipped.model_copy(update={"finishes": {**shipped.finishes, alone.id: alone}})


@cache
def subject(finish: str) -> Subject:
    return finish_subject(catalog().finishes[finish], catalog())


def tried(
    finish: str, values: Mapping[str, FactValue | None], rows: Catalog | None = None
) -> tuple[Finding, ...]:  # fmt: skip
    return try_rules((rows or catalog()).rules.values(), subject(finish), values, catalog().facts)


def verdict(finish: str, values: Mapping[str, FactValue | None]) -> str:
    return verdict_of(tried(finish, values), values, catalog())


def disagreements(
    case: Case, finish: str, findings: Sequence[Finding], values: Mapping[str, FactValue | None], rows: Catalog
) -> list[str]:
    """Where findings say something else of a finish than the trade does; empty where they agree."""
    wrong = []
    expected = case.verdicts.get(finish)
    if expected is not None and (told := verdict_of(findings, values, rows)) != expected:
        wrong.append(f"{finish}: {told}, expected {expected}")
    met = {finding.rule: finding.met for finding in findings}
    for outcome, rules in (("yes", case.reasons), ("unknown", case.undecided), ("no", case.not_met)):
        wrong += [
            f"{finish}: rule {rule} is met: {met.get(rule)}, expected {outcome}"
            for rule in rules.get(finish, ())
            if met.get(rule) != outcome
        ]
    if case.complete and finish in case.reasons:
        others = sorted({rule for rule, told in met.items() if told == "yes"} - set(case.reasons[finish]))
        wrong += [f"{finish}: rule {rule} is met and was not expected" for rule in others]
    return wrong


def failures(case: Case) -> list[str]:
    values = case.values()
    return [
        line
        for finish in sorted(case.finishes())
        for line in disagreements(case, finish, tried(finish, values), values, catalog())
    ]


# --- files -----------------------------------------------------------------------------------------------------------


def _rows(file: Path, table: str) -> list[dict[str, Any]]:
    return tomllib.loads(file.read_text(encoding="utf-8"))[table]


@cache
def _bases() -> Mapping[str, Mapping[str, FactValue]]:
    return tomllib.loads((HERE / "bases.toml").read_text(encoding="utf-8"))


@cache
def floors() -> tuple[Case, ...]:
    """Every floor of floors/."""
    return tuple(_floor(row) for file in sorted((HERE / "floors").glob("*.toml")) for row in _rows(file, "floor"))


def _floor(row: dict[str, Any]) -> Case:
    like = row.pop("like", None)
    left_unknown = row.pop("unknown", ())
    given = {**(_bases()[like] if like else {}), **row.pop("given")}
    return Case(given={name: value for name, value in given.items() if name not in left_unknown}, **row)


@cache
def limits() -> tuple[Case, ...]:
    """Every pair of limits.toml: one case for each value at, beside or without a limit."""
    return tuple(case for row in _rows(HERE / "limits.toml", "limit") for case in _changes_told(row))


@cache
def conditions() -> tuple[Case, ...]:
    """Every row of conditions.toml: one case for each change that makes a rule speak or silences it."""
    return tuple(case for row in _rows(HERE / "conditions.toml", "condition") for case in _changes_told(row))


def _changes_told(row: Mapping[str, Any]) -> Iterator[Case]:
    for told, key in (("met", "reasons"), ("not_met", "not_met"), ("undecided", "undecided")):
        for at in row.get(told, ()):
            given = {**_bases()[row["like"]], **row.get("given", {}), **at}
            known = {name: value for name, value in given.items() if value != "not answered"}
            where = ", ".join(f"{name} {value}" for name, value in at.items()) or "as given"
            yield Case(f"{row['rule']}: {where}", known, **{key: {row["finish"]: (row["rule"],)}})
