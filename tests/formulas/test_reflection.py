"""Reflection holds together: bounds, inverses, directions, arrays with gaps."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import reflection

indices = st.floats(1.01, 2.5)
reflectances = st.floats(0.02, 0.95)
interface_shares = st.floats(0, 0.9)


@given(indices, st.floats(0, 90))
def test_fresnel_stays_between_nothing_and_all(index, angle_deg):
    assert 0 <= reflection.fresnel_reflectance(index, angle_deg) <= 1 + 1e-12


@given(indices)
def test_a_surface_is_a_mirror_at_grazing_light(index):
    assert reflection.fresnel_reflectance(index, 90) == pytest.approx(1)
    upright = ((index - 1) / (index + 1)) ** 2
    assert reflection.fresnel_reflectance(index, 0) == pytest.approx(upright)


@given(st.floats(1.05, 2))
def test_a_denser_film_reflects_more_on_both_sides(index):
    assert reflection.diffuse_external_reflectance(index + 0.1) > reflection.diffuse_external_reflectance(index)
    assert reflection.diffuse_internal_reflectance(index + 0.1) > reflection.diffuse_internal_reflectance(index)


@given(reflectances)
def test_a_film_darkens_a_body_when_its_gloss_is_not_seen(body):
    assert reflection.saunderson_reflectance(body, gloss_included=False) < body


@given(reflectances)
def test_water_darkens_and_keeps_the_order(dry):
    wet = reflection.wetted_reflectance(dry)
    assert wet < dry or dry < 0.05
    assert reflection.wetted_reflectance(dry + 0.05) > wet


@given(st.floats(0.06, 0.8), interface_shares)
def test_the_body_of_a_bare_slab_gives_the_bare_slab_back(bare, share):
    body = float(reflection.body_of_bare_slab(bare, share))
    mirror, inside = reflection.fresnel_reflectance(1.5, 0), reflection.diffuse_internal_reflectance(1.5)
    filmed = reflection.saunderson_reflectance(body, mirror, inside)
    if body < 1:
        assert (1 - share) * body + share * filmed == pytest.approx(bare, abs=1e-9)


def test_a_wholly_filmed_slab_and_one_not_at_all():
    assert reflection.body_of_bare_slab(0.3, 0) == pytest.approx(0.3)
    mirror, inside = reflection.fresnel_reflectance(1.5, 0), reflection.diffuse_internal_reflectance(1.5)
    seen = reflection.saunderson_reflectance(0.4, mirror, inside)
    assert reflection.body_of_bare_slab(seen, 1) == pytest.approx(0.4)


def test_a_slab_darker_than_its_own_mirror_has_a_black_body():
    assert reflection.body_of_bare_slab(0.01, 0.7) == 0


@given(reflectances, st.floats(0, 0.9), interface_shares)
def test_a_wetter_look_is_darker_and_never_negative(bare, wet, share):
    lighter = reflection.sealed_reflectance(bare, wet, share)
    darker = reflection.sealed_reflectance(bare, wet + 0.1, share)
    assert 0 <= darker <= lighter <= bare + 1e-12


@given(reflectances)
def test_no_wet_look_changes_nothing(bare):
    assert reflection.sealed_reflectance(bare, 0) == pytest.approx(bare)


@given(st.floats(0.05, 0.7))
def test_a_film_strengthens_the_contrast_of_a_mark_on_a_rough_slab(bare):
    # d ln R' / d ln R = 1 / (1 - inside * R) is above one.
    ratio_bare = 1.1
    sealed = reflection.sealed_reflectance([bare, bare * ratio_bare], 1, interface_share=0)
    assert sealed[1] / sealed[0] > ratio_bare


@given(reflectances, reflectances, st.floats(0, 1))
def test_a_tint_lies_between_ground_and_tint(below, tint, hiding):
    mixed = float(reflection.tinted_reflectance(below, tint, hiding))
    assert min(below, tint) - 1e-12 <= mixed <= max(below, tint) + 1e-12
    assert reflection.tinted_reflectance(below, tint, 1) == pytest.approx(tint)
    assert reflection.tinted_reflectance(below, tint, 0) == pytest.approx(below)


def test_arrays_keep_their_shape_and_their_gaps():
    bare = np.array([[0.1, np.nan, 0.3], [0.2, 0.4, 0.5]])
    sealed = reflection.sealed_reflectance(bare, 1)
    assert sealed.shape == (2, 3)
    assert np.isnan(sealed).tolist() == np.isnan(bare).tolist()
    assert sealed[1, 1] == pytest.approx(reflection.sealed_reflectance(0.4, 1))
    assert bare[0, 0] == 0.1


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: reflection.sealed_reflectance([0.2, 30], 1), "Reflectance of the bare slab is 30"),
        (lambda: reflection.sealed_reflectance(0.2, 1.5), "Wet look is 1.5"),
        (lambda: reflection.diffuse_internal_reflectance(0.9), "Refractive index is 0.9"),
        (lambda: reflection.gloss_units(1.5, 90), "Angle of the gloss meter is 90"),
        (lambda: reflection.saunderson_reflectance(0.2, internal=1), "Reflectance inside .k2. is 1"),
        (lambda: reflection.tinted_reflectance(0.2, -0.1, 0.5), "Reflectance of the tint is -0.1"),
    ],
)
def test_refusals(call, words):
    with pytest.raises(OutOfRangeError, match=words):
        call()
