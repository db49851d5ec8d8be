"""The rows of facts, rules and outside kinds: complete, in one style, and each of use."""

import pytest

from finishadvisor.catalog.models import Fact, Rule
from finishadvisor.rules.conditions import facts_in, truth
from finishadvisor.rules.facts import complete
from tests.cases.floors import catalog

FACTS = list(catalog().facts.values())
RULES = list(catalog().rules.values())


# --- facts -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: fact.id)
def test_fact_can_be_asked_and_told(fact: Fact) -> None:
    assert "?" in fact.question
    assert fact.how.endswith(".")
    assert not fact.label.endswith((".", "?"))
    assert (fact.type == "word") == bool(fact.values)
    assert (fact.type == "flag") == bool(fact.yes and fact.no)
    assert (fact.type == "number") == (fact.least is not None and fact.most is not None)
    assert 0 <= fact.effort_hours <= 100


def test_the_five_questions_asked_at_the_start_are_choices_that_cost_nothing() -> None:
    asked = [fact for fact in FACTS if fact.asked_by_new]
    assert {fact.id for fact in asked} == {"place", "use", "sun", "winter", "color_depth"}
    assert all(fact.kind == "choice" and fact.effort_hours == 0 for fact in asked)


def test_what_a_fact_follows_from_is_named() -> None:
    for fact in FACTS:
        read = {name for row in fact.follows for name in facts_in(row.when)}
        assert read <= set(fact.derived_from), fact.id


def test_every_fact_is_read() -> None:
    """By a rule, by a cause of unevenness, by an outside kind, or to derive another fact."""
    conditions = [
        row.when for rows in (catalog().rules, catalog().cause_rules, catalog().outside_kinds) for row in rows.values()
    ]
    read = {name for when in conditions for name in facts_in(when)}
    read |= {
        name
        for fact in FACTS
        for name in (*fact.derived_from, *(n for row in fact.follows for n in facts_in(row.when)))
    }
    assert sorted({fact.id for fact in FACTS} - read) == []


# --- rules -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_rule_is_told_in_one_short_sentence(rule: Rule) -> None:
    assert rule.because[0].isupper()
    assert not rule.because.endswith(".")
    assert len(rule.because) <= 150
    assert rule.source.from_memory or rule.source.id not in {"common-practice"}


def test_forbids_on_choices_hinge_on_what_is_asked_first_or_follows_from_it() -> None:
    """So that advice is of use at once: any other choice may leave only a few finishes without a verdict."""
    asked = {fact.id for fact in FACTS if fact.asked_by_new}
    choices = {fact.id for fact in FACTS if fact.kind == "choice"}
    read = {name for rule in RULES if rule.effect == "forbid" for name in facts_in(rule.when)} & choices - asked
    assert read == {
        "battery_acid",
        "below_grade",
        "hot_caustic",
        "pour_ahead",
        "slab_curing",
        "surface",
        "traffic",
        "vapor_retarder",
        "water",
    }


# --- none fits -------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("kind", "told", "not_told"),
    [
        ("urethane-mortar", {"use": "commercial-kitchen"}, {"use": "commercial-kitchen", "hot_caustic": False}),
        ("acid-resistant-lining", {"battery_acid": True}, {"battery_acid": False}),
        ("replace-or-overlay", {"scaling": "deep"}, {"scaling": "light"}),
        ("drain-first", {"hydrostatic_pressure": True}, {"hydrostatic_pressure": False}),
        (
            "dry-or-stand-off",
            {"slab_rh_pct": 80, "hydrostatic_pressure": False},
            {"slab_rh_pct": 79, "hydrostatic_pressure": False},
        ),
        (
            "remove-old-coating",
            {"layers_down": "epoxy", "layers_down_bonded": False},
            {"layers_down": "epoxy", "layers_down_bonded": True},
        ),
        ("kennel-floor", {"use": "kennel"}, {"use": "garage"}),
        (
            "flame-beside-it",
            {"place": "indoors", "ignition_sources": "cannot-be-put-out"},
            {"place": "indoors", "ignition_sources": "can-be-put-out"},
        ),
        ("ramp-of-broomed-overlay", {"use": "ramp", "place": "outdoors"}, {"use": "ramp", "water": "dry"}),
        (
            "microtopping",
            {"wished_even_color": True, "shade_grade": "uneven"},
            {"wished_even_color": True, "shade_grade": "even"},
        ),
        (
            "pavers",
            {"place": "outdoors", "winter": "frost-and-salt", "strength_psi": 4499},
            {"place": "outdoors", "winter": "frost-and-salt", "strength_psi": 4500},
        ),
    ],
)
def test_outside_kind_is_told_where_it_serves(kind: str, told: dict[str, object], not_told: dict[str, object]) -> None:
    when = catalog().outside_kinds[kind].when
    assert truth(when, complete(told, catalog().facts)) is True
    assert truth(when, complete(not_told, catalog().facts)) is False


def test_every_outside_kind_is_tried_above() -> None:
    (mark,) = test_outside_kind_is_told_where_it_serves.pytestmark
    assert {row[0] for row in mark.args[1]} == set(catalog().outside_kinds)
