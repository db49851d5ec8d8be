"""How far a peak stands out, against the general-purpose reference `scipy.signal.peak_prominences`."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.signal import find_peaks, peak_prominences

from finishadvisor.evenness.glare import prominence

heights = st.lists(st.integers(-6, 6), min_size=3, max_size=40)


@given(heights)
def test_every_peak_stands_out_as_far_as_the_reference_says(profile: list[int]) -> None:
    values = np.array(profile, dtype=np.float64)
    peaks, _ = find_peaks(values)
    for peak, wanted in zip(peaks, peak_prominences(values, peaks)[0], strict=True):
        assert prominence(values, int(peak)) == wanted


def test_a_bump_on_the_paler_of_two_shades_rises_from_that_one() -> None:
    assert prominence(np.array([0.0, 0, 5, 5, 9, 5, 5]), 4) == 4
