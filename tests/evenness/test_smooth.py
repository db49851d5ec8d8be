"""Small pieces against their plain definitions."""

import numpy as np
import pytest
from skimage.filters import threshold_otsu

from finishadvisor.evenness.lines import _fullest_line
from finishadvisor.evenness.smooth import block_means, filled, guided_mean, masked_mean, robust_sd, two_level_cut


def test_the_cut_is_the_one_of_an_independent_library() -> None:
    random = np.random.default_rng(0)
    for share in (0.1, 0.4, 0.8):
        values = np.concatenate([
            random.normal(0, 1, int(2000 * share)),
            random.normal(5, 1.5, int(2000 * (1 - share))),
        ])
        assert two_level_cut(values) == pytest.approx(threshold_otsu(values), abs=0.06)


def test_masked_cells_do_not_count() -> None:
    values = np.array([[1.0, 2, 3], [4, 500, 6], [7, 8, 9]])
    used = values < 100
    assert masked_mean(values, used, 3)[1, 1] == pytest.approx((1 + 2 + 3 + 4 + 6 + 7 + 8 + 9) / 8)
    alone = np.zeros((5, 5), dtype=bool)
    alone[2, 2] = True
    assert np.isnan(masked_mean(np.ones((5, 5)), alone, 3)[2, 2])  # one cell of nine is no mean
    assert filled(values, used)[1, 1] in {2, 4, 6, 8}


def test_blocks_are_means_of_used_cells() -> None:
    values = np.arange(16, dtype=float).reshape(4, 4, 1)
    used = np.ones((4, 4), dtype=bool)
    used[0, :2] = used[1, 0] = False
    means, kept = block_means(values, used, 2)
    assert means[0, 0, 0] == 5
    assert kept.tolist() == [[False, True], [True, True]]


def test_a_guided_mean_keeps_a_shared_edge_and_calms_the_rest() -> None:
    random = np.random.default_rng(1)
    guide = np.zeros((40, 60))
    guide[:, 30:] = 6
    values = guide / 3 + random.normal(0, 0.5, guide.shape)
    found = guided_mean(values, guide, np.ones(guide.shape, dtype=bool), 9, 0.7)
    assert found[:, 25:29].mean() == pytest.approx(0, abs=0.1)
    assert found[:, 31:35].mean() == pytest.approx(2, abs=0.1)
    assert found[:, 5:20].std() < 0.12


def test_spread_is_robust() -> None:
    values = np.random.default_rng(2).normal(3, 2, 4000)
    values[:200] = 1000
    assert robust_sd(values) == pytest.approx(2, rel=0.12)
    assert robust_sd(np.array([np.nan])) == 0


def test_the_fullest_line_is_found() -> None:
    cells = np.zeros((60, 80), dtype=bool)
    for col in range(80):
        cells[round(10 + 0.5 * col), col] = True
    cells[np.random.default_rng(3).integers(0, 60, 30), np.random.default_rng(4).integers(0, 80, 30)] = True
    angle, distance = _fullest_line(cells)
    assert abs(40 * np.cos(angle) + 30 * np.sin(angle) - distance) < 2
    assert abs(np.tan(angle) * 0.5 + 1) < 0.1  # the normal of slope 1/2 has slope -2
