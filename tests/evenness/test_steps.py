"""Steps of shade along a line on the plan: found where loads differ, not found on even or cloudy slabs."""

import numpy as np
import pytest

from finishadvisor.evenness.steps import step_across

from .conftest import falling_light, slab_lab

LINE = [(5.5, 0.0), (6.5, 10.0)]


def with_load(lab: np.ndarray, step, line=LINE, wander_in: float = 0.0, blur_in: float = 4.0) -> np.ndarray:
    """A copy that has another shade right of a line, with a wandering and soft border."""
    (x0, y0), (x1, y1) = line
    y, x = (np.mgrid[: lab.shape[0], : lab.shape[1]] + 0.5) / 24
    border_ft = x0 + (x1 - x0) * (y - y0) / (y1 - y0) + wander_in / 12 * np.sin(y * 1.9)
    amount = 1 / (1 + np.exp(-np.clip((x - border_ft) * 12 * 4.4 / blur_in, -40, 40)))
    return lab + amount[:, :, None] * np.array(step)


def step_in_photo(shoot, lab, line=LINE, **shot):
    shade = shoot(lab, **shot).measured().shade
    return step_across(shade.lab, shade.used, (shade.width_ft, shade.length_ft), line)


@pytest.mark.parametrize("step", [(4.0, 0.3, 0.6), (-2.5, 0.0, -0.4)])
def test_a_load_of_another_shade_steps_at_its_boundary(shoot, step) -> None:
    """The line is the plan's; the border wanders about it by 4 in, under light that falls off."""
    lab = with_load(slab_lab(), step, wander_in=4)
    found = step_in_photo(shoot, lab, light=falling_light(lab, 0.7))
    assert found.found
    assert found.lab[0] == pytest.approx(step[0], rel=0.3)
    assert found.length_ft == pytest.approx(10, abs=1)


def test_a_step_elsewhere_or_across_the_line_is_not_this_load_s(shoot) -> None:
    lab = with_load(slab_lab(), (4.0, 0.3, 0.6), line=[(8.6, 0), (9.4, 10)])
    shade = shoot(lab).measured().shade
    here, across = [(3.0, 0.0), (3.5, 10.0)], [(0.0, 5.0), (12.0, 5.0)]
    size_ft = (shade.width_ft, shade.length_ft)
    assert step_across(shade.lab, shade.used, size_ft, [(8.6, 0), (9.4, 10)]).found
    assert not step_across(shade.lab, shade.used, size_ft, here).found
    assert not step_across(shade.lab, shade.used, size_ft, across).found


@pytest.mark.parametrize("seed", range(6))
def test_an_even_photographed_slab_has_no_step(shoot, seed) -> None:
    lab = slab_lab(lab=(35.0 + 6 * seed, 4.0, 9.0))
    random = np.random.default_rng(seed)
    lab[:, :, 0] += random.normal(0, 0.8, lab.shape[:2])
    found = step_in_photo(shoot, lab, light=falling_light(lab, random.uniform(-1, 1)), seed=seed, curve=0.1)
    assert found is not None
    assert not found.found


def cloudy(seed: int, spread: float) -> np.ndarray:
    """CIELAB of 1 in cells, 12 x 10 ft, with clouds about 8 in wide."""
    from scipy.ndimage import gaussian_filter

    random = np.random.default_rng(seed)
    clouds = gaussian_filter(random.normal(0, 1, (120, 144)), 3)
    lab = np.tile(np.array([52.0, 6.0, 10.0]), (120, 144, 1))
    lab[:, :, 0] += spread * clouds / clouds.std()
    return lab


@pytest.mark.parametrize("spread", [0.3, 1.0, 3.0])
def test_of_many_even_or_cloudy_maps_hardly_one_has_a_step(spread) -> None:
    """200 maps each: at most 1 in 100 may seem to step by chance; a step laid over the same maps is found."""
    used = np.ones((120, 144), dtype=bool)
    size_ft = (12.0, 10.0)
    false = sum(step_across(cloudy(seed, spread), used, size_ft, LINE).found for seed in range(200))
    assert false <= 2
    laid = [cloudy(seed, spread) for seed in range(40)]
    right = (np.arange(144) + 0.5) / 12 > 5.5 + (np.arange(120)[:, None] + 0.5) / 120
    for lab in laid:
        lab[right] += [2 + 2 * spread, 0.4, 0.8]
    assert sum(step_across(lab, used, size_ft, LINE).found for lab in laid) >= 38


@pytest.mark.parametrize(("rows", "found"), [(108, False), (200, True)])
def test_a_border_along_a_short_part_of_the_line_is_no_boundary(rows, found) -> None:
    """20 ft of line, 9 ft or 17 ft of them with a border."""
    lab = np.concatenate([cloudy(1, 0.3), cloudy(2, 0.3)])
    lab[:rows, 72:] += [5, 0, 0]
    step = step_across(lab, np.ones((240, 144), dtype=bool), (12.0, 20.0), [(6, 0), (6, 20)])
    assert step.found is found


def test_too_little_of_the_line_or_of_the_slab_beside_it_tells_nothing() -> None:
    lab, used, size_ft = cloudy(2, 0.3), np.ones((120, 144), dtype=bool), (12.0, 10.0)
    assert step_across(lab, used, size_ft, [(20, 0), (20, 10)]) is None
    assert step_across(lab, used, size_ft, [(6, 0), (6, 3)]) is None
    assert step_across(lab, np.zeros_like(used), size_ft, LINE) is None
    narrow = used.copy()
    narrow[:, :48] = narrow[:, 96:] = False
    assert step_across(lab, narrow, size_ft, [(6, 0), (6, 10)]) is None
