"""The verdict table, and that a settled verdict stands whatever else is found out."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.advice.verdict import judge, judge_finishes
from tests.advice.floors import a_catalog, a_fact, a_finish, a_rule, shipped

FACTS = [
    a_fact("use_a"), a_fact("use_b"), a_fact("test_a", kind="gate"), a_fact("test_b", kind="gate"),
    a_fact("rh", kind="gate", type_="number", unit="%", least=0, most=100, label="slab RH"),
]  # fmt: skip
UNKNOWN = dict.fromkeys(fact.id for fact in FACTS)


def verdict(effect, when, **known):
    catalog = a_catalog(FACTS, [a_rule(effect, when)])
    return judge(a_finish(), {**UNKNOWN, **known}, catalog).verdict


@pytest.mark.parametrize("effect", ["caution", "favor", "against"])
@pytest.mark.parametrize("value", [True, False, None])
def test_caution_favor_and_against_never_change_a_verdict(effect, value):
    assert verdict(effect, {"use_a": True}, use_a=value) == "suits"


@pytest.mark.parametrize("effect", ["forbid", "hold", "require"])
def test_a_rule_that_is_not_met_changes_nothing(effect):
    assert verdict(effect, {"use_a": True}, use_a=False) == "suits"


@pytest.mark.parametrize(
    ("effect", "on_choice", "on_gate", "met"),
    [
        ("forbid", "cannot-tell", "suits-if", "does-not-suit"),
        ("hold", "suits-if", "suits-if", "suits-if"),
        ("require", "suits-if", "suits-if", "suits-if"),
    ],
)
def test_the_table(effect, on_choice, on_gate, met):
    assert verdict(effect, {"use_a": True}) == on_choice
    assert verdict(effect, {"test_a": True}) == on_gate
    assert verdict(effect, {"use_a": True}, use_a=True) == met
    assert verdict(effect, {"test_a": True}, test_a=True) == met


def test_a_test_that_makes_the_choice_moot_lets_the_finish_suit_if():
    assert verdict("forbid", {"use_a": True, "test_a": True}) == "suits-if"
    assert verdict("forbid", {"any_of": [{"use_a": True}, {"test_a": True}]}) == "cannot-tell"
    assert verdict("forbid", {"not": {"any_of": [{"use_a": True}, {"test_a": True}]}}) == "suits-if"
    assert verdict("forbid", {"not": {"use_a": True, "test_a": True}}) == "cannot-tell"
    assert verdict("forbid", {"not": {"use_a": True, "test_a": True}}, use_a=True) == "suits-if"


def test_one_met_forbid_outweighs_everything():
    rules = [a_rule("forbid", {"use_a": True}, "a"), a_rule("forbid", {"use_b": True}, "b")]
    judged = judge(a_finish(), {**UNKNOWN, "use_b": True}, a_catalog(FACTS, rules))
    assert judged.verdict == "does-not-suit"
    assert [finding.met for finding in judged.findings] == ["unknown", "yes"]


def test_all_finishes_together_are_judged_as_each_by_itself():
    catalog = shipped()
    facts = {**dict.fromkeys(catalog.facts), "place": "indoors", "use": "garage", "slab_rh_pct": 82.0}
    alone = tuple(judge(finish, facts, catalog) for finish in catalog.finishes.values())
    assert judge_finishes(facts, catalog) == alone


# --- whatever is found out later -----------------------------------------------------------------------------------

FLAGS = ("use_a", "use_b", "test_a", "test_b")
CONDITION = st.recursive(
    st.dictionaries(st.sampled_from(FLAGS), st.booleans(), min_size=1, max_size=2),
    lambda inside: st.one_of(
        st.builds(lambda when: {"not": when}, inside),
        st.builds(lambda branches: {"any_of": branches}, st.lists(inside, min_size=1, max_size=2)),
    ),
    max_leaves=3,
)
RULES = st.lists(
    st.tuples(st.sampled_from(["forbid", "hold", "require", "caution", "favor"]), CONDITION), min_size=1, max_size=4
)
SOME = st.fixed_dictionaries({name: st.sampled_from([None, True, False]) for name in FLAGS})


@settings(max_examples=150, deadline=None)
@given(RULES, SOME)
def test_no_completion_changes_a_settled_verdict(plain_rules, some):
    rules = [a_rule(effect, when, f"r{n}") for n, (effect, when) in enumerate(plain_rules)]
    catalog = a_catalog(FACTS, rules)
    first = judge(a_finish(), {**UNKNOWN, **some}, catalog).verdict
    backwards = a_catalog(FACTS, rules[::-1])
    assert judge(a_finish(), {**UNKNOWN, **some}, backwards).verdict == first
    if first not in {"suits", "does-not-suit"}:
        return
    unknown = [name for name in FLAGS if some[name] is None]
    for values in itertools.product([True, False], repeat=len(unknown)):
        whole = {**UNKNOWN, **some, **dict(zip(unknown, values, strict=True))}
        assert judge(a_finish(), whole, catalog).verdict == first


def _value(fact):
    if fact.type == "flag":
        return st.booleans()
    if fact.type == "word":
        return st.sampled_from(fact.values)
    return st.floats(fact.least, fact.most).map(lambda number: round(number, 1))


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_no_completion_changes_a_settled_verdict_of_the_shipped_catalog(data):
    catalog = shipped()
    finish = catalog.finishes[data.draw(st.sampled_from(sorted(catalog.finishes)))]
    whole = {fact.id: data.draw(_value(fact)) for fact in catalog.facts.values()}
    hidden = data.draw(st.sets(st.sampled_from(sorted(catalog.facts)), max_size=40))
    partly = {fact_id: None if fact_id in hidden else value for fact_id, value in whole.items()}
    before = judge(finish, partly, catalog).verdict
    if before in {"suits", "does-not-suit"}:
        assert judge(finish, whole, catalog).verdict == before
