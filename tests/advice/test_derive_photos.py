"""Facts that follow from the measured photos."""

import pytest

from finishadvisor.records.comparison import LoadStep
from tests.advice.floors import FADED, a_patch, a_photo, compared, day, facts_of, measured


def test_shade_from_the_photos():
    evenness = measured(
        a_photo(a_patch("ring", area_ft2=3), grade="nearly-even"),
        a_photo(a_patch("stripe", area_ft2=9), photo="b.jpg", grade="uneven"),
    )
    facts = facts_of(evenness, pour={"date": day("2026-01-05")})
    assert (facts["shade_grade"], facts["shade_kind"]) == ("uneven", "stripe")
    assert facts["shade_removable"] is None


def test_what_photos_say_together_stands_before_each_one():
    together = a_photo(grade="slightly-uneven")
    facts = facts_of(measured(a_photo(grade="uneven"), together=together))
    assert facts["shade_grade"] == "slightly-uneven"
    assert facts["shade_kind"] == "none"


def test_refused_photos_and_mock_ups_say_nothing():
    refused = measured(a_photo(grade="uneven").model_copy(update={"grade": None, "patches": None}))
    assert facts_of(refused, photo=[{"file": "a.jpg"}])["shade_grade"] is None
    photos = [{"file": "a.jpg", "shows": "mock-up"}]
    assert facts_of(measured(a_photo()), photo=photos)["shade_grade"] is None


def test_photos_after_preparation_take_the_place_of_older_ones():
    photos = [{"file": "a.jpg"}, {"file": "b.jpg", "shows": "after-preparation"}]
    evenness = measured(a_photo(grade="uneven"), a_photo(grade="even", photo="b.jpg"))
    assert facts_of(evenness, photo=photos)["shade_grade"] == "even"


@pytest.mark.parametrize(
    ("age", "answers", "grade", "removable"),
    [
        (59, {}, "uneven", True), (60, {}, "uneven", None), (60, {"wipe_changes_shade": True}, "uneven", True),
        (60, {"wipe_changes_shade": False}, "uneven", False), (59, {}, "even", False),
    ],
)  # fmt: skip
def test_marks_that_may_still_go(age, answers, grade, removable):
    import datetime

    pour = {"date": day("2026-09-21") - datetime.timedelta(days=age)}
    assert facts_of(measured(a_photo(grade=grade)), pour=pour, answers=answers)["shade_removable"] is removable


@pytest.mark.parametrize(
    ("light", "word"), [(37.9, "near-black"), (38, "dark"), (48, "medium"), (63.9, "medium"), (64, "pale")]
)
def test_color_depth_from_a_photo_with_a_card(light, word):
    photo = a_photo(grade="even").model_copy(update={"typical_lab": (light, 1, 2)})
    assert facts_of(measured(photo))["color_depth"] == word
    assert facts_of(measured(photo), answers={"color_depth": "dark"})["color_depth"] == "dark"
    guessed = photo.model_copy(update={"level": "assumed"})
    assert facts_of(measured(guessed))["color_depth"] is None


def test_a_step_of_shade_where_a_load_ends():
    side = a_patch("large-side", outline_ft=[(14.8, 0), (26, 0), (26, 18), (15.2, 18)], area_ft2=190)
    boundary = {"name": "first", "boundary": [[14.5, 0], [15.5, 18]]}
    assert facts_of(measured(a_photo(side)), load=[boundary])["shade_step_at_load_boundary"] is True
    elsewhere = {"name": "first", "boundary": [[5, 0], [5, 18]]}
    assert facts_of(measured(a_photo(side)), load=[elsewhere])["shade_step_at_load_boundary"] is False
    halves = [side.model_copy(update={"outline_ft": ((14.8, y), (26, y), (26, y + 7), (15.2, y + 7))}) for y in (0, 11)]
    assert facts_of(measured(a_photo(*halves)), load=[boundary])["shade_step_at_load_boundary"] is True
    assert facts_of(measured(a_photo(halves[0])), load=[boundary])["shade_step_at_load_boundary"] is False
    crossing = {"name": "first", "boundary": [[0, 4], [26, 4]]}
    assert facts_of(measured(a_photo(side)), load=[crossing])["shade_step_at_load_boundary"] is False
    assert facts_of(measured(a_photo(side)))["shade_step_at_load_boundary"] is None


def a_step(found: bool) -> LoadStep:
    return LoadStep(
        load="first",
        photo="a.jpg",
        length_ft=17,
        step_lightness=4,
        de00=4.1,
        error_lab=0.2,
        elsewhere_de00=0.3,
        found=found,
    )


def test_a_measured_step_goes_before_the_borders_of_marks():
    side = a_patch("large-side", outline_ft=[(14.8, 0), (26, 0), (26, 18), (15.2, 18)], area_ft2=190)
    load = [{"name": "first", "boundary": [[14.5, 0], [15.5, 18]]}]
    for steps, said in (([a_step(False), a_step(True)], True), ([a_step(False)], False)):
        evenness = compared(measured(a_photo(side)), load_steps=steps)
        assert facts_of(evenness, load=load)["shade_step_at_load_boundary"] is said


@pytest.mark.parametrize(("age", "removable"), [(70, True), (90, None)])
def test_marks_that_were_seen_to_fade_may_still_go(age, removable):
    import datetime

    pour = {"date": day("2026-09-21") - datetime.timedelta(days=age)}
    facts = facts_of(compared(measured(a_photo()), changes=[FADED]), pour=pour)
    assert (facts["shade_fades"], facts["shade_removable"]) == (True, removable)
    stays = FADED.model_copy(update={"fading": False})
    facts = facts_of(compared(measured(a_photo()), changes=[FADED, stays]), pour=pour)
    assert (facts["shade_fades"], facts["shade_removable"]) == (False, None)


def test_a_later_photo_of_a_place_takes_the_place_of_the_earlier_one():
    before, after = a_photo(grade="very-uneven", photo="before.jpg"), a_photo(grade="even")
    assert facts_of(measured(before, after))["shade_grade"] == "very-uneven"
    assert facts_of(compared(measured(before, after), changes=[FADED]))["shade_grade"] == "even"


def test_a_turned_photo_is_laid_on_the_plan():
    side = a_patch("large-side", outline_ft=[(0, 0), (18, 0), (18, 11), (0, 11)], area_ft2=190)
    photo = {"file": "a.jpg", "origin_on_plan": [26, 0], "turned_deg": 90}
    boundary = {"name": "first", "boundary": [[15, 1], [15, 17]]}
    assert facts_of(measured(a_photo(side)), load=[boundary], photo=[photo])["shade_step_at_load_boundary"] is True
    unturned = {**photo, "turned_deg": 0}
    assert facts_of(measured(a_photo(side)), load=[boundary], photo=[unturned])["shade_step_at_load_boundary"] is False
