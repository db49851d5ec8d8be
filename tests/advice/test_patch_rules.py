"""Every rule that asks for a place, a form or the whole slab speaks where it should, and not beside it."""

import pytest

from finishadvisor.advice.patch_causes import OF_THE_SLAB
from finishadvisor.advice.patch_facts import OF_EACH_PATCH
from finishadvisor.records.comparison import Comparison, Mottling, SeenTwice
from finishadvisor.rules.conditions import facts_in, truth
from tests.advice.floors import a_photo, shipped
from tests.advice.marked_floor import GONE, MOTTLED, PALE_GRAY, SHEEN, TROWELED, TWICE, YOUNG, about, box

STAYED = {**TWICE, "together": a_photo(box(3, 3, 4, 4), photo="together")}
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
