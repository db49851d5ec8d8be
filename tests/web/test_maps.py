"""The page's map has the very colors of the papers' map."""

import matplotlib as mpl
import numpy as np

from finishadvisor.papers.shade_scale import DARKER_TO_LIGHTER


def test_the_scale_is_the_one_of_the_papers():
    theirs = mpl.colormaps["PuOr_r"](np.linspace(0, 1, len(DARKER_TO_LIGHTER)), bytes=True)[:, :3]
    assert np.abs(theirs.astype(int) - DARKER_TO_LIGHTER).max() <= 2, "256 steps of the papers' scale lie this close"
