"""Several photos: bays joined on the plan, other light, weeks apart, a mock-up; and the look once sealed."""

from types import SimpleNamespace

import numpy as np
import pytest

from finishadvisor.errors import OutOfRangeError
from finishadvisor.evenness.change import change_between, typical_difference
from finishadvisor.evenness.join import join
from finishadvisor.evenness.plan_maps import lay_on_plan, match_levels
from finishadvisor.evenness.sealed import sealed_spreads
from finishadvisor.job.document import Photo
from finishadvisor.records.evenness import Evenness, Sigma
from finishadvisor.records.shade import Measurement, ShadeMap

from .conftest import falling_light, patched, slab_lab


def made(
    lab: np.ndarray, *, level: str = "assumed", used=None, caveats=(), wet_ratio=None, error: float = 0.4
) -> Measurement:
    """A measurement written by hand: 3 in cells of the given CIELAB."""
    rows, cols = lab.shape[:2]
    used = np.ones((rows, cols), dtype=bool) if used is None else used
    typical = tuple(float(v) for v in np.median(lab[used], axis=0))
    shade = ShadeMap(
        cell_in=3.0, width_ft=cols / 4, length_ft=rows / 4, lab=lab, de00=np.zeros((rows, cols)), used=used,
        typical_lab=typical, error_L=np.full((rows, cols), error), picture=np.zeros((2, 2, 3), np.uint8),
        wet_ratio=wet_ratio,
    )  # fmt: skip
    sigma = Sigma(share_over_3=0.01, p95_de00=0.3, index=0.1)
    return Measurement(Evenness(photo="made", level=level, sigma=sigma, caveats=caveats, typical_lab=typical), shade)


def flat(rows: int, cols: int, lightness: float = 50.0) -> np.ndarray:
    return np.tile(np.array([lightness, 4.0, 8.0]), (rows, cols, 1))


def placed(x: float, y: float, turned: int = 0) -> Photo:
    return Photo(file="p.jpg", origin_on_plan=(x, y), turned_deg=turned)


def test_bays_that_overlap_are_brought_to_one_level() -> None:
    left, right = flat(40, 40, 50), flat(40, 40, 57)
    left[:, 30:] += [4, 0, 0]  # the mark lies in the overlap, from x = 7.5 ft
    right[:, :10] += [4, 0, 0]
    found = join([made(left), made(right)], [placed(0, 0), placed(7.5, 0)])
    assert "bays-unjoined" not in found.caveats
    assert found.share_over["3"] == pytest.approx(10 / 70, abs=0.01)
    assert found.patches[0].x_ft == pytest.approx(7.5, abs=0.3)


def test_patches_of_bays_away_from_the_origin_lie_where_they_are_on_the_plan() -> None:
    left, right = flat(40, 40), flat(40, 40)
    right[8:16, 20:32] += [-6, 0, 0]  # from x = 5, y = 2 ft of its bay
    (patch,) = join([made(left), made(right)], [placed(12, 30), placed(22, 30)]).patches
    assert (patch.x_ft, patch.y_ft) == pytest.approx((27, 32), abs=0.3)
    assert np.mean(patch.outline_ft, axis=0) == pytest.approx((28.5, 33), abs=0.5)


def test_bays_that_share_nothing_say_so_and_claim_no_difference() -> None:
    found = join([made(flat(40, 40, 50)), made(flat(40, 40, 57))], [placed(0, 0), placed(30, 0)])
    assert "bays-unjoined" in found.caveats
    assert found.share_over["3"] == 0
    assert found.measured_share == pytest.approx(0.5, abs=0.01)


def test_cards_in_both_bays_keep_a_real_difference() -> None:
    pair = [made(flat(40, 40, 50), level="sheet"), made(flat(40, 30, 57), level="sheet")]
    found = join(pair, [placed(0, 0), placed(30, 0)])
    assert "bays-unjoined" not in found.caveats
    assert found.level == "sheet"
    assert found.share_over["3"] == pytest.approx(30 / 70, abs=0.01)


def test_a_turned_bay_lies_as_it_was_shot() -> None:
    """Turned by 90 degrees, the photo's first side runs along the plan's y, its second along -x."""
    lab = flat(20, 40)  # 10 ft along its first side, 5 ft along its second
    lab[:4, 30:] += [9, 0, 0]  # by its first side's far end, next to it
    plan = lay_on_plan([made(lab).shade], [placed(5, 0, 90)])
    assert (plan.grid.width_ft, plan.grid.length_ft) == pytest.approx((5, 10))
    bright = np.argwhere(plan.maps[0].lab[:, :, 0] > 55)
    x, y = plan.grid.centers_ft()
    assert x[bright[:, 1]].min() > 4
    assert y[bright[:, 0]].min() > 7.4


def test_what_moves_with_the_light_is_not_slab() -> None:
    one, other = flat(40, 60), flat(40, 60)
    one[10:20, 10:30] += [6, 0, 0]
    other[10:20, 35:55] += [6, 0, 0]
    stays = np.s_[28:34, 5:20]
    one[stays] += [-5, 0, 0]
    other[stays] += [-5, 0, 0]
    found = join([made(one), made(other)], [placed(0, 0), placed(0, 0)])
    assert "moved-with-light" in found.caveats
    assert [patch.dL for patch in found.patches] == [-5.0]
    assert any("25.0 ft² stands out in one photo" in warning for warning in found.warnings)
    assert not any("sheen, which turns over" in warning for warning in found.warnings)


def test_what_turns_over_from_the_other_end_is_sheen_and_cancels() -> None:
    """The photo from the other end is turned by 180 degrees; bands that were light are dark in it."""
    one, other = flat(40, 60), flat(40, 60)
    band, stays = np.s_[:, 24:32], np.s_[4:12, 44:56]
    one[band] += [3, 0, 0]
    other[band] += [-3, 0, 0]
    for lab in (one, other):
        lab[stays] += [-5, 0, 0]
    found = join([made(one), made(np.rot90(other, 2).copy())], [placed(0, 0), placed(15, 10, 180)])
    assert "moved-with-light" in found.caveats
    assert any("20.0 ft² is lighter than the slab in one photo and darker" in warning for warning in found.warnings)
    assert not any("stands out in one photo" in warning for warning in found.warnings)
    assert [patch.dL for patch in found.patches] == [-5.0]


def test_photos_that_agree_tell_of_no_light_and_no_sheen() -> None:
    one = flat(40, 60)
    one[10:20, 10:30] += [6, 0, 0]
    found = join([made(one), made(one)], [placed(0, 0), placed(0, 0)])
    assert found.caveats == ()
    assert found.warnings == ()


def test_a_refused_photo_and_a_mock_up_are_left_out() -> None:
    refused = Measurement(Evenness(photo="r", refused=("blurred",)), None)
    slab, mock_up = made(flat(40, 40)), made(flat(40, 40, 70))
    assert join([slab, refused], [placed(0, 0), placed(0, 0)]) is None
    photos = [placed(0, 0), Photo(file="m.jpg", shows="mock-up")]
    assert join([slab, mock_up], photos) is None


def test_levels_chain_through_three_bays() -> None:
    labs = [flat(40, 40, level) for level in (50, 54, 61)]
    photos = [placed(0, 0), placed(8, 0), placed(16, 0)]
    plan = lay_on_plan([made(lab).shade for lab in labs], photos)
    matched = match_levels(plan, [False] * 3)
    assert len(set(matched.group)) == 1
    medians = [float(np.nanmedian(laid.lab[:, :, 0])) for laid in matched.maps]
    assert np.ptp(medians) < 0.01


def test_a_mark_that_fades_is_seen_and_one_that_stays_is_not(shoot) -> None:
    stays, fades = (3, 3, 2, 2, (-5, 0, 0)), (7, 5, 2, 2, (5, 0, 0))
    lab = patched(slab_lab(), *stays)
    before = shoot(patched(lab, *fades), light=falling_light(lab, 0.6), noise=0.03).measured()
    after = shoot(lab, light=falling_light(lab, -0.3), noise=0.03, name="later.jpg").measured()
    change = change_between(before, after)
    assert change.share == pytest.approx(4 / 120, abs=0.012)
    assert change.less_uneven
    assert change.changed[62:82, 86:106].mean() > 0.85
    assert change.changed[38:58, 38:58].mean() < 0.05
    assert change.whole_slab_de00 is None
    same = change_between(before, before)
    assert same.share == 0


def test_photos_that_cannot_be_compared_say_why() -> None:
    refused = Measurement(Evenness(photo="r.jpg", refused=("blurred",)), None)
    with pytest.raises(OutOfRangeError, match=r"r\.jpg was refused"):
        change_between(made(flat(9, 9)), refused)
    with pytest.raises(OutOfRangeError, match="cells"):
        change_between(made(flat(9, 9)), made(flat(9, 12)))


def test_a_mock_up_is_compared_only_with_cards_in_both_photos() -> None:
    slab, mock_up = made(flat(9, 9, 50), level="sheet"), made(flat(9, 9, 55), level="sheet")
    assert typical_difference(slab, mock_up) == pytest.approx(4.9, abs=0.1)
    assert typical_difference(slab, made(flat(9, 9, 55))) is None


def finish(name: str, **look) -> SimpleNamespace:
    family = look.pop("family", "topical")
    sealed = SimpleNamespace(wet=look["wet"], hiding=look.get("hiding", 0.0)) if look else None
    return SimpleNamespace(id=name, family=family, sealed_look=sealed)


def uneven(lightness: float) -> Measurement:
    lab = flat(40, 40, lightness)
    lab[:, :4] += [4, 0, 0]
    return made(lab)


def test_the_sealed_look_is_a_band_and_none_for_polish() -> None:
    finishes = [
        finish("clear", wet=1.0),
        finish("solid", wet=1.0, hiding=0.9),
        finish("ground"),
        finish("polish", wet=0.5, family="polish"),
    ]
    found = sealed_spreads(uneven(60).shade, finishes)
    assert found["ground"] is None
    assert found["polish"] is None
    assert found["clear"].p95_low < found["clear"].p95_high
    assert found["solid"].p95_high < 0.3 * found["clear"].p95_low


def test_a_clear_film_shows_a_pale_slab_s_marks_more_and_a_dark_slab_s_less() -> None:
    """Multipliers of a 4 L* mark under a wet look: charcoal .80, light gray 1.32 to 1.36, by the same model."""
    for lightness, low, high in ((30, 0.6, 1.0), (68, 1.1, 1.6)):
        bare = uneven(lightness).shade
        before = sealed_spreads(bare, [finish("none", wet=0.0)])["none"].p95_low
        after = sealed_spreads(bare, [finish("clear", wet=1.0)])["clear"]
        assert low < (after.p95_low + after.p95_high) / 2 / before < high


def test_a_wetted_patch_narrows_the_band() -> None:
    lab = flat(40, 40, 55)
    lab[:, :4] += [4, 0, 0]
    open_band = sealed_spreads(made(lab).shade, [finish("clear", wet=1.0)])["clear"]
    told = sealed_spreads(made(lab, wet_ratio=0.66).shade, [finish("clear", wet=1.0)])["clear"]
    assert told.p95_high - told.p95_low < open_band.p95_high - open_band.p95_low


def test_stripes_of_a_large_slab_are_not_missed_by_the_cells_that_are_predicted() -> None:
    lab = flat(160, 144, 55)
    lab[:, ::4] += [6, 0, 0]
    shuffled = np.random.default_rng(3).permutation(lab.reshape(-1, 3)).reshape(lab.shape)
    striped, mixed = (sealed_spreads(made(each).shade, [finish("clear", wet=1.0)])["clear"] for each in (lab, shuffled))
    assert striped == mixed
    assert striped.p95_low > 3
