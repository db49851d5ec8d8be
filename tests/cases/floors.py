"""Reads the floors of this folder, and judges them by the catalog's rules."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from finishadvisor.catalog.models import Fact, Finish, Material, OutsideKind, Rule
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.rules.evaluate import Subject, try_rules
from finishadvisor.rules.facts import complete

HERE = Path(__file__).parent
DATA = Path(__file__).parents[2] / "finishadvisor" / "catalog" / "data"


@dataclass(frozen=True)
class Rules:
    """What judging needs of a catalog; `rules` can be replaced by mutants."""

    facts: Mapping[str, Fact]
    finishes: Mapping[str, Finish]
    subjects: Mapping[str, Subject]
    rules: tuple[Rule, ...]
    outside_kinds: Mapping[str, OutsideKind]


@dataclass(frozen=True)
class Floor:
    """A floor with its facts, and what the trade says of it."""

    name: str
    given: Mapping[str, FactValue]
    why: str = ""
    verdicts: Mapping[str, str] = field(default_factory=dict)
    reasons: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    undecided: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    not_met: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    none_fits: str | None = None


def _rows(file: Path, table: str) -> list[dict[str, Any]]:
    return tomllib.loads(file.read_text(encoding="utf-8"))[table]


def subject_of(finish: Finish, materials: Mapping[str, Material]) -> Subject:
    """The attributes of a finish, as models.Rule lists them."""
    laid = [materials[layer.material] for layer in finish.layers]
    chemistries = [material.chemistry for material in laid if material.chemistry != "supply"]
    work = {*finish.preparation, *(item for layer in finish.layers for item in layer.before)}
    return {
        "finish": frozenset({finish.id}),
        "family": frozenset({finish.family}),
        "cover": frozenset({finish.cover}),
        "film": frozenset({finish.film}),
        "sheen": frozenset(finish.sheen),
        "deepens": frozenset({finish.deepens}),
        "layer": frozenset(chemistries),
        "top": frozenset(chemistries[-1:]),
        "first": frozenset(chemistries[:1]),
        "carrier": frozenset(material.carrier for material in laid if material.chemistry != "supply"),
        "preparation": frozenset(work),
        "caution": frozenset(caution for material in laid for caution in material.cautions),
        "material": frozenset(material.id for material in laid),
    }


@cache
def shipped() -> Rules:
    facts = {row["id"]: Fact(**row) for row in _rows(DATA / "facts.toml", "fact")}
    materials = {row["id"]: Material(**row) for row in _rows(DATA / "materials.toml", "material")}
    finishes = {row["id"]: Finish(**row) for row in _rows(DATA / "finishes.toml", "finish")}
    rules = tuple(Rule(**row) for file in sorted((DATA / "rules").glob("*.toml")) for row in _rows(file, "rule"))
    kinds = {row["id"]: OutsideKind(**row) for row in _rows(DATA / "outside_kinds.toml", "outside_kind")}
    finishes["epoxy-alone"] = _epoxy_alone(finishes)
    subjects = {finish.id: subject_of(finish, materials) for finish in finishes.values()}
    return Rules(facts, finishes, subjects, rules, kinds)


def _epoxy_alone(finishes: Mapping[str, Finish]) -> Finish:
    """A finish that a user might add: the solid epoxy without its top coat."""
    solid = finishes["epoxy-urethane-solid"]
    return solid.model_copy(update={"id": "epoxy-alone", "layers": solid.layers[:1]})


def findings(rules: Rules, finish: str, values: Mapping[str, FactValue | None]) -> tuple[Finding, ...]:
    return try_rules(rules.rules, rules.subjects[finish], values, rules.facts)


def verdict(tried: tuple[Finding, ...], facts: Mapping[str, Fact]) -> str:
    """The verdict table, read once more from the page that binds it."""
    open_forbids = [finding for finding in tried if finding.effect == "forbid" and finding.met == "unknown"]
    if any(finding.effect == "forbid" and finding.met == "yes" for finding in tried):
        return "does-not-suit"
    if any(facts[name].kind == "choice" for finding in open_forbids for name in finding.missing):
        return "cannot-tell"
    if open_forbids or any(finding.effect in {"hold", "require"} and finding.met != "no" for finding in tried):
        return "suits-if"
    return "suits"


def values_of(floor: Floor, facts: Mapping[str, Fact]) -> dict[str, FactValue | None]:
    return complete(floor.given, facts)


@cache
def floors() -> tuple[Floor, ...]:
    bases = tomllib.loads((HERE / "bases.toml").read_text(encoding="utf-8"))
    return tuple(floor for file in sorted((HERE / "floors").glob("*.toml")) for floor in _read(file, bases))


def _read(file: Path, bases: Mapping[str, Mapping[str, FactValue]]) -> Iterator[Floor]:
    for row in _rows(file, "floor"):
        like = row.pop("like", None)
        left_unknown = row.pop("unknown", [])
        given = {**(bases[like] if like else {}), **row.pop("given")}
        yield Floor(given={name: value for name, value in given.items() if name not in left_unknown}, **row)


@cache
def limits() -> tuple[tuple[str, Floor], ...]:
    """Every pair at a limit: (what is tried, a floor that holds one rule met, not met or undecided)."""
    bases = tomllib.loads((HERE / "bases.toml").read_text(encoding="utf-8"))
    found = []
    for row in _rows(HERE / "limits.toml", "limit"):
        for outcome in ("met", "not_met", "undecided"):
            for given in row.get(outcome, ()):
                facts = {**bases[row["like"]], **row.get("given", {}), **given}
                facts = {name: value for name, value in facts.items() if value != "unknown"}
                told = {row["finish"]: (row["rule"],)}
                key = "reasons" if outcome == "met" else outcome
                name = f"{row['rule']} {outcome} at {given}"
                found.append((name, Floor(name=name, given=facts, **{key: told})))
    return tuple(found)


def failures(floor: Floor, rules: Rules) -> list[str]:
    """What the rules say of a floor against what was expected; empty where they agree."""
    values = values_of(floor, rules.facts)
    named = {*floor.verdicts, *floor.reasons, *floor.undecided, *floor.not_met}
    tried = {finish: findings(rules, finish, values) for finish in sorted(named)}
    wrong = [
        f"{finish}: {verdict(tried[finish], rules.facts)}, expected {expected}"
        for finish, expected in floor.verdicts.items()
        if verdict(tried[finish], rules.facts) != expected
    ]
    for met, expected in (("yes", floor.reasons), ("unknown", floor.undecided), ("no", floor.not_met)):
        for finish, wanted in expected.items():
            found = {finding.rule for finding in tried[finish] if finding.met == met}
            wrong += [f"{finish}: rule {rule} is not met = {met}" for rule in wanted if rule not in found]
    return wrong
