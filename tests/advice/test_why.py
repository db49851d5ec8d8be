from finishadvisor.advice.verdict import judge
from finishadvisor.advice.why import explain, fact_in_words
from tests.advice.floors import ON, a_catalog, a_fact, a_finish, a_rule, shipped

FACTS = [
    a_fact("hot", yes="it is washed down hot", no="it is not washed down hot"),
    a_fact("slab_rh_pct", kind="gate", type_="number", unit="%", label="slab RH"),
    a_fact("age_days", kind="gate", type_="number", unit="days", label="slab age"),
    a_fact("layer", type_="word", values=("none", "acid-stain"), label="layer on the slab"),
]
RULES = [
    a_rule("caution", {"hot": False}, "not-met"), a_rule("hold", {"slab_rh_pct": {"at_least": 80}}, "open"),
    a_rule("hold", {"age_days": {"below": 28}}, "young"),
    a_rule("caution", {"hot": True}, "met-caution"), a_rule("require", {"hot": True}, "met-require"),
    a_rule("favor", {}, "always"), a_rule("forbid", {"hot": True}, "elsewhere", about={"finish": "bare"}),
]  # fmt: skip


def why(on=None, **known):
    catalog = a_catalog(FACTS, RULES).model_copy(update={"own_rows": ("rule open (mine.toml)",)})
    facts = {"hot": True, "slab_rh_pct": None, "layer": "none", "age_days": 30, **known}
    return explain("Floor", judge(a_finish(), facts, catalog), facts, catalog, on)


def test_every_rule_that_was_tried_what_is_met_first():
    assert [one.finding.rule for one in why().tried] == [
        "met-require", "met-caution", "always", "open", "young", "not-met",
    ]  # fmt: skip


def test_conditions_and_sources_in_words():
    by_rule = {one.finding.rule: one for one in why().tried}
    assert by_rule["open"].when == "slab RH is at least 80 %"
    assert by_rule["always"].when == "always"
    assert by_rule["open"].source_title == shipped().sources["common-practice"].title


def test_the_users_own_rules_are_marked():
    assert [one.finding.rule for one in why().tried if one.own] == ["open"]


def test_every_fact_that_was_read_in_words():
    assert why().facts_in_words == {
        "age_days": "slab age: 30 days", "hot": "it is washed down hot", "slab_rh_pct": "slab RH: not known",
    }  # fmt: skip


def test_values_in_words():
    hot, rh, _, layer = FACTS
    assert fact_in_words(hot, False) == "it is not washed down hot"
    assert fact_in_words(rh, 82.0) == "slab RH: 82 %"
    assert fact_in_words(layer, "acid-stain") == "layer on the slab: acid stain"
    assert fact_in_words(a_fact("plain"), True) == "plain: yes"
    assert fact_in_words(shipped().facts["traffic"], "cars") == "cars drive on the floor"


def test_the_weightiest_of_each_kind_of_reason_comes_first():
    rules = [a_rule("favor", {}, "light"), a_rule("favor", {}, "heavy", weight=3), a_rule("against", {}, "against")]
    catalog = a_catalog(FACTS, rules)
    told = explain("Floor", judge(a_finish(), {}, catalog), {}, catalog)
    assert [one.finding.rule for one in told.tried] == ["against", "heavy", "light"]


def test_a_hold_is_told_with_its_day():
    assert why(on=ON, age_days=20).conditions[0] == "hold until 2026-09-29, when the slab is 28 days old"
    assert why(age_days=20).conditions[0] == "hold until 8 more days have passed and the slab is 28 days old"
