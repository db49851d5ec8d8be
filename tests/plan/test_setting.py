"""Times of the data sheet at the temperatures that a coat meets."""

import math

from hypothesis import given
from hypothesis import strategies as st

from finishadvisor.formulas.cure import fit_cure_line, hours_until_over
from finishadvisor.plan.setting import Setting
from tests.plan.fixtures import a_material

HOURS = 60
TWO_POINTS = (
    {"slab_f": 50, "recoat_min_h": 12, "recoat_max_h": 48},
    {"slab_f": 95, "recoat_min_h": 3, "recoat_max_h": 10},
)
inside = st.floats(50, 95)
courses = st.lists(inside, min_size=HOURS, max_size=HOURS)


@given(courses, st.lists(st.floats(0, 10), min_size=HOURS, max_size=HOURS), st.integers(0, 60))
def test_warmer_at_every_hour_makes_neither_limit_later(colder, more, start):
    warmer = [min(cold + plus, 95.0) for cold, plus in zip(colder, more, strict=True)]
    cold, warm = (Setting(a_material(*TWO_POINTS), tuple(course)) for course in (colder, warmer))
    for event in ("recoat_min_h", "recoat_max_h"):
        late, early = cold.over(event, start), warm.over(event, start)
        if late is not None:
            assert early is not None
            assert early <= late + 1e-9


@given(courses, st.integers(0, 100))
def test_sums_kept_from_the_first_hour_agree_with_the_formula_step_by_step(course, start):
    setting = Setting(a_material(*TWO_POINTS), tuple(course))
    line = fit_cure_line([(p["slab_f"], p["recoat_min_h"]) for p in TWO_POINTS], "at-least")
    quarters = [course[slot // 4] for slot in range(start, HOURS * 4)]
    expected = hours_until_over(line, quarters, 0.25).hours
    found = setting.over("recoat_min_h", start)
    if expected is None:
        assert found is None
    else:
        assert found is not None
        assert math.isclose(found, start + expected * 4, abs_tol=1e-6)


def test_a_time_behind_the_plan_is_not_known():
    assert Setting(a_material(), (77.0,) * 4).over("recoat_min_h", 0) is None


def test_a_time_that_the_sheet_does_not_give_is_not_known():
    setting = Setting(a_material({"slab_f": 77, "recoat_min_h": 6}), (77.0,) * 48)
    assert not setting.gives("recoat_max_h")
    assert setting.over("recoat_max_h", 0) is None


def test_leaving_the_temperatures_of_the_sheet_is_told():
    setting = Setting(a_material(*TWO_POINTS), (70.0,) * 10 + (45.0,) * 10 + (70.0,) * 10)
    assert not setting.beyond_sheet("recoat_min_h", 0, 39)
    assert setting.beyond_sheet("recoat_min_h", 0, 40)
    assert not setting.beyond_sheet("recoat_min_h", 80, 100)
