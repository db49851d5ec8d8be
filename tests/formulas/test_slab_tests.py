"""Counts, depths and waits of slab tests."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.errors import OutOfRangeError
from finishadvisor.formulas import slab_tests


@given(st.sampled_from(sorted(slab_tests.COUNT_RULES)), st.floats(1, 100_000), st.floats(0, 10_000))
def test_a_larger_floor_never_needs_fewer(rule, area_ft2, more_ft2):
    count = slab_tests.COUNT_RULES[rule]
    assert 1 <= count(area_ft2) <= count(area_ft2 + more_ft2)


def test_rules_by_the_id_that_a_work_item_names():
    counts = {rule: count(1200) for rule, count in slab_tests.COUNT_RULES.items()}
    assert counts == {"f2170-holes": 4, "f1869-kits": 4, "d4262-readings": 6, "d4263-sheets": 3}


def test_issues_between_2009_and_2018_are_taken_to_keep_the_long_wait():
    assert slab_tests.f2170_wait_h(2017) == 72


@given(st.floats(1, 24))
def test_a_slab_drying_from_both_sides_is_probed_half_as_deep(thickness_in):
    one, both = slab_tests.f2170_depth_in(thickness_in, 1), slab_tests.f2170_depth_in(thickness_in, 2)
    assert one == pytest.approx(2 * both)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: slab_tests.f2170_holes(0), "Area is 0 ft."),
        (lambda: slab_tests.d4262_readings(float("inf")), "Area is inf ft."),
        (lambda: slab_tests.f2170_depth_in(4, 3), "Number of drying sides is 3"),
        (lambda: slab_tests.f2170_wait_h(1990), "Year of the issue is 1990"),
    ],
)
def test_refusals(call, words):
    with pytest.raises(OutOfRangeError, match=words):
        call()
