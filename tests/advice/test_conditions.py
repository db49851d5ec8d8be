import datetime

from finishadvisor.advice.conditions import own_work, tell_conditions
from finishadvisor.rules.evaluate import try_rules
from finishadvisor.works.subject import finish_subject
from tests.advice.floors import a_catalog, a_fact, a_finish, a_rule

ON = datetime.date(2026, 11, 20)
FACTS = [
    a_fact("age_days", kind="gate", type_="number", unit="days", label="slab age"),
    a_fact("days_since_wetting", kind="gate", type_="number", unit="days", label="time since the slab was last wet"),
    a_fact("slab_rh_pct", kind="gate", type_="number", unit="%", label="slab RH"),
    a_fact("sheet_test", kind="gate", type_="word", values=("dry", "damp"), label="plastic sheet test"),
    a_fact(
        "layer",
        kind="gate",
        type_="word",
        values=("none", "acid-stain"),
        label="layer on the slab",
        derived_from=("layers_down",),
    ),
    a_fact("oily", kind="gate", yes="oil has soaked in", no="no oil has soaked in"),
    a_fact("retarder", yes="a retarder lies under the slab", no="no retarder lies under the slab"),
]
UNKNOWN = dict.fromkeys(fact.id for fact in FACTS)


def told(*rules, on=ON, own=(), **known):
    catalog = a_catalog(FACTS, list(rules))
    facts = {**UNKNOWN, **known}
    findings = try_rules(catalog.rules.values(), finish_subject(a_finish(), catalog), facts, catalog.facts)
    return tell_conditions(findings, facts, catalog, on, own)


def test_a_forbid_that_a_test_leaves_open():
    rule = a_rule("forbid", {"slab_rh_pct": {"at_least": 80}})
    assert told(rule) == ("only if slab RH is below 80 %",)
    assert told(a_rule("forbid", {"slab_rh_pct": {"at_least": 80}, "retarder": False}), retarder=False) == (
        "only if slab RH is below 80 %",
    )


def test_a_hold_that_days_end_has_a_date():
    rule = a_rule("hold", {"age_days": {"below": 28}})
    assert told(rule, age_days=15) == ("hold until 2026-12-03, when the slab is 28 days old",)
    assert told(rule, age_days=27, on=None) == ("hold until 1 more day has passed and the slab is 28 days old",)
    assert told(rule, age_days=28) == ()
    assert told(rule) == ("only once slab age is at least 28 days",)
    dry = a_rule("hold", {"days_since_wetting": {"at_most": 2}})
    assert told(dry, days_since_wetting=0) == (
        "hold until 2026-11-23, when the slab has been dry for more than 2 days",
    )


def test_the_test_is_named_first_and_then_what_it_is_asked_for():
    rule = a_rule("hold", {"retarder": False, "slab_rh_pct": {"at_least": 75}})
    assert told(rule) == ("only once slab RH is below 75 % (if no retarder lies under the slab)",)
    assert told(rule, retarder=False) == ("only once slab RH is below 75 %",)
    dries_on = ("only once slab RH is below 75 % (if no retarder lies under the slab)",)
    assert told(rule, slab_rh_pct=80) == dries_on
    either = {"any_of": [{"retarder": False}, {"oily": True}], "slab_rh_pct": {"at_least": 75}}
    assert told(a_rule("forbid", either), oily=False) == (
        "only if slab RH is below 75 % (if no retarder lies under the slab)",
    )


def test_either_of_two_tests_may_clear():
    rule = a_rule("hold", {"sheet_test": "damp", "slab_rh_pct": {"at_least": 75}})
    assert told(rule) == ("only once plastic sheet test is dry or slab RH is below 75 %",)


def test_what_lies_on_the_slab_is_no_test():
    rule = a_rule("hold", {"layer": "acid-stain", "slab_rh_pct": {"at_least": 75}})
    assert told(rule) == ("only once slab RH is below 75 % (if layer on the slab is acid stain)",)
    assert told(rule, layer="acid-stain", slab_rh_pct=90) == ("hold until slab RH is below 75 %",)
    assert told(a_rule("hold", {"layer": "none"}), layer="none") == ("hold until layer on the slab is acid stain",)


def test_a_hold_that_a_test_ends():
    damp = a_rule("hold", {"sheet_test": "damp"})
    assert told(damp, sheet_test="damp") == ("hold until plastic sheet test is dry",)
    assert told(damp) == ("only once plastic sheet test is dry",)


def test_a_hold_that_either_ends():
    rule = a_rule("hold", {"retarder": False, "age_days": {"below": 28}, "slab_rh_pct": {"above": 75}})
    assert told(rule, retarder=False, age_days=20, slab_rh_pct=88) == (
        "hold until 2026-11-28, when the slab is 28 days old or slab RH is at most 75 %",
    )


def test_work_that_is_required_is_told_once():
    met = a_rule("require", {"oily": True}, "a", work_item="degrease")
    again = a_rule("require", {"retarder": False}, "b", work_item="degrease")
    assert told(met, again, oily=True) == ("with this work: take oil and grease out (because of a)",)
    assert told(met, again) == (
        "with this work if oil has soaked in, or if no retarder lies under the slab: take oil and grease out",
    )
    assert told(met, again, oily=False, retarder=True) == ()


def test_work_that_may_be_needed_stands_in_one_sentence_where_there_is_much_of_it():
    rules = [
        a_rule("require", {"oily": True}, "a", work_item="degrease"),
        a_rule("require", {"retarder": False}, "b", work_item="moisture-barrier"),
        a_rule("require", {"sheet_test": "damp"}, "c", work_item="monitor-moisture"),
    ]
    assert told(*rules[:2]) == (
        "with this work if oil has soaked in: take oil and grease out",
        "with this work if no retarder lies under the slab: lay a moisture-barrier epoxy",
    )
    assert told(*rules) == (
        "with this work where a look or a test asks for it: take oil and grease out (if oil has soaked in); "
        "lay a moisture-barrier epoxy (if no retarder lies under the slab); "
        "watch moisture and salts for two weeks (if plastic sheet test is damp)",
    )


def test_work_that_is_part_of_the_finish_is_told_only_where_a_rule_is_met():
    rule = a_rule("require", {"oily": True}, work_item="protect")
    assert told(rule, own=own_work(a_finish())) == ()
    assert told(rule, own=own_work(a_finish()), oily=True) == (
        "with this work: protect walls, doors and neighbors of the work (because of r)",
    )


def test_the_same_condition_is_told_once():
    rules = [a_rule("hold", {"sheet_test": "damp"}, name) for name in "ab"]
    assert told(*rules) == ("only once plastic sheet test is dry",)


def test_what_two_rules_ask_for_is_told_once_with_both_cases():
    wet = {"sheet_test": "damp"}
    always, without = a_rule("hold", wet, "a"), a_rule("hold", {"retarder": False, **wet}, "b")
    assert told(always, without) == ("only once plastic sheet test is dry",)
    floor_by_case = told(
        a_rule("hold", {"retarder": False, **wet}, "a"), a_rule("hold", {"retarder": True, **wet}, "b")
    )
    assert floor_by_case == (
        "only once plastic sheet test is dry (if no retarder lies under the slab or a retarder lies under the slab)",
    )


def test_conditions_stand_in_the_order_of_the_facts():
    sheet, humid = a_rule("hold", {"sheet_test": "damp"}, "a"), a_rule("hold", {"slab_rh_pct": {"at_least": 75}}, "b")
    in_order = ("only once slab RH is below 75 %", "only once plastic sheet test is dry")
    assert told(sheet, humid) == told(humid, sheet) == in_order
