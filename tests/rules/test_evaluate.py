"""Rules tried on a subject: which speak of it, what they say, and what is told of facts that are open."""

from typing import Any

import pytest

from finishadvisor.catalog.load import load_catalog
from finishadvisor.catalog.models import Rule
from finishadvisor.errors import CatalogError
from finishadvisor.records.finding import Finding
from finishadvisor.rules.check import check_conditions
from finishadvisor.rules.evaluate import about_matches, try_rules
from finishadvisor.rules.facts import complete, leads
from finishadvisor.rules.open_facts import find_out_next

CATALOG = load_catalog()
FACTS = CATALOG.facts
TIGHT = {"film": frozenset({"tight"}), "layer": frozenset({"epoxy", "urethane"}), "cover": frozenset({"clear"})}


def rule(when: dict[str, Any], effect: str = "forbid", about: dict[str, Any] | None = None, **more: Any) -> Rule:
    source = {"id": "sspc-sp13", "clause": "Table 1", "from_memory": True}
    row = {"id": "mine", "about": about or {"film": "tight"}, "when": when, "effect": effect, "because": "so it is"}
    return Rule.model_validate({**row, "source": source, **more})


def finding_of(one: Rule, **values: Any) -> Finding:
    (finding,) = try_rules([one], TIGHT, complete(values, FACTS), FACTS)
    return finding


# --- about -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("about", "matches"),
    [
        ({"all": "finishes"}, True),
        ({"film": "tight"}, True),
        ({"film": "none"}, False),
        ({"film": ("none", "tight")}, True),
        ({"layer": "epoxy", "cover": "clear"}, True),
        ({"layer": "epoxy", "cover": "solid"}, False),
        ({"layer": ("acrylic", "urethane")}, True),
        ({"material": "epoxy-clear"}, False),
    ],
)
def test_every_attribute_must_match_by_any_of_its_words(about: dict[str, Any], matches: bool) -> None:
    assert about_matches(about, TIGHT) is matches


def test_a_rule_that_does_not_speak_of_the_subject_gives_no_finding() -> None:
    assert try_rules([rule({}, about={"film": "none"})], TIGHT, {}, FACTS) == ()


# --- findings --------------------------------------------------------------------------------------------------------
def test_a_finding_holds_rule_facts_and_source() -> None:
    finding = finding_of(rule({"slab_rh_pct": {"at_least": 80}, "place": "indoors"}), slab_rh_pct=85, place="indoors")
    assert finding.met == "yes"
    assert finding.facts == {"place": "indoors", "slab_rh_pct": 85}
    assert (finding.source.id, finding.source.clause, finding.source.from_memory) == ("sspc-sp13", "Table 1", True)
    assert finding.missing == ()
    assert finding.only_if is None


def test_an_undecided_forbid_tells_when_it_does_not_bind() -> None:
    finding = finding_of(rule({"slab_rh_pct": {"at_least": 80}, "place": "indoors"}), place="indoors")
    assert finding.met == "unknown"
    assert finding.missing == ("slab_rh_pct",)
    assert finding.only_if == "slab RH is below 80 %"


def test_a_fact_whose_branch_is_decided_is_not_missing() -> None:
    when = {"any_of": [{"place": "indoors", "sun": "full"}, {"slab_rh_pct": {"at_least": 80}}]}
    assert finding_of(rule(when), place="outdoors").missing == ("slab_rh_pct",)


def test_a_hold_that_is_met_tells_which_gate_must_move() -> None:
    finding = finding_of(rule({"age_days": {"below": 28}, "place": "indoors"}, "hold"), age_days=20, place="indoors")
    assert finding.met == "yes"
    assert finding.only_if == "the slab is at least 28 days old"


def test_a_hold_on_choices_alone_leaves_it_to_its_sentence() -> None:
    assert finding_of(rule({"voc_rules": "south-coast"}, "hold"), voc_rules="south-coast").only_if is None


@pytest.mark.parametrize("effect", ["caution", "favor", "against"])
def test_what_never_binds_tells_no_condition(effect: str) -> None:
    assert finding_of(rule({"sun": "full"}, effect)).only_if is None


# --- what follows ----------------------------------------------------------------------------------------------------
def test_a_kitchen_indoors_has_no_frost() -> None:
    values = complete({"use": "kitchen"}, FACTS)
    assert (values["place"], values["winter"], values["water"]) == ("indoors", "no-frost", "splashed")


def test_an_answer_wins_over_what_would_follow() -> None:
    assert complete({"use": "garage", "traffic": "feet"}, FACTS)["traffic"] == "feet"


def test_what_may_follow_in_two_ways_stays_unknown() -> None:
    # a wash bay can lie indoors or out, and only the place tells which of the rows on water is the first to hold
    assert complete({"use": "wash-bay"}, FACTS)["water"] is None
    assert complete({"use": "wash-bay", "place": "indoors"}, FACTS)["water"] == "wet"


def test_a_fact_that_follows_leads_back_to_what_a_person_can_answer() -> None:
    assert leads("traffic", complete({}, FACTS), FACTS) == {"traffic", "use"}
    assert leads("age_days", complete({}, FACTS), FACTS) == {"age_days"}


# --- find out next ---------------------------------------------------------------------------------------------------
def told(*rules: Rule, **values: Any) -> list[str]:
    known = complete(values, FACTS)
    findings = {"finish": try_rules(rules, TIGHT, known, FACTS)}
    return [one.fact for one in find_out_next(findings, known, FACTS)]


def test_a_met_forbid_makes_all_else_moot() -> None:
    forbid, hold = rule({"sun": "full"}), rule({"sounding": "hollow"}, "hold", id="other")
    assert told(forbid, hold, sun="full") == []
    assert told(forbid, hold, sun="none") == ["sounding"]


def test_cautions_ask_for_nothing() -> None:
    assert told(rule({"sounding": "hollow"}, "caution")) == []


def test_the_most_telling_fact_comes_first_then_the_cheapest() -> None:
    known = complete({}, FACTS)
    one = rule({"sounding": "hollow"}, "hold")
    two = rule({"slab_rh_pct": {"at_least": 80}, "scratch_hardness_mohs": {"below": 3}}, "hold", id="two")
    findings = {"a": try_rules([one, two], TIGHT, known, FACTS), "b": try_rules([one], TIGHT, known, FACTS)}
    next_facts = find_out_next(findings, known, FACTS)
    assert [open_fact.fact for open_fact in next_facts] == ["sounding", "scratch_hardness_mohs", "slab_rh_pct"]
    assert [open_fact.could_change for open_fact in next_facts] == [("a", "b"), ("a",), ("a",)]


def test_what_may_rule_out_is_asked_before_what_only_adds_work() -> None:
    work = rule({"curled": True}, "require", id="work", work_item="sweep")
    hold = rule({"sounding": "hollow"}, "hold", id="hold")
    forbid = rule({"slab_rh_pct": {"at_least": 80}}, "forbid", id="forbid")
    assert told(work, hold, forbid, pour_ahead=False) == ["slab_rh_pct", "sounding", "curled"]


def test_what_an_open_question_may_settle_is_asked_after_it() -> None:
    assert told(rule({"traffic": "forklifts"}, "hold")) == ["use", "traffic"]
    assert told(rule({"traffic": "forklifts"}), rule({"use": "store"}, "hold", id="other")) == ["use", "traffic"]


def test_a_test_that_settles_another_fact_comes_before_it() -> None:
    removable = rule({"shade_removable": True}, "hold")
    assert told(removable, pour_ahead=False, age_days=400) == ["wipe_changes_shade", "shade_removable"]


def test_a_test_that_an_open_question_may_make_moot_is_asked_after_it() -> None:
    if_oily = rule({"oil_in_slab": True, "rinse_ph_difference": {"above": 2}}, "hold")
    sounded = rule({"sounding": "hollow"}, "require", id="sounded", work_item="sweep")
    known = {"pour_ahead": False, "age_days": 400}
    assert told(if_oily, sounded, **known) == ["oil_in_slab", "sounding", "rinse_ph_difference"]
    assert told(if_oily, sounded, oil_in_slab=True, **known) == ["rinse_ph_difference", "sounding"]


# --- check of a catalog ----------------------------------------------------------------------------------------------
def test_the_shipped_catalog_passes() -> None:
    check_conditions(CATALOG)


@pytest.mark.parametrize(
    ("broken", "words"),
    [
        (rule({"slab_rhpct": 80}), 'rule "mine": there is no fact "slab_rhpct". Did you mean "slab_rh_pct"?'),
        (rule({}, "require"), "name the work that it adds"),
        (rule({}, "forbid", work_item="sweep"), 'only "require" adds work'),
    ],
)
def test_a_broken_rule_is_refused(broken: Rule, words: str) -> None:
    catalog = CATALOG.model_copy(update={"rules": {"mine": broken}, "own_rows": ("rule mine (own.toml)",)})
    with pytest.raises(CatalogError) as refused:
        check_conditions(catalog)
    assert words in str(refused.value)
    assert str(refused.value).startswith('own.toml, rule "mine": ')


def test_a_fact_that_follows_into_a_word_it_does_not_have_is_refused() -> None:
    place = FACTS["place"]
    broken = place.model_copy(update={"follows": (place.follows[0].model_copy(update={"value": "indors"}),)})
    with pytest.raises(CatalogError, match=r'fact "place" is \'indors\'.*Did you mean "indoors"'):
        check_conditions(CATALOG.model_copy(update={"facts": {**FACTS, "place": broken}}))


# --- holds that required work answers --------------------------------------------------------------------------------
DAMP = rule({"sheet_test": "damp"}, "hold", id="damp", answered_by="moisture-barrier")
BELOW = rule({"below_grade": True}, "require", id="below", work_item="moisture-barrier")
WASH = rule({"below_grade": True}, "require", id="wash", work_item="wash")


@pytest.mark.parametrize(
    ("rules", "known", "met"),
    [
        ([DAMP, BELOW], {"sheet_test": "damp", "below_grade": True}, "no"),
        ([BELOW, DAMP], {"sheet_test": "damp", "below_grade": True}, "no"),
        ([DAMP, BELOW], {"below_grade": True}, "no"),
        ([DAMP, BELOW], {"sheet_test": "damp", "below_grade": False}, "yes"),
        ([DAMP, BELOW], {"sheet_test": "damp"}, "yes"),
        ([DAMP, BELOW], {}, "unknown"),
        ([DAMP, WASH], {"sheet_test": "damp", "below_grade": True}, "yes"),
    ],
)
def test_a_hold_is_answered_by_work_that_another_rule_certainly_requires(rules, known, met) -> None:
    found = {one.rule: one for one in try_rules(rules, TIGHT, known, FACTS)}
    assert found["damp"].met == met
    assert ("answers it" in found["damp"].because) == (met == "no")
    if met == "no":
        assert found["damp"].only_if is None
        assert found["damp"].missing == ()


def test_work_that_is_required_of_other_finishes_only_answers_nothing() -> None:
    elsewhere = BELOW.model_copy(update={"about": {"film": "none"}})
    (found,) = try_rules([DAMP, elsewhere], TIGHT, {"sheet_test": "damp", "below_grade": True}, FACTS)
    assert found.met == "yes"
