"""Hedenblad (1997) as restated by the trade: 28 to 30 days an inch, an approximation; 4 in about 140 days at 70 °F."""

from finishadvisor.formulas import drying


def test_the_rule_of_thumb_lies_inside_the_band():
    for thickness_in in (3, 4, 5, 6):
        band = drying.drying_band(thickness_in, 1, 0.50, "retarder")
        assert band.not_before_days < 28 * thickness_in
        assert 30 * thickness_in < band.slow_days


def test_the_slow_end_of_a_4_in_slab(printed):
    assert drying.drying_band(4, 1, 0.50, "retarder").slow_days == printed("140")
