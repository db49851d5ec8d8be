"""ASTM D4262-05(2012), 6.2: two pH readings per 500 ft² or part. ASTM D4263-83(2012): 16 h; count from memory."""

import pytest

from finishadvisor.formulas import slab_tests


@pytest.mark.parametrize(("area_ft2", "readings"), [(100, 2), (500, 2), (501, 4), (1200, 6)])
def test_two_readings_for_each_500_ft2_or_part(area_ft2, readings):
    assert slab_tests.d4262_readings(area_ft2) == readings


@pytest.mark.parametrize(("area_ft2", "sheets"), [(500, 1), (1200, 3)])
def test_one_sheet_for_each_500_ft2_or_part(area_ft2, sheets):
    assert slab_tests.d4263_sheets(area_ft2) == sheets


def test_a_sheet_lies_16_hours():
    assert slab_tests.D4263_WAIT.least_h == 16
