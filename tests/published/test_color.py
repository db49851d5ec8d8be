"""Color arithmetic against published values; tolerance: half of the last digit printed by the source."""

import numpy as np
import pytest

from finishadvisor.catalog.evenness_limits import evenness_limit
from finishadvisor.evenness.color import color_difference, lab_from_linear, light_from_log, linear_from_lab, log_light
from finishadvisor.evenness.profile import code_values, srgb_encoded, srgb_linear

# Sharma, Wu and Dalal 2005, Color Research and Application 30(1), Table 1; values as in circulation, from memory,
# each checked against two independent implementations.
SHARMA_TABLE_1 = """
50 2.6772 -79.7751  50 0 -82.7485  2.0425
50 3.1571 -77.2803  50 0 -82.7485  2.8615
50 2.8361 -74.0200  50 0 -82.7485  3.4412
50 -1.3802 -84.2814  50 0 -82.7485  1.0000
50 -1.1848 -84.8006  50 0 -82.7485  1.0000
50 -0.9009 -85.5211  50 0 -82.7485  1.0000
50 0 0  50 -1 2  2.3669
50 -1 2  50 0 0  2.3669
50 2.49 -0.001  50 -2.49 0.0009  7.1792
50 2.49 -0.001  50 -2.49 0.0010  7.1792
50 2.49 -0.001  50 -2.49 0.0011  7.2195
50 2.49 -0.001  50 -2.49 0.0012  7.2195
50 -0.001 2.49  50 0.0009 -2.49  4.8045
50 -0.001 2.49  50 0.0010 -2.49  4.8045
50 -0.001 2.49  50 0.0011 -2.49  4.7461
50 2.5 0  50 0 -2.5  4.3065
50 2.5 0  73 25 -18  27.1492
50 2.5 0  61 -5 29  22.8977
50 2.5 0  56 -27 -3  31.9030
50 2.5 0  58 24 15  19.4535
50 2.5 0  50 3.1736 0.5854  1.0000
50 2.5 0  50 3.2972 0  1.0000
50 2.5 0  50 1.8634 0.5757  1.0000
50 2.5 0  50 3.2592 0.3350  1.0000
60.2574 -34.0099 36.2677  60.4626 -34.1751 39.4387  1.2644
63.0109 -31.0961 -5.8663  62.8187 -29.7946 -4.0864  1.2630
61.2901 3.7196 -5.3901  61.4292 2.2480 -4.9620  1.8731
35.0831 -44.1164 3.7933  35.0232 -40.0716 1.5901  1.8645
22.7233 20.0904 -46.6940  23.0331 14.9730 -42.5619  2.0373
36.4612 47.8580 18.3852  36.2715 50.5065 21.2231  1.4146
90.8027 -2.0831 1.4410  91.1528 -1.6435 0.0447  1.4441
90.9257 -0.5406 -0.9208  88.6381 -0.8985 -0.7239  1.5381
6.7747 -0.2908 -2.4247  5.8714 -0.0985 -2.2286  0.6377
2.0776 0.0795 -1.1350  0.9033 -0.0636 -0.5514  0.9082
"""
ROWS = np.array([line.split() for line in SHARMA_TABLE_1.strip().splitlines()], dtype=np.float64)
ON_THE_HUE_JUMP = 13
"""Pair 14 lies exactly on a jump of the formula: rounding decides the side, 4.8045 or 4.7461."""


@pytest.mark.parametrize("number", range(len(ROWS)))
def test_ciede2000_matches_table_1_of_sharma(number: int) -> None:
    row = ROWS[number]
    found = float(color_difference(row[None, :3], row[None, 3:6])[0])
    assert found == pytest.approx(row[6], abs=0.06 if number == ON_THE_HUE_JUMP else 5e-5)


def test_the_table_is_whole() -> None:
    assert ROWS.shape == (34, 7)


@pytest.mark.parametrize(
    ("codes", "lab"),
    [
        # sRGB primaries, IEC 61966-2-1 with D65 and the 2 degree observer, two decimals as usually printed
        ((255, 0, 0), (53.24, 80.09, 67.20)),
        ((0, 255, 0), (87.73, -86.18, 83.18)),
        ((0, 0, 255), (32.30, 79.19, -107.86)),
        # gray codes, IEC 61966-2-1 and ISO/CIE 11664-4, computed there to the digits given
        ((128, 128, 128), (53.585, 0, 0)),
        ((119, 119, 119), (50.03, 0, 0)),
        ((80, 80, 80), (34.03, 0, 0)),
        ((64, 64, 64), (27.09, 0, 0)),
    ],
)
def test_srgb_codes_have_their_published_lab(codes: tuple[int, ...], lab: tuple[float, ...]) -> None:
    linear = srgb_linear(code_values(False)[list(codes)])
    assert lab_from_linear(linear) == pytest.approx(lab, abs=0.006 if codes[0] != codes[1] else 0.005)


@pytest.mark.parametrize(
    ("y", "lightness"), [(0.184187, 50.0), (0.18, 49.50), (0.10, 37.84), (0.05, 26.73), (0.01, 8.99)]
)
def test_lightness_of_gray_reflectance(y: float, lightness: float) -> None:
    # ISO/CIE 11664-4
    assert lab_from_linear(np.full(3, y))[0] == pytest.approx(lightness, abs=0.005)


@pytest.mark.parametrize(
    ("first", "second", "difference"),
    [(50, 55, 4.910), (60, 65, 4.250), (35, 40, 4.250), (30, 35, 3.986), (30, 32.5, 1.963)],
)
def test_a_gray_scale_step_shrinks_on_charcoal(first: float, second: float, difference: float) -> None:
    # computed by the formula of Sharma et al. 2005 to three decimals
    found = color_difference(np.array([[first, 0.0, 0.0]]), np.array([[second, 0.0, 0.0]]))[0]
    assert found == pytest.approx(difference, abs=5e-4)


def test_gray_scales_have_their_published_spacing() -> None:
    # CIB Report 24 as restated by PTV 21-601 (2016): 5.0; the Belgian scale: 17 cards at 2.5
    assert evenness_limit("cib-step") == 5.0
    assert evenness_limit("belgian-step") == 2.5
    # OeVBB guideline, FT1: within four adjacent steps, hence at most three intervals
    assert evenness_limit("austrian-ft1-steps") == 3


def test_the_whole_color_path_agrees_with_an_independent_library() -> None:
    import colour

    codes = np.random.default_rng(3).integers(0, 256, (400, 3))
    own = lab_from_linear(srgb_linear(code_values(False)[codes]))
    xyz = colour.sRGB_to_XYZ(codes / 255)
    other = colour.XYZ_to_Lab(xyz, colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"])
    assert np.abs(own - other).max() < 0.06  # six- against four-digit primaries and white
    reference = colour.difference.delta_E_CIE2000(other[:200], other[200:])
    assert color_difference(other[:200], other[200:]) == pytest.approx(reference, abs=5e-5)
    assert srgb_linear(codes / 255) == pytest.approx(colour.models.eotf_sRGB(codes / 255), abs=1e-7)


def test_color_functions_undo_one_another() -> None:
    lab = np.array([[50.0, 10, -20], [20, -5, 5], [4, 0, 0], [90, 0, 10]])
    assert lab_from_linear(linear_from_lab(lab)) == pytest.approx(lab, abs=1e-9)
    light = np.array([[0.2, 0.3, 0.1]])
    assert light_from_log(log_light(light)) == pytest.approx(light, abs=1e-12)
    assert srgb_linear(srgb_encoded(np.array([0.001, 0.2, 0.9]))) == pytest.approx([0.001, 0.2, 0.9], abs=1e-5)
