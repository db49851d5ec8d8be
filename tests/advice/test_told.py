import datetime

from finishadvisor.advice.advise import advise_floor
from finishadvisor.advice.told import before_the_pour, cautions_for, none_fits, out_of_reach
from finishadvisor.advice.verdict import judge
from finishadvisor.catalog.models import OutsideKind
from finishadvisor.records.works import FloorWorks
from tests.advice.floors import CHOICE, ON, a_catalog, a_fact, a_job, a_rule, shipped

FACTS = [
    a_fact("hot", yes="it is washed down hot", no="it is not washed down hot"), a_fact("pour_ahead"),
    a_fact("age_days", kind="gate", type_="number", unit="days", label="slab age"),
]  # fmt: skip


def outside(*rows):
    return {id_: OutsideKind(id=id_, when=when, sentence=text, source=CHOICE) for id_, when, text in rows}


def judged(rules, facts, kinds=()):
    catalog = a_catalog(FACTS, rules).model_copy(update={"outside_kinds": outside(*kinds)})
    whole = {**dict.fromkeys(fact.id for fact in FACTS), **facts}
    return [judge(finish, whole, catalog) for finish in catalog.finishes.values()], whole, catalog


ALL_OUT = [a_rule("forbid", {"hot": True})]


# --- none fits -----------------------------------------------------------------------------------------------------


def test_none_fits_only_where_all_are_ruled_out():
    assert none_fits(*judged(ALL_OUT, {"hot": False})) is None
    assert none_fits(*judged(ALL_OUT, {})) is None


def test_none_fits_names_what_would():
    kinds = [("mortar", {"hot": True}, "A urethane mortar would."), ("other", {"hot": False}, "Something else.")]
    told = none_fits(*judged(ALL_OUT, {"hot": True}, kinds))
    assert told == "None of the finishes here fits this floor. A urethane mortar would."


def test_none_fits_with_a_kind_that_is_still_open():
    rules = [a_rule("forbid", {"pour_ahead": False})]
    kinds = [("mortar", {"hot": True}, "a urethane mortar would.")]
    told = none_fits(*judged(rules, {"pour_ahead": False}, kinds))
    assert told == "None of the finishes here fits this floor. If it is washed down hot: a urethane mortar would."


def test_none_fits_without_any_kind_gives_the_reason():
    told = none_fits(*judged(ALL_OUT, {"hot": True}))
    assert told.endswith("What rules out most of them: because of r.")


# --- before the pour, cautions ---------------------------------------------------------------------------------------


def test_before_the_pour_is_told_only_while_it_lies_ahead():
    order = ["bare", "repellent"]
    judgements, ahead, catalog = judged([], {"pour_ahead": True})
    told = before_the_pour(judgements, ahead, catalog, order)
    assert told[0].startswith(catalog.finishes["bare"].before_the_pour[0])
    assert "(Unsealed (bare))" in told[0]
    assert before_the_pour(judgements, {**ahead, "pour_ahead": False}, catalog, order) == ()


def test_rules_of_the_pour_are_told_there_and_not_among_the_cautions():
    rules = [a_rule("caution", {"pour_ahead": True}, "mix"), a_rule("caution", {"hot": True}, "heat")]
    judgements, ahead, catalog = judged(rules, {"pour_ahead": True, "hot": True})
    assert "because of mix." in before_the_pour(judgements, ahead, catalog, ["bare"])
    assert "because of heat." not in before_the_pour(judgements, ahead, catalog, ["bare"])
    cautions = cautions_for(judgements, ["bare"], catalog)
    assert "because of heat." in cautions
    assert "because of mix." not in cautions


def test_what_is_ruled_out_asks_nothing_of_the_pour():
    rules = [a_rule("forbid", {"pour_ahead": True}, about={"finish": "bare"})]
    judgements, facts, catalog = judged(rules, {"pour_ahead": True})
    told = before_the_pour(judgements, facts, catalog, ["repellent"])
    assert not any("Unsealed (bare)" in sentence for sentence in told)
    assert told


def test_cautions_name_the_finishes_where_they_are_few():
    rules = [
        a_rule("caution", {"hot": True}, "few", about={"finish": ["bare", "repellent"]}),
        a_rule("caution", {"hot": True}, "all"), a_rule("caution", {"hot": False}, "unmet"),
    ]  # fmt: skip
    judgements, _, catalog = judged(rules, {"hot": True})
    told = cautions_for(judgements, ["repellent"], catalog)
    assert set(told[:2]) == {
        "because of few. (Unsealed (bare); Penetrating sealer (silane/siloxane))", "because of all.",
    }  # fmt: skip
    assert not any("unmet" in sentence for sentence in told)
    assert catalog.cautions["read-data-sheet"].sentence in told


def test_of_many_finishes_three_are_named_and_the_others_counted():
    ids = ["bare", "repellent", "enhancer", "densified", "acrylic-water", "acrylic-solvent"]
    rules = [a_rule("caution", {"hot": True}, "many", about={"finish": ids})]
    judgements, _, catalog = judged(rules, {"hot": True})
    told = cautions_for(judgements, ["repellent"], catalog)
    names = "Unsealed (bare); Penetrating sealer (silane/siloxane); Penetrating color enhancer; and 3 more"
    assert told[0] == f"because of many. ({names})"


def test_what_a_usual_caution_says_too_is_told_once():
    rules = [a_rule("caution", {"hot": True}, "short", restates="overspray")]
    judgements, _, catalog = judged(rules, {"hot": True})
    assert "because of short." not in cautions_for(judgements, ["repellent"], catalog)
    assert "because of short." in cautions_for(judgements, ["bare"], catalog)


def test_the_usual_cautions_begin_with_what_can_kill():
    judgements, _, catalog = judged([], {})
    told = cautions_for(judgements, ["repellent", "acrylic-solvent"], catalog)
    of = {id_: row.sentence for id_, row in catalog.cautions.items()}
    wanted = [of[id_] for id_ in ("read-data-sheet", "flammable-solvent", "low-rooms", "slippery-wet", "overspray")]
    assert [sentence for sentence in told if sentence in wanted] == wanted


# --- change of finish ------------------------------------------------------------------------------------------------


def begun(**more):
    job = a_job(decision={"finish": "repellent"}, **more)
    judgements, _, catalog = judged([a_rule("forbid", {}, about={"family": "polish"})], {})
    return out_of_reach(job.floors[0], judgements, catalog)


def test_a_finish_that_is_begun_tells_what_is_lost_and_what_is_left():
    reach, lost = begun(layer_down=[{"material": "silane-siloxane"}])
    assert "is begun; from here can still be reached:" in reach
    assert "Densified" in lost
    assert "Densified" not in reach
    assert "Polished" not in reach
    assert "Penetrating color enhancer" in lost


def test_material_used_begins_a_finish():
    used = {"layer": "repellent", "area_ft2": 100, "used": 1, "date": ON, "material": "silane-siloxane"}
    assert begun(used=[used]) == begun(layer_down=[{"material": "silane-siloxane"}])


def test_nothing_is_lost_before_a_finish_is_begun():
    assert begun() == ()
    assert begun(layer_down=[{"material": "unknown"}]) == ()


def test_a_changed_finish_tells_what_the_layers_down_leave():
    reach, lost = begun(layer_down=[{"material": "acrylic"}])
    assert reach.startswith("On the slab lies acrylic; from here can still be reached: ")
    assert "Clear acrylic, solvent-borne" in reach
    assert "Penetrating sealer" not in reach
    assert "Penetrating sealer" in lost
    assert "Unsealed (bare)" in lost
    assert "Polished, cream cut" in lost


def test_layers_that_make_up_one_finish_begin_it():
    reach, lost = begun(layer_down=[{"material": "dye"}, {"material": "acrylic"}])
    assert reach.startswith("Dye and seal is begun; ")
    assert "Acrylic cure-and-seal" in lost
    flake_or_clear, _ = begun(layer_down=[{"material": "polyaspartic"}])
    assert flake_or_clear.startswith("On the slab lies polyaspartic; ")
    assert "Full flake" in flake_or_clear


# --- the whole advice ------------------------------------------------------------------------------------------------


def advise(rules, facts, works=None, job=None, kinds=()):
    judgements, whole, catalog = judged(rules, facts, kinds)
    job = job or a_job()
    return advise_floor(job, job.floors[0], whole, judgements, {}, {}, {}, works or {}, catalog, ON)


def test_every_finish_is_there_in_rank_order_those_that_do_not_suit_last():
    advice = advise([a_rule("forbid", {"hot": True}, about={"film": "tight"})], {"hot": True})
    ranks = [finish.rank for finish in advice.finishes]
    count = sum(finish.verdict == "suits" for finish in advice.finishes)
    assert ranks == [*range(1, count + 1), *[None] * (len(ranks) - count)]
    assert {finish.id for finish in advice.finishes} == set(shipped().finishes)
    assert all(finish.score is None for finish in advice.finishes if finish.rank is None)
    assert advice.winner_stability is not None


def test_where_nothing_suits_nothing_is_ranked():
    advice = advise(ALL_OUT, {"hot": True}, kinds=[("mortar", {}, "A urethane mortar would.")])
    assert {finish.rank for finish in advice.finishes} == {None}
    assert advice.none_fits
    assert advice.winner_stability is None
    assert advice.find_out_next == ()


def test_holds_have_their_date():
    advice = advise([a_rule("hold", {"age_days": {"below": 28}})], {"age_days": 20})
    until = ON + datetime.timedelta(days=8)
    assert advice.finishes[0].conditions == (f"hold until {until.isoformat()}, when the slab is 28 days old",)


def test_reasons_are_what_is_met_and_what_is_open_and_bears_on_the_verdict():
    rules = [
        a_rule("caution", {"hot": True}, "met"), a_rule("caution", {"age_days": {"below": 9}}, "open-caution"),
        a_rule("hold", {"age_days": {"below": 9}}, "open-hold"), a_rule("forbid", {"hot": False}, "not-met"),
    ]  # fmt: skip
    assert {one.rule for one in advise(rules, {"hot": True}).finishes[0].reasons} == {"met", "open-hold"}
    out = advise([*rules, a_rule("forbid", {"hot": True}, "out")], {"hot": True})
    assert {one.rule for one in out.finishes[0].reasons} == {"met", "out"}


def test_added_work_has_the_extent_of_the_works_and_says_when_it_is_only_possible():
    from finishadvisor.works.make import make_works

    rules = [
        a_rule("require", {"hot": True}, "met", work_item="degrease"),
        a_rule("require", {"age_days": {"below": 9}}, "open", work_item="honor-joints"),
    ]
    job = a_job(outline={"rectangle": [{"x": 20, "y": 10}]})
    judgements, whole, catalog = judged(rules, {"hot": True})
    works: dict[str, FloorWorks] = {
        one.finish: make_works(job.floors[0], catalog.finishes[one.finish], one.findings, whole, catalog)
        for one in judgements
    }
    certain, possible = advise(rules, {"hot": True}, works, job).finishes[0].adds
    assert (certain.work_item, certain.extent, certain.unit) == ("degrease", 200, "ft²")
    assert certain.why == "because of met"
    assert possible.why == "because of open (if slab age is below 9 days)"
    without, _ = advise(rules, {"hot": True}).finishes[0].adds
    assert (without.work_item, without.extent) == ("degrease", 0)


def test_find_out_next_names_what_can_change():
    advice = advise([a_rule("forbid", {"hot": True}, about={"finish": "bare"})], {})
    assert [(one.fact, one.could_change) for one in advice.find_out_next] == [("hot", ("bare",))]
    last = advice.finishes[-1]
    assert (last.id, last.verdict, last.rank) == ("bare", "cannot-tell", len(shipped().finishes))


def test_advice_of_a_shipped_floor_keeps_the_contract():
    import jsonschema

    from finishadvisor.advice.derive import derive_facts
    from tests.contracts.schemas import contract

    job = a_job(answers={"place": "indoors", "use": "workshop", "sun": "none", "winter": "no-frost"})
    catalog = shipped()
    facts = derive_facts(job, job.floors[0], catalog, ON, None)
    judgements = [judge(finish, facts, catalog) for finish in catalog.finishes.values()]
    advice = advise_floor(job, job.floors[0], facts, judgements, {}, {}, {}, {}, catalog, ON)
    jsonschema.validate({"floors": [advice.as_json()]}, contract("advise"))
    assert advice.before_the_pour


def test_before_the_pour_nobody_is_asked_how_old_the_slab_is():
    rules = [a_rule("hold", {"age_days": {"below": 28}}), a_rule("forbid", {"hot": True}, "b")]
    asked = {ahead: {one.fact for one in advise(rules, {"pour_ahead": ahead}).find_out_next} for ahead in (True, False)}
    assert asked == {True: {"hot"}, False: {"hot", "age_days"}}


def test_of_the_pour_the_best_finishes_and_the_decided_one_are_told():
    ahead = {"pour_ahead": True}
    few = advise([], ahead).before_the_pour
    named = {id_ for id_, row in shipped().finishes.items() if any(row.name in line for line in few)}
    best = {one.id for one in advise([], ahead).finishes[:3]}
    assert named == best
    decided = a_job(decision={"finish": "polished-dyed"})
    assert any("dye stops at every one" in line for line in advise([], ahead, job=decided).before_the_pour)
