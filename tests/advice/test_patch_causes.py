"""The causes of each patch, and how they add up on the floor: what a finisher would say of one."""

from finishadvisor.advice.causes import with_causes
from finishadvisor.advice.patch_causes import patch_causes
from finishadvisor.advice.patch_facts import Scene
from tests.advice.floors import a_patch, a_photo, day, facts_of, measured, shipped
from tests.advice.marked_floor import GONE, MOTTLED, OLD, PALE_GRAY, ROOM, SHEEN, TROWELED, TWICE, box, floor_of


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
