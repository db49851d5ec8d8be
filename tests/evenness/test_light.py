"""Light and shade parted: light in every form goes, edges stay; cards bring level and drift back."""

import numpy as np
import pytest

from finishadvisor.evenness.color import linear_from_lab
from finishadvisor.evenness.light import Shape
from finishadvisor.evenness.light_fit import fit_light
from finishadvisor.evenness.marks import PhotoMarks
from finishadvisor.evenness.measure import measure
from finishadvisor.evenness.plane import plane_of
from finishadvisor.evenness.sample import grid_over
from finishadvisor.evenness.separate import FULL, MEDIUM, SIMPLE, separate

from .conftest import falling_light, patched, slab_lab


def test_a_field_of_its_own_form_is_found_exactly_under_a_patch() -> None:
    grid = grid_over(20, 16, 4.0)
    plane = plane_of(PhotoMarks(size_ft=(20, 16)), 1000, 800)
    x, y = (v / s for v, s in zip(np.meshgrid(*grid.centers_ft()), (20, 16), strict=True))
    truth = np.stack([0.5 * x - 0.4 * y * y + 0.2 * x * y, 0.05 * x, -0.1 * y], axis=2)
    marked = truth + np.random.default_rng(1).normal(0, 0.004, truth.shape)
    marked[10:28, 12:40] += [0.25, 0.03, -0.02]  # a fifth of the slab, another shade
    used = np.ones((grid.rows, grid.cols), dtype=bool)
    light = fit_light(marked, used, grid, plane, Shape(2, 2, radial=False))
    field = light.over(plane, grid)
    assert light.at(plane, *np.meshgrid(*grid.centers_ft())) == pytest.approx(field, abs=1e-9)
    off = field - truth
    assert np.ptp(off[..., 0]) < 0.02  # the patch alone is 0.25
    assert np.ptp(off[..., 1:], axis=(0, 1)).max() < 0.02


def test_a_band_along_all_walls_stays_in_the_shade() -> None:
    """Wall terms can follow such a band; from even weights alone the fit eats half of it."""
    grid, plane = grid_over(16, 14, 4.0), plane_of(PhotoMarks(size_ft=(16, 14)), 960, 840)
    x, y = np.meshgrid(*grid.centers_ft())
    band = np.minimum(np.minimum(x, 16 - x), np.minimum(y, 14 - y)) < 1
    shade = np.random.default_rng(3).normal(0, [0.006, 0.002, 0.002], (grid.rows, grid.cols, 3))
    shade[..., 0] -= 0.2 * band
    seen = shade - np.stack([1.2 * y / 14, 0 * y, 0 * y], axis=2)
    field = fit_light(seen, np.ones(band.shape, dtype=bool), grid, plane, FULL).over(plane, grid)
    left = (seen - field)[..., 0]
    assert np.median(left[~band]) - np.median(left[band]) == pytest.approx(0.2, abs=0.02)


def test_the_form_follows_the_light() -> None:
    rgb = np.full((200, 240, 3), 0.2) * np.exp(np.random.default_rng(0).normal(0, 0.02, (200, 240, 1)))
    used = np.ones((200, 240), dtype=bool)
    grid, plane = grid_over(20, 200 / 12, 1.0), plane_of(PhotoMarks(size_ft=(20, 200 / 12)), 960, 800)
    steep = np.exp(np.linspace(0, 1.4, 240))[None, :, None]
    assert separate(rgb, used, grid, plane).light.shape == SIMPLE
    assert separate(rgb * steep, used, grid, plane).light.shape == FULL


def test_in_the_middle_range_a_flexible_form_must_explain_markedly_more() -> None:
    grid, plane = grid_over(20, 200 / 12, 1.0), plane_of(PhotoMarks(size_ft=(20, 200 / 12)), 960, 800)
    used = np.ones((200, 240), dtype=bool)
    across, down = np.meshgrid(np.linspace(0, 1, 240), np.linspace(0, 1, 200))
    grain = np.random.default_rng(0).normal(0, 0.02, used.shape)
    plain = 0.4 * across
    pool = plain + 0.25 * np.exp(-((across - 0.3) ** 2 + (down - 0.4) ** 2) / 0.05)
    shapes = [separate(0.2 * np.exp(np.dstack([light + grain] * 3)), used, grid, plane).light.shape
              for light in (plain, pool)]  # fmt: skip
    assert shapes == [MEDIUM, FULL]


def test_colored_light_is_taken_out_too(shoot) -> None:
    lab = slab_lab()
    warm = np.linspace(0, 1, lab.shape[1])[None, :, None]
    light = (1 - warm) * np.array([0.85, 1.0, 1.2]) + warm * np.array([1.2, 1.0, 0.7]) * 0.8
    shot = shoot(lab, light=np.broadcast_to(light, lab.shape))
    found = measure(shot.path, shot.marks).evenness
    assert found.share_over["3"] < 0.01
    assert found.patches == ()


def test_steep_light_bears_a_caveat_and_its_size(shoot) -> None:
    lab = slab_lab()
    found = shoot(lab, light=falling_light(lab, 1.7), noise=0.004).measured().evenness
    assert found.lighting.ratio == pytest.approx(np.exp(1.7 * 0.96), rel=0.25)
    assert "light-steep" in found.caveats
    assert found.share_over["3"] < 0.02


def test_a_card_gives_the_level(shoot) -> None:
    lab = slab_lab(lab=(34.0, 8.0, 9.0))
    shot = shoot(lab, cards=((6, 5),))
    with_card = measure(shot.path, shot.marks).evenness
    assert with_card.level == "sheet"
    assert with_card.typical_lab == pytest.approx((34, 8, 9), abs=1.2)
    stated = measure(shot.path, shot.marks, stated_lab=(34.0, 8.0, 9.0)).evenness
    assert stated.level == "stated"
    assert stated.typical_lab == pytest.approx((34, 8, 9), abs=0.3)


def test_five_cards_bring_back_a_drift_that_the_light_field_ate(shoot) -> None:
    lab = slab_lab(16, 14)
    lab[:, :, 0] += np.linspace(-4, 4, lab.shape[1])[None, :]
    cards = ((8, 7), (2, 2), (14, 2), (14, 12), (2, 12))
    found = shoot(lab, cards=cards).measured()
    across = np.nanmean(np.where(found.shade.used, found.shade.lab[:, :, 0], np.nan), axis=0)
    assert "drift-from-cards" in found.evenness.caveats
    assert np.nanmean(across[-30:-10]) - np.nanmean(across[10:30]) == pytest.approx(8 * 0.79, abs=1.5)
    without = shoot(lab).measured()
    across = np.nanmean(np.where(without.shade.used, without.shade.lab[:, :, 0], np.nan), axis=0)
    assert abs(np.nanmean(across[-30:-10]) - np.nanmean(across[10:30])) < 1.5  # one photo alone cannot tell


def test_a_blown_card_is_not_used(shoot) -> None:
    shot = shoot(slab_lab(lab=(22.0, 0.0, 0.0)), cards=((6, 5),), gain=7.0)
    found = measure(shot.path, shot.marks).evenness
    assert found.level == "assumed"
    assert "cards-unusable" in found.caveats


def sun_and_sky(seen: np.ndarray, sky: float = 0.35) -> np.ndarray:
    blue, yellow = np.array([0.8, 0.95, 1.3]), np.array([1.06, 1.0, 0.88])
    return sky * blue + seen[:, :, None] * (1 - sky) * yellow


def test_a_cast_shadow_is_taken_out_and_said(shoot) -> None:
    lab = patched(slab_lab(16, 12), 9, 3, 2, 2, (5, 0, 0))
    x = np.linspace(0, 16, lab.shape[1])[None, :] + np.linspace(0, 2, lab.shape[0])[:, None]
    found = shoot(lab, light=sun_and_sky(1 / (1 + np.exp(-(x - 6) * 24)))).measured()
    assert "shadow-removed" in found.evenness.caveats
    assert found.evenness.masked["shadow-edge"] > 0.01
    assert found.evenness.share_over["3"] == pytest.approx(4 / 192, abs=0.02)


@pytest.mark.parametrize(
    ("cards", "level"),
    [
        (((3.0, 9.0),), "sheet"),
        (((12.0, 9.0),), "sheet"),
        (((3.0, 9.0), (12.0, 9.0)), "sheet"),
        (((6.0, 6.0),), "assumed"),
    ],
)
def test_a_card_gives_the_same_level_in_the_sun_and_in_the_shade_and_none_on_their_border(shoot, cards, level) -> None:
    lab = slab_lab(16, 12, lab=(36.0, 6.0, 9.0))
    x = np.linspace(0, 16, lab.shape[1])[None, :] * np.ones((lab.shape[0], 1))
    found = shoot(lab, light=sun_and_sky(1 / (1 + np.exp(-(x - 6) * 24))), cards=cards).measured().evenness
    assert "shadow-removed" in found.caveats
    assert found.level == level
    if level == "sheet":
        assert found.typical_lab == pytest.approx((36, 6, 9), abs=2.0)


def test_a_band_of_sun_near_white_on_a_red_slab_is_taken_out(shoot) -> None:
    """The camera holds red back there, so that the sunny side looks less red than the shade, not redder."""
    lab = patched(slab_lab(16, 12, lab=(55.0, 22.0, 18.0)), 11, 3, 3, 3, (-6, 0, 0))
    x = np.linspace(0, 16, lab.shape[1])[None, :] + np.linspace(0, 2, lab.shape[0])[:, None]
    band = 1 / (1 + np.exp(-(2 - np.abs(x - 6)) * 24))
    found = shoot(lab, light=sun_and_sky(band, 0.5), gain=2.1, curve=0.25).measured()
    assert "shadow-removed" in found.evenness.caveats
    assert found.evenness.share_over["3"] == pytest.approx(9 / 192, abs=0.03)


@pytest.mark.parametrize("change", [(14, -12, -10), (18, -16, -14)])
def test_paler_concrete_on_a_red_slab_is_no_sun(shoot, change) -> None:
    lab = slab_lab(16, 12, lab=(50.0, 20.0, 17.0))
    lab[:, 170:] += change
    found = shoot(lab, gain=1.6, curve=0.25).measured().evenness
    assert "shadow-removed" not in found.caveats
    assert found.share_over["3"] > 0.3


def test_a_load_border_is_no_shadow(shoot) -> None:
    lab = slab_lab(16, 12)
    lab[:, :170] += [-7, -1, -2]
    found = shoot(lab).measured().evenness
    assert "shadow-removed" not in found.caveats
    assert found.share_over["3"] > 0.3


def test_dappled_light_is_said_and_mostly_taken_out(shoot) -> None:
    from scipy.ndimage import gaussian_filter

    lab = slab_lab(14, 12)
    blobs = gaussian_filter(np.random.default_rng(2).standard_normal(lab.shape[:2]), 12)
    seen = 1 / (1 + np.exp(-5 * blobs / blobs.std()))
    found = shoot(lab, light=sun_and_sky(seen)).measured().evenness
    assert "dappled-light" in found.caveats
    assert found.p95_de00 < 5  # the light itself spans 25 L*
    assert 40 < found.typical_lab[0] < 58  # the photo's own middle, exposed to mid-gray, not that of its sunny part


def test_the_map_is_less_sure_where_the_share_of_sun_is(shoot) -> None:
    from scipy.ndimage import gaussian_filter

    lab = slab_lab(14, 12)
    blobs = gaussian_filter(np.random.default_rng(4).standard_normal(lab.shape[:2]), 12)
    seen = 1 / (1 + np.exp(-5 * blobs / blobs.std()))
    shade = shoot(lab, light=sun_and_sky(seen), noise=0.012).measured().shade
    off = np.abs(shade.lab[..., 0] - np.median(shade.lab[..., 0][shade.used]))[shade.used]
    assert (off < 2 * shade.error_L[shade.used]).mean() > 0.9
    assert np.median(shade.error_L[shade.used]) < 3  # sure enough to be of use


def test_under_dappled_light_an_even_slab_reads_even_and_a_patch_stays(shoot) -> None:
    from scipy.ndimage import gaussian_filter

    lab = slab_lab(14, 12, lab=(56.0, 0.0, 2.0))
    blobs = gaussian_filter(np.random.default_rng(11).standard_normal(lab.shape[:2]), 5)
    light = sun_and_sky(1 / (1 + np.exp(-4 * blobs / blobs.std())))
    assert shoot(lab, light=light).measured().evenness.share_over["2"] < 0.04  # twice that where all is believed
    found = shoot(patched(lab, 4, 4, 4, 4, (-8, 0, 0)), light=light).measured()
    lightness = np.where(found.shade.used, found.shade.lab[:, :, 0], np.nan)
    inside = np.zeros(lightness.shape, dtype=bool)
    inside[54:90, 54:90] = True
    assert np.nanmedian(lightness[~inside]) - np.nanmedian(lightness[inside]) > 4


def test_a_streak_toward_the_camera_is_left_out(shoot) -> None:
    lab = slab_lab(16, 14)
    x = np.linspace(0, 16, lab.shape[1])[None, :] * np.ones((lab.shape[0], 1))
    streak = 0.05 * np.exp(-0.5 * ((x - 8) / 0.9) ** 2)[:, :, None] * np.ones(3)
    found = shoot(lab, glare=streak).measured().evenness
    assert "glare-left-out" in found.caveats
    assert found.share_over["3"] < 0.02


def test_a_streak_on_a_slab_of_two_shades_takes_none_of_the_paler_one_with_it(shoot) -> None:
    lab = slab_lab(16, 14)
    lab[:, :100] += [-7, 0, 0]
    x = np.linspace(0, 16, lab.shape[1])[None, :] * np.ones((lab.shape[0], 1))
    streak = 0.05 * np.exp(-0.5 * ((x - 10) / 0.7) ** 2)[:, :, None] * np.ones(3)
    found = shoot(lab, glare=streak).measured().evenness
    assert "glare-left-out" in found.caveats
    assert found.masked["glare"] < 0.35  # the paler shade is 0.74 of the slab
    assert found.share_over["3"] == pytest.approx(0.26 / 0.7, abs=0.1)


def test_linear_from_lab_is_what_the_camera_saw(shoot) -> None:
    shot = shoot(slab_lab(grain=0.0), noise=0.0, fall_off=0.0, gain=1.0)
    middle = shot.picture[450, 600] / 255
    seen = np.where(middle <= 0.04045, middle / 12.92, ((middle + 0.055) / 1.055) ** 2.4)
    assert seen == pytest.approx(linear_from_lab(np.array([52.0, 6, 10])), abs=0.01)


@pytest.mark.parametrize("shape", [SIMPLE, FULL])
def test_a_field_on_a_grid_is_the_field_at_its_points(shape) -> None:
    grid = grid_over(14, 9, 6.0)
    corners = ((100, 700), (900, 690), (700, 200), (250, 210))
    plane = plane_of(PhotoMarks(corners=corners, size_ft=(14, 9)), 1000, 800)
    balance = np.random.default_rng(0).normal(0, 0.1, (grid.rows, grid.cols, 3))
    light = fit_light(balance, np.ones((grid.rows, grid.cols), dtype=bool), grid, plane, shape)
    assert light.at(plane, *np.meshgrid(*grid.centers_ft())) == pytest.approx(light.over(plane, grid), abs=1e-9)
