"""What a floor's photos say when compared: loads on the plan, weeks apart, a mock-up."""

import datetime

import numpy as np
import pytest

from finishadvisor.evenness.compare import compare
from finishadvisor.job.document import Load, Photo

from .conftest import falling_light, patched, slab_lab
from .test_together import flat, made

FIRST = datetime.datetime(2026, 6, 1, 10, tzinfo=datetime.UTC)


def photo(name: str, days: int | None = None, **more) -> Photo:
    taken = None if days is None else FIRST + datetime.timedelta(days=days)
    return Photo(file=name, taken=taken, **more)


def textured(rows: int, cols: int, seed: int = 0, **more) -> np.ndarray:
    lab = flat(rows, cols, **more)
    lab[:, :, 0] += np.random.default_rng(seed).normal(0, 0.3, (rows, cols))
    return lab


def marked(lab: np.ndarray, strength: float) -> np.ndarray:
    lab = lab.copy()
    lab[10:20, 10:20] += [strength, 0, 0]
    return lab


def test_a_mark_that_goes_is_told_as_fading_and_one_that_comes_is_not() -> None:
    strong, weak = made(marked(textured(40, 40), -6)), made(marked(textured(40, 40, 1), -1))
    (change,) = compare([strong, weak], [photo("a.jpg", 0), photo("b.jpg", 28)]).changes
    assert (change.before, change.after, change.days) == ("a.jpg", "b.jpg", 28)
    assert change.changed_share == pytest.approx(100 / 1600, abs=0.005)
    assert change.seen_ft2 == pytest.approx(100, abs=3)
    assert change.fading
    (change,) = compare([strong, weak], [photo("a.jpg", 28), photo("b.jpg", 0)]).changes
    assert (change.before, change.after) == ("b.jpg", "a.jpg")
    assert not change.fading


def test_an_unchanged_slab_in_other_light_does_not_fade(shoot) -> None:
    lab = patched(slab_lab(), 3, 3, 2, 2, (-5, 0, 0))
    before = shoot(lab, light=falling_light(lab, 0.6), noise=0.03).measured()
    after = shoot(lab, light=falling_light(lab, -0.4), noise=0.03, seed=4, name="later.jpg").measured()
    (change,) = compare([before, after], [photo("a.jpg", 0), photo("b.jpg", 30)]).changes
    assert change.changed_share < 0.02
    assert not change.fading


def test_only_photos_of_one_place_a_week_apart_are_compared() -> None:
    pair = [made(textured(40, 40)), made(textured(40, 40))]
    assert not compare(pair, [photo("a.jpg", 0), photo("b.jpg", 6)]).changes
    assert compare(pair, [photo("a.jpg", 0), photo("b.jpg", 7)]).changes
    apart = [photo("a.jpg", 0), photo("b.jpg", 30, origin_on_plan=(8, 0))]
    assert not compare(pair, apart).changes
    assert not compare(pair, [photo("a.jpg", 0), photo("b.jpg")]).changes


def test_each_photo_is_held_against_the_one_before_and_turned_photos_lie_right() -> None:
    lab = marked(textured(40, 40), -6)
    turned = np.rot90(lab).copy()
    photos = [photo("a.jpg", 0), photo("b.jpg", 14, origin_on_plan=(10, 0), turned_deg=90), photo("c.jpg", 40)]
    compared = compare([made(lab), made(turned), made(lab)], photos)
    assert [(change.before, change.after, change.days) for change in compared.changes] == [
        ("a.jpg", "b.jpg", 14),
        ("b.jpg", "c.jpg", 26),
    ]
    assert all(change.changed_share < 0.02 for change in compared.changes)
    assert compared.outdated == {"a.jpg", "b.jpg"}


def test_the_whole_slab_s_change_needs_cards_in_both_photos() -> None:
    first, last = made(textured(40, 40), level="sheet"), made(textured(40, 40, lightness=55.0), level="sheet")
    (change,) = compare([first, last], [photo("a.jpg", 0), photo("b.jpg", 30)]).changes
    assert change.whole_slab_de00 == pytest.approx(4.9, abs=0.2)
    (change,) = compare([first, made(textured(40, 40))], [photo("a.jpg", 0), photo("b.jpg", 30)]).changes
    assert change.whole_slab_de00 is None


def test_a_mock_up_is_told_with_cards_in_both_photos_only() -> None:
    slab, mock_up = made(flat(40, 40, 50), level="sheet"), made(flat(12, 12, 55), level="sheet")
    photos = [photo("a.jpg"), photo("m.jpg", shows="mock-up")]
    (found,) = compare([slab, mock_up], photos).mock_ups
    assert (found.slab, found.mock_up) == ("a.jpg", "m.jpg")
    assert found.de00 == pytest.approx(4.9, abs=0.1)
    (found,) = compare([slab, made(flat(12, 12, 55))], photos).mock_ups
    assert found.de00 is None


def test_the_boundary_of_a_load_is_looked_for_where_the_photo_lies_on_the_plan() -> None:
    """The bay lies at (20, 5) on the plan, turned by 90 degrees: its own x runs along the plan's y."""
    lab = textured(48, 48)
    lab[:, 24:] += [4, 0, 0]  # from y = 5 + 6 on the plan
    shot = photo("a.jpg", origin_on_plan=(20, 5), turned_deg=90)
    here, elsewhere = Load(name="one", boundary=((8, 11), (20, 11))), Load(name="two", boundary=((12, 5), (12, 17)))
    steps = compare([made(lab)], [shot], [here, elsewhere, Load(name="three")]).load_steps
    assert [(step.load, step.found) for step in steps] == [("one", True), ("two", False)]
    assert abs(steps[0].step_lightness) == pytest.approx(4, abs=0.2)


END = Load(name="one", boundary=((10, 0), (10, 10)))


def two_bays(step: float, overlap: int = 0, exposure: float = 0.0, level: str = "assumed"):
    """Two bays that meet at x = 10 ft, where the shade steps; the left one reaches some 3 in cells beyond it."""
    left, right = textured(40, 40 + overlap), textured(40, 40, 1)
    left[:, 40:] += [step, 0, 0]
    right[:, :] += [step + exposure, 0, 0]
    photos = [photo("a.jpg"), photo("b.jpg", origin_on_plan=(10, 0))]
    return compare([made(left, level=level), made(right, level=level)], photos, [END])


@pytest.mark.parametrize("step", [5.0, -5.0])
def test_a_load_that_ends_where_two_bays_meet_is_found_by_cards(step) -> None:
    compared = two_bays(step, level="sheet")
    (found,) = compared.load_steps
    assert (found.photo, found.found) == ("a.jpg and b.jpg", True)
    assert found.step_lightness == pytest.approx(step, abs=0.3)
    assert found.error_lab >= 1.0  # how near cards bring two levels
    assert compared.untold_steps == ()
    assert not two_bays(1.0, level="sheet").load_steps[0].found


def test_a_load_that_ends_where_two_bays_meet_is_found_by_their_overlap() -> None:
    """One cell of overlap along the line is enough, whatever the exposure of the second photo."""
    (found,) = two_bays(4.0, overlap=1, exposure=-7.0).load_steps
    assert found.found
    assert found.step_lightness == pytest.approx(4, abs=0.4)
    (none,) = two_bays(0.0, overlap=1, exposure=-7.0).load_steps
    assert not none.found


def test_between_bays_that_share_nothing_a_step_cannot_be_told() -> None:
    compared = two_bays(5.0)
    assert compared.load_steps == ()
    (untold,) = compared.untold_steps
    assert (untold.load, untold.photos) == ("one", ("a.jpg", "b.jpg"))
    apart = [photo("a.jpg"), photo("b.jpg", origin_on_plan=(20, 0))]
    assert compare([made(textured(40, 40)), made(textured(40, 40))], apart, [END]).untold_steps == ()
