"""What photos leave open and say when compared: only where it applies, with sizes and what settles it."""

import pytest

from finishadvisor.job.document import Photo
from finishadvisor.papers.evenness_words import compared_sentences, open_questions
from finishadvisor.records.comparison import Comparison, LoadStep, MockUpDifference, ShadeChange, UntoldStep
from finishadvisor.records.evenness import Evenness, Lighting
from tests.advice.floors import a_patch, a_photo

CARDS = tuple({"at": (10.0 * n, 10.0)} for n in range(5))


def lit(*patches, taken: float = 0.5, ratio: float = 1.1, **more) -> Evenness:
    return a_photo(*patches, lighting=Lighting(ratio=ratio, taken_as_light_L=taken, weakened_beyond_ft=4.0), **more)


def test_an_evenly_lit_photo_of_a_patch_leaves_nothing_open() -> None:
    assert open_questions(lit(a_patch("dark-soft")), Photo(file="a.jpg")) == ()
    assert open_questions(Evenness(photo="a.jpg", refused=("blurred",)), None) == ()


@pytest.mark.parametrize(("cards", "settled"), [(0, False), (1, False), (3, False), (4, True), (5, True)])
def test_a_drift_is_told_with_its_size_unless_cards_settle_it(cards, settled) -> None:
    photo = Photo.model_validate({"file": "a.jpg", "sheet": CARDS[:cards]})
    told = open_questions(lit(taken=6.4), photo)
    assert (told == ()) is settled
    assert all("6.4 L*" in one and "gray cards at the middle and the corners" in one.lower() for one in told)


def test_a_drift_is_open_again_where_the_cards_could_not_be_used() -> None:
    photo = Photo.model_validate({"file": "a.jpg", "sheet": CARDS})
    assumed = lit(taken=6.4).model_copy(update={"level": "assumed"})
    assert len(open_questions(assumed, photo)) == 1


def test_a_wall_band_is_open_only_where_the_light_is_shaped() -> None:
    (told,) = open_questions(lit(a_patch("edge-band", da=3), ratio=1.6), None)
    assert "one 3 ft in" in told
    assert open_questions(lit(a_patch("edge-band", da=3), ratio=1.1), None) == ()


def test_sheen_is_open_for_bands_of_the_slab_s_own_color() -> None:
    (told,) = open_questions(lit(a_patch("stripe", da=0.2, db=-0.4)), None)
    assert "opposite end" in told
    assert open_questions(lit(a_patch("stripe", da=0.2, db=-4)), None) == ()
    (told,) = open_questions(lit(caveats=("glare-left-out",)), None)
    assert "opposite end" in told


def a_step(**more) -> LoadStep:
    plain = {"load": "first", "photo": "a.jpg", "length_ft": 17, "step_lightness": -4, "de00": 4.1, "error_lab": 0.2,
             "elsewhere_de00": 0.3, "found": True}  # fmt: skip
    return LoadStep.model_validate({**plain, **more})


def a_change(**more) -> ShadeChange:
    plain = {"before": "a.jpg", "after": "b.jpg", "days": 28, "seen_ft2": 200, "changed_share": 0.12, "fading": True,
             "whole_slab_de00": None}  # fmt: skip
    return ShadeChange.model_validate({**plain, **more})


def test_steps_changes_and_mock_ups_are_told_in_the_job_s_units() -> None:
    compared = Comparison(
        load_steps=(a_step(), a_step(found=False, de00=0.4)),
        changes=(a_change(), a_change(fading=False), a_change(fading=False, changed_share=0.004, whole_slab_de00=2.0)),
        mock_ups=(MockUpDifference(slab="a.jpg", mock_up="m.jpg", de00=4.9),
                  MockUpDifference(slab="a.jpg", mock_up="n.jpg", de00=None)),
    )  # fmt: skip
    step, none, fades, worse, stays, differs, unknown = compared_sentences(compared, "metric")
    assert "CIEDE2000 4.1 along 5.18 m" in step
    assert "lighter on its left" in step
    assert none.startswith("No step of shade where")
    assert "12 % of the 18.6 m²" in fades
    assert "marks are fading" in fades
    assert "gray cards in both photos" in fades
    assert "does not fade" in worse
    assert "the marks stay" in stays
    assert "typical shade changed by CIEDE2000 2" in stays
    assert "4.9" in differs
    assert "cannot be told" in unknown
    assert compared_sentences(None, "us") == ()


def test_a_load_that_ends_between_two_photos_is_told_as_open_with_what_settles_it() -> None:
    compared = Comparison(untold_steps=(UntoldStep(load="first truck", photos=("west.jpg", "east.jpg")),))
    (told,) = compared_sentences(compared, "us")
    assert told.startswith('Whether the shade steps where "first truck" ends cannot be told')
    assert "west.jpg and east.jpg meet there" in told
    assert "gray card in both" in told.lower()
