"""The causes of each patch: what its size, its form and its place say, and how they add up on the floor."""

import pytest

from finishadvisor.advice.causes import with_causes
from finishadvisor.advice.marks import photo_facts
from finishadvisor.advice.patch_causes import OF_THE_SLAB, patch_causes
from finishadvisor.advice.patch_facts import OF_EACH_PATCH, Scene, patch_facts
from finishadvisor.records.comparison import Comparison, Mottling, SeenTwice
from finishadvisor.rules.conditions import facts_in, truth
from tests.advice.floors import a_job, a_patch, a_photo, day, facts_of, measured, reading, shipped

OLD = {"date": day("2026-01-05")}
YOUNG = {"date": day("2026-08-10")}
ROOM = {
    "outline": {
        "rectangle": [{"x": 20, "y": 20}],
        "joint": [{"kind": "control", "start": [10, 0], "end": [10, 20]}],
    },
    "load": [{"name": "a", "boundary": [[0, 12], [20, 12]]}],
    "reading": [reading("sheet-test", "dry", "2026-09-10", place=(5, 5))],
    "photo": [{"file": "a.jpg", "size": [20, 20]}],
}
"""Twenty feet square: a sawcut across the middle, a load that ends 12 ft up, a sheet test 5 ft in."""
TROWELED = {"surface": "light-steel-trowel", "place": "indoors"}


def box(x, y, width, length, kind="dark", share=1.0, **more):
    """A patch that fills so much of its box."""
    outline = [(x, y), (x + width, y), (x + width, y + length), (x, y + length)]
    return a_patch(
        kind,
        x_ft=x,
        y_ft=y,
        width_ft=width,
        length_ft=length,
        area_ft2=share * width * length,
        outline_ft=outline,
        **more,
    )


def floor_of(**floor):
    return a_job(**floor).floors[0]


def about(patch, *others, compared=None, together=None, on_plan=True, caveats=(), **floor):
    """Everything that the rules ask of a patch."""
    written = {"pour": OLD, **(ROOM if on_plan else {}), **floor}
    photo = a_photo(patch, *others, caveats=caveats)
    evenness = measured(photo, together=together).model_copy(update={"compared": compared})
    scene = Scene(photo, floor_of(**written), evenness)
    return {**facts_of(evenness, **written), **photo_facts([photo]), **patch_facts(patch, scene, shipped())}


# --- the facts of a patch ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("patch", "fact", "there"),
    [
        (box(0.2, 2, 1.2, 14), "mark_at_edge", True), (box(6, 2, 1.2, 14), "mark_at_edge", False),
        (box(3, 0, 5, 5), "mark_at_edge", False),  # touches the wall, and reaches far into the floor
        (box(9.4, 2, 0.6, 16), "mark_along_joint", True), (box(4, 2, 6, 16), "mark_along_joint", False),
        (box(0, 12, 20, 8), "mark_at_load_end", True), (box(0, 2, 20, 3), "mark_at_load_end", False),
        (box(4, 4, 1.5, 1.5), "mark_at_test", True), (box(5.8, 4, 1.5, 1.5), "mark_at_test", True),
        (box(14, 4, 1.5, 1.5), "mark_at_test", False),
        (box(4, 4, 2, 2), "mark_square", True), (box(4, 4, 2, 2, share=0.78), "mark_square", False),
        (box(4, 4, 2, 4.1), "mark_square", False),
    ],
)  # fmt: skip
def test_what_a_patch_lies_at(patch, fact, there):
    assert about(patch)[fact] is there


def test_places_on_a_turned_photo_are_those_on_the_plan():
    turned = {"photo": [{"file": "a.jpg", "size": [20, 20], "turned_deg": 90, "origin_on_plan": [20, 0]}]}
    along_x = box(2, 9.5, 16, 0.8)  # across the photo, along the sawcut on the plan
    assert about(along_x)["mark_along_joint"] is False
    assert about(along_x, **turned)["mark_along_joint"] is True


def test_without_a_plan_a_place_is_unknown_except_at_the_edge_of_the_photo():
    known = about(box(0.2, 2, 1.2, 14), on_plan=False, photo=[{"file": "a.jpg", "size": [20, 20]}])
    assert known["mark_at_edge"] is True
    assert [known[name] for name in ("mark_along_joint", "mark_at_load_end", "mark_at_test")] == [None] * 3
    assert about(box(0.2, 2, 1.2, 14), on_plan=False)["mark_at_edge"] is None


def test_edges_of_a_floor_with_a_cut_out():
    pillar = {"rectangle": [{"x": 20, "y": 20}], "cut_outs": [[[8, 8], [12, 8], [12, 12], [8, 12]]]}
    assert about(box(12.1, 8, 0.8, 4), outline=pillar)["mark_at_edge"] is True
    assert about(box(14.1, 8, 0.8, 4), outline=pillar)["mark_at_edge"] is False


def test_length_and_width_of_a_patch():
    told = about(box(2, 3, 0.5, 6))
    assert told["mark_long_ft"] == pytest.approx(6.0, abs=0.1)
    assert told["mark_wide_ft"] == pytest.approx(0.5, abs=0.02)
    assert told["mark_slender"] == pytest.approx(12, rel=0.03)


TWICE = {"photo": [{"file": "a.jpg", "size": [20, 20]}, {"file": "b.jpg", "size": [20, 20]}]}


def test_a_mark_stays_where_all_photos_together_show_it():
    here = box(3, 3, 4, 4, dL=-5)
    same, elsewhere, paler = box(4, 4, 4, 4, dL=-4), box(14, 14, 4, 4, dL=-4), box(4, 4, 4, 4, dL=4)
    for other, stays in ((same, True), (elsewhere, False), (paler, False)):
        assert about(here, together=a_photo(other, photo="together"), **TWICE)["mark_stays"] is stays
    once = {
        "photo": [{"file": "a.jpg", "size": [20, 20]}, {"file": "b.jpg", "size": [20, 9], "origin_on_plan": [20, 0]}]
    }
    assert about(here, together=a_photo(same, photo="together"), **once)["mark_stays"] is None
    assert about(here, **TWICE)["mark_stays"] is None


# --- every rule that asks for them ------------------------------------------------------------------------------------

SHEEN = {"compared": Comparison(seen_twice=SeenTwice(seen_ft2=400, turned_ft2=30, moved_ft2=0))}
MOTTLED = {"compared": Comparison(mottling=(Mottling(photo="a.jpg", lightness=1.2),))}
GONE = {**TWICE, "together": a_photo(photo="together")}
STAYED = {**TWICE, "together": a_photo(box(3, 3, 4, 4), photo="together")}
PALE_GRAY = {"dL": 5, "da": -1.5, "db": -3.5}
TESTED = {"answers": {"test_patches_made": True}}
LAIN = {"answers": {"lain_on": True}}
FOOT = box(3, 3, 0.4, 1.0, "small-spot")
DOUBT = {"caveats": ("moved-with-light",)}
OPENED = {**DOUBT, "answers": {"place": "indoors", "sun": "part"}}
FLOATED = {"answers": {"surface": "float"}}
RULES = {
    "foot-size-marks": (FOOT, [FOOT] * 3, {}, (FOOT, [FOOT] * 2, {})),
    "broad-and-pale-unlike-dirt": (box(3, 3, 4, 5, dL=4), [], {}, (box(3, 3, 4, 4.9, dL=4), [], {})),
    "as-wide-as-a-tire": (box(3, 3, 0.7, 6), [], {"answers": {"traffic": "cars"}},
                          (box(3, 3, 1.2, 6), [], {"answers": {"traffic": "cars"}})),
    "wider-than-a-tire": (box(3, 3, 2.2, 9), [], {}, (box(3, 3, 1.9, 9), [], {})),
    "square-where-things-lay": (box(3, 3, 2, 2), [], LAIN, (box(3, 3, 2, 2), [], {})),
    "square-mark": (box(3, 3, 2, 2), [], {}, (box(3, 3, 0.5, 0.5), [], {})),
    "a-test-was-made-there": (box(4, 4, 1, 1), [], {}, (box(14, 4, 1, 1), [], {})),
    "square-like-a-test": (box(3, 3, 4, 4), [], {}, (box(3, 3, 5, 5), [], {})),
    "square-and-tests-made": (box(3, 3, 4, 4), [], TESTED, (box(3, 3, 5, 5), [], TESTED)),
    "dark-and-rich-like-a-wet-sample": (box(3, 3, 2, 2, da=1, db=3), [], {}, (box(3, 3, 2, 2, da=0, db=0), [], {})),
    "tests-lie-elsewhere": (box(14, 4, 1, 3), [], {}, (box(14, 4, 1, 1), [], {})),
    "too-large-for-a-test": (box(3, 3, 6, 7), [], {}, (box(3, 3, 6, 6), [], {})),
    "dark-along-a-joint": (box(9.4, 2, 0.6, 16), [], {}, (box(6, 2, 0.6, 16), [], {})),
    "edge-dried-first": (box(0.2, 2, 1, 14, dL=4), [], {"pour": YOUNG}, (box(0.2, 2, 1, 14, dL=4), [], {})),
    "sun-dried-first": (box(0.2, 2, 1, 14, dL=4), [], {"pour": YOUNG, "answers": {"sun": "part"}},
                        (box(0.2, 2, 1, 14, dL=4), [], {"pour": YOUNG, "answers": {"sun": "none"}})),
    "pale-is-not-damp": (box(6, 2, 1, 14, dL=4), [], {}, (box(0.2, 2, 1, 14, dL=4), [], {})),
    "gone-in-another-photo": (box(3, 3, 4, 4), [], GONE, (box(3, 3, 4, 4), [], STAYED)),
    "stays-in-another-photo": (box(3, 3, 4, 4), [], STAYED, (box(3, 3, 4, 4), [], GONE)),
    "seen-alike-from-elsewhere": (box(3, 3, 4, 4), [], STAYED, (box(3, 3, 4, 4), [], GONE)),
    "not-there-in-another-photo": (box(3, 3, 4, 4), [], GONE, (box(3, 3, 4, 4), [], STAYED)),
    "gone-between-two-photos": (box(3, 3, 4, 4), [], GONE, (box(3, 3, 4, 4), [], STAYED)),
    "gone-where-light-moved": (box(3, 3, 4, 4), [], {**GONE, **DOUBT}, (box(3, 3, 4, 4), [], GONE)),
    "turns-over-and-is-gone": (box(3, 3, 4, 4), [], {**GONE, **SHEEN}, (box(3, 3, 4, 4), [], {**STAYED, **SHEEN})),
    "tint-at-the-edge": (box(0.2, 2, 1, 14, "hue"), [], {}, (box(6, 2, 1, 14, "hue"), [], {})),
    "light-told-apart": (box(6, 2, 1, 14, "hue"), [], STAYED,
                         (box(0.2, 2, 1, 14, "hue"), [], STAYED)),
    "edge-under-a-window": (box(0.2, 2, 1, 14, dL=4), [], OPENED, (box(6, 2, 1, 14, dL=4), [], OPENED)),
    "turns-over": (box(3, 3, 4, 4), [], SHEEN, (box(3, 3, 4, 4), [], {})),
    "turns-over-on-a-worked-surface": (box(3, 3, 4, 4), [], {**SHEEN, "answers": TROWELED},
                                       (box(3, 3, 4, 4), [], {**SHEEN, **FLOATED})),
    "does-not-turn-over": (box(3, 3, 4, 4), [], {"answers": {"sheen_found": False}}, (box(3, 3, 4, 4), [], SHEEN)),
    "pale-along-a-joint": (box(9.4, 2, 0.6, 16, **PALE_GRAY), [], {}, (box(6, 2, 0.6, 16, **PALE_GRAY), [], {})),
    "pale-beside-a-cut": (box(9.4, 2, 0.6, 16, dL=5), [], {}, (box(6, 2, 0.6, 16, dL=5), [], {})),
    "salts-at-the-foot-of-the-wall": (box(0.2, 2, 1, 14, **PALE_GRAY), [], {"answers": {"below_grade": True}},
                                      (box(6, 2, 1, 14, **PALE_GRAY), [], {"answers": {"below_grade": True}})),
    "within-reach-of-the-hand-trowel": (box(0.2, 0, 2, 20), [], {"answers": TROWELED},
                                        (box(0.2, 0, 2.6, 20), [], {"answers": TROWELED})),
    "dark-at-a-joint-is-no-trowel": (box(9.4, 2, 0.6, 16), [], {}, (box(6, 2, 0.6, 16), [], {})),
    "as-wide-as-a-bull-float": (box(3, 2, 3, 16), [], FLOATED, (box(3, 2, 2, 16), [], FLOATED)),
    "not-long-enough-for-a-band": (box(3, 2, 4, 6), [], FLOATED, (box(3, 2, 3, 16), [], FLOATED)),
    "water-and-ends-there": (box(0, 12, 20, 8), [], {"answers": {"load_water_added": True}},
                             (box(0, 2, 20, 3), [], {"answers": {"load_water_added": True}})),
    "water-but-elsewhere": (box(0, 2, 20, 3), [], {}, (box(0, 12, 20, 8), [], {})),
    "ends-where-a-load-ends": (box(0, 12, 20, 8), [], {}, (box(0, 2, 20, 3), [], {})),
    "ends-elsewhere": (box(0, 2, 20, 3), [], {}, (box(0, 12, 20, 8), [], {})),
    "mottled-under-a-wet-cover": (box(3, 3, 4, 4), [], {**MOTTLED, "answers": {"slab_curing": "wet"}},
                                  (box(3, 3, 4, 4), [], {"answers": {"slab_curing": "wet"}})),
    "mottled-under-poly": (box(3, 3, 4, 4), [], {**MOTTLED, "answers": {"slab_curing": "poly"}},
                           (box(3, 3, 4, 4), [], {**MOTTLED, "answers": {"slab_curing": "none"}})),
    "mottled-under-compound": (box(3, 3, 4, 4), [], {**MOTTLED, "answers": {"slab_curing": "resin-compound"}},
                               (box(3, 3, 4, 4), [], {"answers": {"slab_curing": "resin-compound"}})),
    "mottled-while-young": (box(3, 3, 4, 4), [], {**MOTTLED, "pour": YOUNG}, (box(3, 3, 4, 4), [], MOTTLED)),
}  # fmt: skip
"""By rule: a patch, its like beside it and a floor on which it speaks; and the nearest on which it does not."""


def test_every_rule_that_asks_for_a_place_a_form_or_the_whole_slab_is_tried():
    asks = {rule.id for rule in shipped().cause_rules.values() if facts_in(rule.when) & (OF_EACH_PATCH | OF_THE_SLAB)}
    assert asks == set(RULES)


@pytest.mark.parametrize("rule_id", RULES)
def test_a_rule_speaks_where_it_should_and_not_beside_it(rule_id):
    patch, others, floor, (near, near_others, near_floor) = RULES[rule_id]
    when = shipped().cause_rules[rule_id].when
    assert truth(when, about(patch, *others, **floor)) is True
    assert not truth(when, about(near, *near_others, **near_floor))


def test_a_slab_just_below_the_limit_is_not_called_mottled():
    less = Comparison(mottling=(Mottling(photo="a.jpg", lightness=1.19),))
    assert about(box(3, 3, 4, 4), compared=less)["mottled"] is False
    assert about(box(3, 3, 4, 4))["mottled"] is None


def test_noise_between_two_photos_is_no_sheen_and_no_proof_against_it():
    noise = Comparison(seen_twice=SeenTwice(seen_ft2=400, turned_ft2=8, moved_ft2=20))
    assert about(box(3, 3, 4, 4), compared=noise)["sheen_found"] is None


# --- what a finisher would say of one floor ---------------------------------------------------------------------------


def explained(*patches, compared=None, together=None, caveats=(), **floor):
    written = {"pour": OLD, **ROOM, **floor}
    photo = a_photo(*patches, caveats=caveats)
    evenness = measured(photo, together=together).model_copy(update={"compared": compared})
    return with_causes(evenness, facts_of(evenness, **written), shipped(), floor_of(**written))


def first(causes):
    return causes[0].cause if causes else None


def test_each_patch_has_its_own_cause():
    shot = explained(
        box(0.2, 0, 1.3, 20, "edge-band", da=0, db=0),
        box(9.4, 2, 0.6, 16, "pale-line", **PALE_GRAY),
        box(4.2, 4.2, 1.5, 1.5, "dark", dL=-8, da=1, db=3),
        answers=TROWELED | {"place": "indoors"},
    ).photos[0]
    wall, cut, square = shot.patch_causes
    assert {one.cause: one.likelihood for one in wall}["hard-trowel"] == "very-likely"
    assert (first(cut), cut[0].likelihood) == ("slurry", "likely")
    assert (first(square), square[0].likelihood) == ("test-patch", "very-likely")
    assert all(one.check and one.do and one.because for few in shot.patch_causes for one in few)
    assert shot.advice == "hold"


def test_the_causes_of_the_floor_are_those_of_its_patches_and_say_of_which():
    shot = explained(
        box(0.2, 0, 1.3, 20, "edge-band", da=0, db=0), box(18.5, 0, 1.3, 20, "edge-band", da=0, db=0),
        box(9.4, 2, 0.6, 16, "pale-line", **PALE_GRAY), answers=TROWELED,
    ).photos[0]  # fmt: skip
    every = {one.cause for few in shot.patch_causes for one in few}
    assert [one.cause for one in shot.causes] == list(dict.fromkeys(one.cause for one in shot.causes))
    assert {one.cause for one in shot.causes} == every
    (trowel,) = [one for one in shot.causes if one.cause == "hard-trowel"]
    assert "Along the edge and within reach of the hand trowel (patches 1 and 2)" in trowel.because
    (slurry,) = [one for one in shot.causes if one.cause == "slurry"]
    assert "Pale along a joint, where the slurry of the saw dried (patch 3)" in slurry.because


def test_of_many_patches_the_largest_are_named_and_the_rest_counted():
    spots = [box(3 + 0.6 * n, 3, 0.4, 1.0, "small-spot") for n in range(9)]
    (dirt,) = [one for one in explained(*spots).photos[0].causes if one.cause == "dirt"]
    assert "Several marks of the size of a foot (patches 1, 2, 3, 4 and 5 more)" in dirt.because


def test_a_patch_has_few_causes_and_what_can_be_removed_comes_first():
    wet_and_driven = explained(
        box(3, 2, 0.8, 12, "stripe", da=0.0, db=0.0), pour={"date": day("2026-08-30")}, last_wetting=day("2026-09-18"),
        answers={**TROWELED, "use": "garage", "driven_on": True, "slab_curing": "poly", "calcium_chloride_in_mix": True}
    ).photos[0]  # fmt: skip
    (few,) = wet_and_driven.patch_causes
    assert len(few) == 4
    removable = [shipped().causes[one.cause].removable for one in few]
    assert removable == sorted(removable, reverse=True)
    assert few[0].cause == "tire-marks"


def test_sheen_that_two_photos_found_is_told_even_where_no_patch_is_left():
    together = a_photo(photo="together")
    found = explained(box(3, 3, 4, 4), together=together, **SHEEN, **TWICE, answers=TROWELED)
    (sheen,) = found.together.causes
    assert (sheen.cause, sheen.likelihood, found.together.advice) == ("sheen-not-shade", "likely", "hold")
    assert "photograph again" in sheen.do.lower()


def test_a_mark_that_another_photo_does_not_show_is_light_or_sheen_and_no_stain():
    spot = box(3, 3, 0.4, 1.0, "small-spot", da=-1.5, db=-3.5)
    spots = [spot] * 9
    stain = explained(*spots).photos[0].patch_causes[0]
    assert {one.cause: one.likelihood for one in stain}["dirt"] == "very-likely"
    gone = explained(*spots, **GONE, caveats=("moved-with-light",)).photos[0].patch_causes[0]
    assert {one.cause: one.likelihood for one in gone} == {"light-not-slab": "likely", "dirt": "possible"}
    assert first(gone) == "light-not-slab"


def test_what_stays_in_every_photo_is_slab_although_something_else_moved():
    stayed = a_photo(box(3, 3, 4, 4), photo="together", caveats=("moved-with-light",))
    joined = explained(box(3, 3, 4, 4), together=stayed, **TWICE).together
    assert "light-not-slab" not in {one.cause for few in joined.patch_causes for one in few}


def test_mottling_has_causes_of_its_own_without_any_patch():
    told = explained(**MOTTLED, answers={"slab_curing": "wet"}).photos[0]
    assert [(one.cause, one.likelihood) for one in told.causes] == [("poly-or-burlap", "possible")]
    assert told.patch_causes == ()
    assert explained(answers={"slab_curing": "wet"}).photos[0].causes == ()


def test_nothing_is_said_of_a_patch_that_nothing_speaks_for():
    odd = box(14, 15, 3, 2, "hue", 0.6, dL=0, da=0.1, db=-4)
    assert explained(odd, answers={"wipe_changes_shade": False}).photos[0].patch_causes == ((),)


def test_causes_of_patches_are_told_without_a_floor_too():
    few = patch_causes(Scene(a_photo(a_patch("ring"))), facts_of(pour=OLD), shipped())
    assert [[one.cause for one in own] for own in few] == [["power-trowel-circles"]]


def test_the_printed_record_has_no_new_key():
    printed = explained(box(3, 3, 4, 4)).as_json()["photos"][0]
    assert "patch_causes" not in printed
    assert set(printed["causes"][0]) == {"cause", "likelihood", "because", "check", "do"}
