"""Each cause is the first of its kind on a slab made for it."""

import pytest

from finishadvisor.advice.causes import joined_causes, with_causes
from finishadvisor.advice.patch_causes import LIKELIHOODS, weigh_patches
from finishadvisor.advice.patch_facts import Scene
from tests.advice.floors import a_patch, a_photo, day, facts_of, measured, shipped

OLD = {"date": day("2026-01-05")}
YOUNG = {"date": day("2026-08-10")}
GRAY = {"da": -1.5, "db": -3.5, "dL": 5}
"""Paler and grayer than the slab."""


def causes(*patches, grade="uneven", photo=None, **floor):
    shot = a_photo(*patches, grade=grade, **(photo or {}))
    facts = facts_of(measured(shot), **{"pour": OLD, **floor})
    return with_causes(measured(shot), facts, shipped()).photos[0]


def likely_causes(photo, facts):
    return joined_causes(weigh_patches(Scene(photo), facts, shipped()))


def ids(*patches, **more):
    return [cause.cause for cause in causes(*patches, **more).causes]


def test_every_cause_has_rules_for_and_against_it():
    ruled = {}
    for rule in shipped().cause_rules.values():
        named = rule.about["cause"]
        for cause in (named,) if isinstance(named, str) else named:
            ruled.setdefault(cause, set()).add(rule.effect)
    assert set(ruled) == set(shipped().causes)
    assert [
        id_ for id_, effects in ruled.items() if "favor" not in effects or not effects & {"against", "forbid"}
    ] == []


@pytest.mark.parametrize(
    ("cause", "patches", "floor"),
    [
        ("dirt", [a_patch("small-spot", area_ft2=0.2)] * 9, {"answers": {"wipe_changes_shade": True}}),
        ("young-salts", [a_patch("pale-lace", **GRAY)], {"pour": YOUNG, "answers": {"white_salts": "haze"}}),
        ("young-slab", [a_patch("dark", da=0, db=0)], {"pour": {"date": day("2026-09-01")}}),
        ("chalk-or-marking", [a_patch("pale-line", dL=5)], {"answers": {"wipe_changes_shade": True}}),
        ("slurry", [a_patch("pale-lace", **GRAY)], {"last_wetting": day("2026-08-20"), "answers": {"dusting": True}}),
        ("tire-marks", [a_patch("stripe")], {"answers": {"use": "garage", "driven_on": True}}),
        ("rust-or-tannin", [a_patch("small-spot", da=4, db=5)], {"answers": {"place": "outdoors"}}),
        ("damp", [a_patch("dark-soft")], {"last_wetting": day("2026-09-18")}),
        ("sheen-not-shade", [a_patch("stripe", da=0, db=0)], {"answers": {"surface": "broom"}}),
    ],
)
def test_causes_that_washing_or_waiting_removes(cause, patches, floor):
    found = causes(*patches, **floor)
    assert cause in [one.cause for one in found.causes]
    assert found.advice == "hold"


@pytest.mark.parametrize(
    ("cause", "patch", "floor"),
    [
        ("efflorescence", a_patch("pale-lace", **GRAY), {"answers": {"white_salts": "returning"}}),
        ("hard-trowel", a_patch("edge-band", da=0, db=0),
         {"answers": {"surface": "hard-steel-trowel", "place": "indoors"}}),
        ("power-trowel-circles", a_patch("ring"), {"answers": {"surface": "light-steel-trowel"}}),
        ("bull-float-bands", a_patch("stripe", da=0, db=0), {"answers": {"surface": "broom"}}),
        ("water-in-load", a_patch("large-side", dL=6),
         {"load": [{"name": "a"}, {"name": "b", "water_added_gal": 8}]}),
        ("load-boundary", a_patch("large-side", outline_ft=[(10, 0), (20, 0), (20, 20), (10, 20)]),
         {"load": [{"name": "a", "boundary": [[10, 0], [10, 20]]}]}),
        ("calcium-chloride", a_patch("dark"), {"answers": {"calcium_chloride_in_mix": True}}),
        ("poly-or-burlap", a_patch("dark-line"), {"answers": {"slab_curing": "poly"}}),
        ("curing-compound", a_patch("pale", dL=5), {"answers": {"slab_curing": "resin-compound"}}),
        ("bleed-water", a_patch("pale", dL=5), {"answers": {"dusting": True, "scratch_hardness_mohs": 3}}),
    ],
)  # fmt: skip
def test_causes_that_stay_in_the_slab(cause, patch, floor):
    likely = {one.cause: one.likelihood for one in causes(patch, **floor).causes}
    assert likely.get(cause) in {"likely", "very-likely"}, likely


def test_bands_and_rings_are_not_taken_for_each_other():
    floated = {"surface": "float"}
    assert "bull-float-bands" not in ids(a_patch("ring"), answers=floated)
    assert "power-trowel-circles" not in ids(a_patch("stripe"), answers=floated)
    assert "bull-float-bands" not in ids(a_patch("stripe", da=4, db=5), answers={"surface": "light-steel-trowel"})


def test_light_that_the_photo_leaves_open():
    found = causes(a_patch("large-side"), photo={"caveats": ("step-or-shadow",)})
    assert (found.causes[0].cause, found.causes[0].likelihood, found.advice) == ("light-not-slab", "likely", "hold")
    assert "light-not-slab" not in ids(a_patch("large-side"))


def test_a_shadow_that_was_taken_out_still_leaves_a_doubt():
    assert "light-not-slab" in ids(a_patch("pale", dL=4), photo={"caveats": ("shadow-removed",)})


def test_what_can_be_removed_is_told_first():
    found = likely_causes(
        a_photo(a_patch("ring", area_ft2=30), a_patch("small-spot", area_ft2=0.3)),
        facts_of(pour=OLD, answers={"wipe_changes_shade": True, "surface": "light-steel-trowel"}),
    )  # fmt: skip
    removable = [one.row.removable for one in found]
    assert removable == sorted(removable, reverse=True)
    points = {one.row.id: one.points for one in found}
    assert points["power-trowel-circles"] > points["dirt"]
    assert found[0].row.id == "dirt"


def test_a_cause_tells_its_signs_its_check_and_what_to_do():
    (cause,) = [one for one in causes(a_patch("ring")).causes if one.cause == "power-trowel-circles"]
    assert cause.because == ("Rings or arcs 2 to 5 ft across",)
    assert cause.check
    assert cause.do


def test_likelihoods_are_of_the_closed_list():
    found = causes(a_patch("ring"), a_patch("dark-soft"), a_patch("large-side"), last_wetting=day("2026-09-18"))
    assert found.causes
    assert {one.likelihood for one in found.causes} <= set(LIKELIHOODS)


def test_what_a_rule_forbids_is_not_named():
    cars = {"traffic": "cars"}
    assert "tire-marks" in ids(a_patch("stripe"), answers=cars)
    assert "tire-marks" not in ids(a_patch("stripe"), answers={**cars, "driven_on": False})


@pytest.mark.parametrize(
    ("grade", "patches", "advice"),
    [
        ("even", [], "go"), ("nearly-even", [a_patch("ring")], "go"), ("slightly-uneven", [], "hold"),
        ("uneven", [a_patch("ring")], "change"), ("uneven", [a_patch("hue", dL=0, da=0.1, db=4)], "hold"),
    ],
)  # fmt: skip
def test_go_hold_or_change(grade, patches, advice):
    assert causes(*patches, grade=grade, answers={"surface": "float"}).advice == advice


def test_what_may_be_washed_off_is_washed_before_the_finish_is_changed():
    rings_and_spots = a_patch("ring", area_ft2=30), a_patch("small-spot", area_ft2=0.3)
    assert causes(*rings_and_spots, answers={"surface": "float", "wipe_changes_shade": False}).advice == "change"
    assert causes(*rings_and_spots, answers={"surface": "float", "wipe_changes_shade": True}).advice == "hold"
    only_possible = causes(a_patch("ring"), answers={"surface": "light-steel-trowel"})
    assert [(one.cause, one.likelihood) for one in only_possible.causes] == [
        ("sheen-not-shade", "possible"), ("power-trowel-circles", "very-likely"),
    ]  # fmt: skip
    assert only_possible.advice == "hold"


def test_refused_photos_stay_as_they_are():
    refused = a_photo().model_copy(update={"refused": ("blurred",), "grade": None, "patches": None})
    explained = with_causes(measured(refused), facts_of(), shipped())
    assert explained.photos[0] == refused
    assert explained.together is None


def test_what_photos_say_together_is_explained_too():
    together = a_photo(a_patch("ring"), photo="together")
    explained = with_causes(measured(a_photo(), together=together), facts_of(pour=OLD), shipped())
    assert [one.cause for one in explained.together.causes] == ["power-trowel-circles"]
    assert explained.photos[0].causes == ()


def test_what_was_measured_across_a_boundary_and_over_time_weighs_in():
    """Facts as the photos give them: a step where a load ends, marks that faded."""
    side, dark = a_patch("large-side"), a_patch("dark", da=0, db=0)
    load = {"answers": {"load_water_added": True}}

    def points(patch, cause, **fact):
        facts = {**facts_of(pour={"date": day("2026-07-13")}, **load), **fact}
        found = likely_causes(a_photo(patch), facts)
        return next((one.points for one in found if one.row.id == cause), 0)

    for cause in ("load-boundary", "water-in-load"):
        stepped, none = (points(side, cause, shade_step_at_load_boundary=found) for found in (True, False))
        assert stepped >= none + 3
    faded, stayed = (points(dark, "young-slab", shade_fades=faded) for faded in (True, False))
    assert faded >= stayed + 3  # one that stayed is no longer even possible
