"""The last step of the fit of the light: what lies off all of the slab's shades is taken out, the shades stay."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from finishadvisor.evenness.light_fit import fit_light
from finishadvisor.evenness.light_settle import off_the_crowd, settled
from finishadvisor.evenness.marks import PhotoMarks
from finishadvisor.evenness.plane import plane_of
from finishadvisor.evenness.sample import grid_over
from finishadvisor.evenness.separate import FULL, SIMPLE

GRID, PLANE = grid_over(18, 15, 4.0), plane_of(PhotoMarks(size_ft=(18, 15)), 900, 750)
SHAPE = (GRID.rows, GRID.cols)
USED = np.ones(SHAPE, dtype=bool)


def slab(shade: np.ndarray) -> np.ndarray:
    """Log brightness, ln R/G, ln B/G of a slab of that shade in light that falls by 1.2."""
    x = np.linspace(0, 1, SHAPE[1])[None, :]
    return np.stack([shade - 1.2 * x + 0.3 * x**2, 0 * shade, 0 * shade], axis=2)


def light_left_in(field: np.ndarray, seen: np.ndarray, shade: np.ndarray) -> float:
    return float(np.std((seen - field)[:, :, 0] - shade))


def test_a_value_lies_off_its_own_crowd_not_off_the_mean_of_all() -> None:
    rng = np.random.default_rng(1)
    values = np.concatenate([rng.normal(0, 0.01, 700), rng.normal(0.2, 0.01, 300)])
    off = off_the_crowd(values, 0.01)
    assert np.median(np.abs(off)) < 0.01
    assert off_the_crowd(np.append(values, 0.215), 0.01)[-1] == pytest.approx(0.0075, abs=0.002)  # half of the way


def test_values_that_are_all_the_same_are_hardly_off() -> None:
    assert off_the_crowd(np.full(500, 0.3), 0.006) == pytest.approx(0, abs=0.006 / 4)  # one step of the histogram


@pytest.mark.parametrize("shape", [SIMPLE, FULL])
def test_on_mottled_slabs_less_light_is_left_in(shape) -> None:
    before, after = [], []
    for seed in range(12):
        shade = gaussian_filter(np.random.default_rng(seed).standard_normal(SHAPE), 1.0, mode="wrap")
        shade *= 0.08 / shade.std()
        seen = slab(shade)
        light = fit_light(seen, USED, GRID, PLANE, shape)
        better = settled(light, seen, USED, GRID, PLANE)
        before.append(light_left_in(light.over(PLANE, GRID), seen, shade))
        after.append(light_left_in(better.over(PLANE, GRID), seen, shade))
    assert np.mean(after) < 0.9 * np.mean(before)


def test_a_patch_keeps_its_difference() -> None:
    shade = np.random.default_rng(2).normal(0, 0.01, SHAPE)
    shade[10:30, 12:40] -= 0.25  # two fifths of the slab
    seen = slab(shade)
    light = fit_light(seen, USED, GRID, PLANE, FULL)
    better = settled(light, seen, USED, GRID, PLANE)
    assert light_left_in(better.over(PLANE, GRID), seen, shade) < 0.012


def test_color_is_left_as_it_was_and_few_blocks_settle_nothing() -> None:
    shade = np.random.default_rng(3).normal(0, 0.05, SHAPE)
    light = fit_light(slab(shade), USED, GRID, PLANE, FULL)
    better = settled(light, slab(shade), USED, GRID, PLANE)
    assert np.array_equal(better.table[1:], light.table[1:])
    assert not np.array_equal(better.table[0], light.table[0])
    few = np.zeros(SHAPE, dtype=bool)
    few[:6, :6] = True
    assert settled(light, slab(shade), few, GRID, PLANE) == replace(light)
