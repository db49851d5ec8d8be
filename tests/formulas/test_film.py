"""Film arithmetic holds together: inverses, directions, draws, refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import film

solids = st.floats(0.05, 1)
mils = st.floats(0.1, 100)
losses = st.floats(0, 0.8)
areas = st.floats(1, 50_000)


@given(mils, solids)
def test_wet_and_dry_film_are_inverse(dry, volume_solids):
    assert film.dry_film_mils(film.wet_film_mils(dry, volume_solids), volume_solids) == pytest.approx(dry)


@given(mils)
def test_spread_and_wet_film_are_inverse(wet):
    assert film.wet_film_of_spread_mils(film.spread_of_wet_film_ft2_per_gal(wet)) == pytest.approx(wet)


@given(mils, solids)
def test_coverage_is_the_spread_of_the_wet_film(dry, volume_solids):
    by_film = film.spread_of_wet_film_ft2_per_gal(film.wet_film_mils(dry, volume_solids))
    assert film.theoretical_coverage_ft2_per_gal(volume_solids, dry) == pytest.approx(by_film)


@given(areas, solids, mils, losses, st.floats(0, 50))
def test_what_is_bought_less_what_is_lost_fills_profile_and_film(area_ft2, volume_solids, dry, loss, profile):
    need_gal = film.film_need_gal(area_ft2, volume_solids, dry, loss, profile)
    on_floor_in3 = need_gal * (1 - loss) * volume_solids * 231
    assert on_floor_in3 == pytest.approx(area_ft2 * 144 * (dry + profile) / 1000)


@given(areas, solids, mils, losses)
def test_more_loss_and_more_profile_never_take_less(area_ft2, volume_solids, dry, loss):
    need_gal = film.film_need_gal(area_ft2, volume_solids, dry, loss, 2)
    assert film.film_need_gal(area_ft2, volume_solids, dry, loss + 0.05, 2) > need_gal
    assert film.film_need_gal(area_ft2, volume_solids, dry, loss, 3) > need_gal


@given(solids, st.floats(0.01, 1), mils)
def test_thinning_leaves_the_solids_of_a_pail_alone(volume_solids, thinner_share, dry):
    thinned = film.thinned_solids(volume_solids, thinner_share)
    covered_before = film.theoretical_coverage_ft2_per_gal(volume_solids, dry)
    covered_after = (1 + thinner_share) * film.theoretical_coverage_ft2_per_gal(thinned, dry)
    assert covered_after == pytest.approx(covered_before)


@given(areas, st.floats(50, 500), losses, st.floats(1, 3))
def test_rate_material(area_ft2, spread, loss, first_coat_factor):
    need = film.rate_need(area_ft2, spread, loss, first_coat_factor)
    assert need * (1 - loss) * spread == pytest.approx(area_ft2 * first_coat_factor)


@given(st.floats(0.1, 100), st.lists(st.floats(0.1, 10), min_size=2, max_size=4))
def test_the_parts_of_a_mix_add_up_in_their_ratio(total, ratio):
    parts = film.split_mix(total, ratio)
    assert sum(parts) == pytest.approx(total)
    assert [part / parts[0] for part in parts] == pytest.approx([part / ratio[0] for part in ratio])


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (
            lambda: film.theoretical_coverage_ft2_per_gal(65, 5),
            "Solids by volume is 65; it must lie between 0.001 and 1",
        ),
        (lambda: film.theoretical_coverage_ft2_per_gal(0.65, 0), "Dry film thickness is 0 mils"),
        (lambda: film.practical_coverage_ft2_per_gal(0.65, 5, loss=1), "Loss is 1"),
        (lambda: film.practical_coverage_ft2_per_gal(0.65, 5, 0.1, -1), "Profile depth is -1 mils"),
        # A profile must not make up for a film of nothing.
        (lambda: film.practical_coverage_ft2_per_gal(0.65, 0, 0.1, 5), "Dry film thickness is 0 mils"),
        (lambda: film.split_mix(15, (2,)), "Number of components is 1"),
        (lambda: film.split_mix(15, (2, 0)), "Part of the mix ratio is 0"),
        (lambda: film.rate_need(100, 200, 0, 0.5), "First-coat factor is 0.5"),
        (lambda: film.film_need_gal(float("nan"), 0.5, 5), "Area is nan ft²"),
    ],
)
def test_refusals_name_the_value_and_what_is_allowed(call, words):
    with pytest.raises(OutOfRangeError, match=words.replace("²", ".")):
        call()
