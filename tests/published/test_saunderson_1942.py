"""Saunderson (1942), J. Opt. Soc. Am. 32:727 (from memory), form of Allen (1980), equation 24; k1 0.04, k2 0.6.

The values are worked by hand from the equation.
"""

import pytest

from finishadvisor.formulas import reflection


@pytest.mark.parametrize(
    ("body", "with_gloss", "without_gloss"),
    [
        (0.10, "0.08085", "0.04085"),
        (0.30, "0.18049", "0.14049"),
        (0.50, "0.31429", "0.27429"),
        (0.80, "0.63077", "0.59077"),
    ],
)
def test_reflectance_under_a_film(body, with_gloss, without_gloss, printed):
    assert reflection.saunderson_reflectance(body, 0.04, 0.6) == printed(with_gloss)
    assert reflection.saunderson_reflectance(body, 0.04, 0.6, gloss_included=False) == printed(without_gloss)
