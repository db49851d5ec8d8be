"""Conditions: what is refused at load, three-valued truth, what is left open."""

import pytest

from finishadvisor.catalog.models import Fact
from finishadvisor.catalog.row import SourceRef
from finishadvisor.errors import CatalogError
from finishadvisor.rules.conditions import check_condition, facts_in, truth, undecided_part

SOURCE = SourceRef(id="common-practice", from_memory=True)


def fact(fact_id: str, kind: str = "choice", **more: object) -> Fact:
    shape = {"label": fact_id, "question": "?", "how": "look", "effort_hours": 0, "source": SOURCE, "type": "word"}
    return Fact.model_validate({**shape, "id": fact_id, "kind": kind, **more})


FACTS = {
    one.id: one
    for one in (
        fact("place", values=("indoors", "covered", "outdoors")),
        fact("slab_rh_pct", "gate", type="number", unit="%", least=0, most=100, label="slab RH"),
        fact("pour_ahead", type="flag", yes="the pour lies ahead", no="the slab is poured"),
    )
}


# --- check at load ---------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("when", "words"),
    [
        ({"plaec": "indoors"}, ['no fact "plaec"', 'Did you mean "place"?']),
        ({"place": "indors"}, ["'indors'", "indoors, covered, outdoors", 'Did you mean "indoors"?']),
        ({"place": True}, ["True", "indoors, covered, outdoors"]),
        ({"place": []}, ["empty"]),
        ({"place": {"below": 3}}, ["no number"]),
        ({"slab_rh_pct": "wet"}, ["'wet'", "number"]),
        ({"slab_rh_pct": True}, ["True", "number"]),
        ({"slab_rh_pct": 120}, ["120 %", "between 0 and 100 %"]),
        ({"slab_rh_pct": {"below": 120}}, ["120 %", "between 0 and 100 %"]),
        ({"slab_rh_pct": {"bellow": 80}}, ['"bellow"', "below, at_most, at_least, above", 'Did you mean "below"?']),
        ({"slab_rh_pct": {}}, ["one lower bound"]),
        ({"slab_rh_pct": {"below": 80, "at_most": 70}}, ["one lower bound"]),
        ({"slab_rh_pct": {"at_least": 80, "below": 80}}, ["at least 80", "below 80", "at once"]),
        ({"pour_ahead": "yes"}, ["'yes'", "true or false"]),
        ({"any_of": {"place": "indoors"}}, ["any_of", "list"]),
        ({"any_of": []}, ["any_of", "list"]),
        ({"any_of": [{"place": "indors"}]}, ["'indors'"]),
        ({"not": "indoors"}, ["'indoors'", "table"]),
        ({"not": {"plaec": "indoors"}}, ['Did you mean "place"?']),
    ],
)
def test_a_wrong_condition_is_refused_in_words_that_help(when: dict[str, object], words: list[str]) -> None:
    with pytest.raises(CatalogError) as refused:
        check_condition(when, FACTS, 'my.toml, rule "mine"')
    assert str(refused.value).startswith('my.toml, rule "mine": ')
    for word in words:
        assert word in str(refused.value)


@pytest.mark.parametrize(
    "when",
    [
        {},
        {"place": "indoors"},
        {"place": ["indoors", "covered"]},
        {"slab_rh_pct": 80},
        {"slab_rh_pct": {"above": 75, "at_most": 80}},
        {"not": {"pour_ahead": True}, "any_of": [{"place": "indoors"}, {"slab_rh_pct": {"below": 50}}]},
    ],
)
def test_a_right_condition_passes(when: dict[str, object]) -> None:
    check_condition(when, FACTS, "here")


# --- truth -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("when", "values", "holds"),
    [
        ({}, {}, True),
        ({"place": "indoors"}, {"place": "indoors"}, True),
        ({"place": "indoors"}, {"place": "outdoors"}, False),
        ({"place": "indoors"}, {"place": None}, None),
        ({"place": "indoors"}, {}, None),
        ({"place": ["indoors", "covered"]}, {"place": "covered"}, True),
        ({"slab_rh_pct": {"at_least": 80}}, {"slab_rh_pct": 80}, True),
        ({"slab_rh_pct": {"above": 80}}, {"slab_rh_pct": 80}, False),
        ({"slab_rh_pct": {"below": 80}}, {"slab_rh_pct": 80}, False),
        ({"slab_rh_pct": {"at_most": 80}}, {"slab_rh_pct": 80}, True),
        ({"slab_rh_pct": {"above": 75, "below": 80}}, {"slab_rh_pct": 77.5}, True),
        ({"pour_ahead": False}, {"pour_ahead": False}, True),
        ({"place": "indoors", "pour_ahead": True}, {"pour_ahead": False}, False),
        ({"place": "indoors", "pour_ahead": True}, {"pour_ahead": True}, None),
        ({"not": {"place": "indoors"}}, {"place": "outdoors"}, True),
        ({"not": {"place": "indoors"}}, {}, None),
        ({"any_of": [{"place": "indoors"}, {"pour_ahead": True}]}, {"pour_ahead": True}, True),
        ({"any_of": [{"place": "indoors"}, {"pour_ahead": True}]}, {"pour_ahead": False}, None),
        ({"any_of": [{"place": "indoors"}, {"pour_ahead": True}]}, {"pour_ahead": False, "place": "covered"}, False),
    ],
)
def test_truth_has_three_values(when: dict[str, object], values: dict[str, object], holds: bool | None) -> None:
    assert truth(when, values) is holds


def test_facts_in_looks_into_every_branch() -> None:
    when = {"not": {"place": "indoors"}, "any_of": [{"pour_ahead": True}, {"slab_rh_pct": {"below": 5}}]}
    assert facts_in(when) == {"place", "pour_ahead", "slab_rh_pct"}


def test_only_what_is_open_is_left_of_an_undecided_condition() -> None:
    when = {"pour_ahead": False, "any_of": [{"place": "indoors"}, {"slab_rh_pct": {"at_least": 80}}]}
    values = {"pour_ahead": False, "place": "outdoors"}
    assert undecided_part(when, values) == {"any_of": [{"slab_rh_pct": {"at_least": 80}}]}


def test_nothing_is_left_of_a_decided_condition() -> None:
    assert undecided_part({"place": "indoors", "pour_ahead": True}, {"pour_ahead": False}) == {}
