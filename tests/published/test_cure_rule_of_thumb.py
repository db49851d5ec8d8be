"""Trade rule for reactive coatings: times halve for each 10 °C (18 °F) warmer, from 77 °F (25 °C). No single source.

Its equal in activation energy, about 51 kJ/mol near 25 °C, is worked by hand from the gas constant.
"""

import pytest

from finishadvisor.formulas import cure


@pytest.mark.parametrize(("slab_f", "times"), [(77, "1"), (59, "2"), (50, "2.83"), (95, "0.5")])
def test_one_point_of_a_data_sheet(slab_f, times, printed):
    line = cure.fit_cure_line([(77, 1)], "at-least")
    assert line.at(slab_f).value == printed(times)


def test_doubling_around_25_c_is_51_kj_per_mol(printed):
    assert cure.activation_energy_kj_per_mol(2, colder_f=68, warmer_f=86) == printed("51")
