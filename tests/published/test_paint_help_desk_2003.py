"""Worked answer of a public paint help desk, October 2003 (paintcenter.org/rj/oct03e.cfm)."""

from finishadvisor.formulas import film


def test_30_percent_transfer_efficiency(printed):
    assert film.practical_coverage_ft2_per_gal(0.52, 1.5, loss=0.70) == printed("167")
