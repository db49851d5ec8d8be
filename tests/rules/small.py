"""Small random catalogs, for what must hold whatever the rules are."""

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from finishadvisor.advice.verdict import verdict_of
from finishadvisor.catalog.models import Catalog, Fact, Rule
from finishadvisor.records.finding import FactValue, Finding
from finishadvisor.rules.evaluate import try_rules
from finishadvisor.rules.facts import complete

SOURCE = {"id": "common-practice", "from_memory": True}
DOMAINS: Mapping[str, tuple[FactValue, ...]] = {
    "word": ("a", "b", "c"),
    "flag": (True, False),
    "number": (1, 2, 3),
}
FACT_TYPES = {"w1": "word", "w2": "word", "f1": "flag", "f2": "flag", "n1": "number"}
FINISHES = {"clear": {"film": frozenset({"tight"})}, "none": {"film": frozenset({"none"})}}


@dataclass(frozen=True)
class Small:
    """A random catalog and what is known of a floor."""

    facts: Mapping[str, Fact]
    rules: tuple[Rule, ...]
    answers: Mapping[str, FactValue]

    def catalog(self) -> Catalog:
        tables: dict[str, Any] = {name: {} for name in Catalog.__struct_fields__ if name != "own_rows"}
        return Catalog(**tables | {"facts": self.facts, "rules": {rule.id: rule for rule in self.rules}})

    def findings(self, finish: str, answers: Mapping[str, FactValue | None]) -> tuple[Finding, ...]:
        return try_rules(self.rules, FINISHES[finish], complete(answers, self.facts), self.facts)

    def verdict(self, finish: str, answers: Mapping[str, FactValue | None]) -> str:
        return verdict_of(self.findings(finish, answers), complete(answers, self.facts), self.catalog())

    def completions(self, *, may_stay_open: bool) -> Iterator[dict[str, FactValue | None]]:
        """Yield every way to answer what is not answered, or some of it where answers `may_stay_open`."""
        unknown = [name for name in self.facts if name not in self.answers]
        stay = (None,) if may_stay_open else ()
        for values in itertools.product(*((*DOMAINS[FACT_TYPES[name]], *stay) for name in unknown)):
            yield {**self.answers, **dict(zip(unknown, values, strict=True))}


@st.composite
def leaves(draw: st.DrawFn) -> dict[str, Any]:
    name = draw(st.sampled_from(sorted(FACT_TYPES)))
    domain = DOMAINS[FACT_TYPES[name]]
    if FACT_TYPES[name] == "number":
        return {name: {draw(st.sampled_from(["below", "at_most", "at_least", "above"])): draw(st.sampled_from(domain))}}
    return {name: draw(st.one_of(st.sampled_from(domain), st.lists(st.sampled_from(domain), min_size=1, max_size=2)))}


def conditions(depth: int = 2) -> st.SearchStrategy[dict[str, Any]]:
    if depth == 0:
        return leaves()
    inner = conditions(depth - 1)
    return st.one_of(
        leaves(),
        st.builds(lambda one, other: {**one, **other}, inner, inner),
        st.builds(lambda one: {"not": one}, inner),
        st.builds(lambda branches: {"any_of": branches}, st.lists(inner, min_size=1, max_size=2)),
    )


@st.composite
def rules(draw: st.DrawFn, number: int) -> Rule:
    effect = draw(st.sampled_from(["forbid", "forbid", "hold", "require", "caution", "favor", "against"]))
    about = draw(
        st.sampled_from([{"all": "finishes"}, {"film": "tight"}, {"film": ["tight", "none"]}, {"film": "none"}])
    )
    return Rule.model_validate({
        "id": f"rule-{number}",
        "about": about,
        "when": draw(conditions()),
        "effect": effect,
        "work_item": "sweep" if effect == "require" else None,
        "because": "so it is",
        "source": SOURCE,
    })


@st.composite
def facts(draw: st.DrawFn) -> dict[str, Fact]:
    """Five facts; the second word may follow from the first word and a flag."""
    rows = {}
    for name, kind in FACT_TYPES.items():
        follows = []
        if name == "w2" and draw(st.booleans()):
            follows = draw(
                st.lists(
                    st.fixed_dictionaries({
                        "when": st.sampled_from([{"w1": "a"}, {"f1": True}, {"not": {"w1": "b"}}, {}]),
                        "value": st.sampled_from(DOMAINS["word"]),
                    }),
                    max_size=2,
                )
            )
        rows[name] = Fact.model_validate({
            "id": name, "label": name, "kind": draw(st.sampled_from(["choice", "gate"])), "type": kind,
            "values": DOMAINS["word"] if kind == "word" else None, "question": "?", "how": "look",
            "effort_hours": draw(st.sampled_from([0, 1])), "follows": follows, "source": SOURCE,
        })  # fmt: skip
    return rows


@st.composite
def smalls(draw: st.DrawFn) -> Small:
    known = draw(st.sets(st.sampled_from(sorted(FACT_TYPES)), max_size=3))
    return Small(
        facts=draw(facts()),
        rules=tuple(draw(rules(number)) for number in range(draw(st.integers(1, 4)))),
        answers={name: draw(st.sampled_from(DOMAINS[FACT_TYPES[name]])) for name in sorted(known)},
    )
