"""What is left out and what is reported: joints, cracks, arcs, things, patches and their kinds."""

import numpy as np
import pytest

from finishadvisor.evenness.figures import figures_of, grade_of, mottling, two_shades, window_of
from finishadvisor.evenness.measure import measure
from finishadvisor.evenness.patches import Features, kind_of, patch_cells
from finishadvisor.evenness.sample import Grid
from finishadvisor.evenness.words import (
    CAVEAT_SENTENCES,
    PATCH_SENTENCES,
    REFUSAL_SENTENCES,
    Caveat,
    Grade,
    PatchKind,
    Refusal,
)

from .conftest import patched, slab_lab


def measured(shot):
    return measure(shot.path, shot.marks)


def test_a_saw_cut_is_left_out_and_a_trowel_arc_is_reported(shoot) -> None:
    lab = slab_lab(12, 10)
    lab[:, 150] = [12, 0, 0]
    y, x = np.mgrid[0 : lab.shape[0], 0 : lab.shape[1]] / 24
    ring = np.abs(np.hypot(x - 3, y - 5) - 2.0) < 0.09
    lab[ring & (y > 4)] += [-9, 0, 0]
    found = measured(shoot(lab))
    assert 0.008 < found.evenness.masked["joint-or-crack"] < 0.04
    kinds = {patch.kind for patch in found.evenness.patches}
    assert kinds & {"dark-line", "ring"}
    joint_column = found.shade.used[:, round(150 / 2)]
    assert joint_column.mean() < 0.05


def test_a_crooked_crack_is_left_out(shoot) -> None:
    lab = slab_lab(12, 10)
    col = 120.0
    rng = np.random.default_rng(0)
    for row in range(lab.shape[0]):
        col += rng.choice([-1, 0, 1])
        lab[row, int(col)] = [4, 0, 0]
    found = measured(shoot(lab)).evenness
    assert found.masked["joint-or-crack"] > 0.01
    assert found.share_over["3"] < 0.01


def test_a_wide_dark_stripe_is_no_open_joint(shoot) -> None:
    """A band as dark as a gap, but wider than any: what a sheet or a trowel leaves."""
    stripe = patched(slab_lab(12, 10, (34.0, 0.0, 2.0)), 5, 0, 10 / 12, 10, (-9, 0, 0))
    found = measured(shoot(stripe)).evenness
    assert found.masked.get("joint-or-crack", 0.0) < 0.005
    assert found.share_over["3"] == pytest.approx(10 / 144, abs=0.02)
    gap = patched(slab_lab(12, 10, (34.0, 0.0, 2.0)), 5, 0, 4 / 12, 10, (-18, 0, 0))
    assert measured(shoot(gap)).evenness.masked["joint-or-crack"] > 0.02


def test_a_board_on_the_slab_is_left_out_and_said(shoot) -> None:
    lab = patched(slab_lab(12, 10), 3, 4, 6, 0.6, (20, 4, 24))
    found = measured(shoot(lab)).evenness
    assert found.masked["object"] > 0.03
    assert "objects-left-out" in found.caveats
    assert found.share_over["3"] < 0.01


def test_the_strongest_part_of_a_mark_is_no_thing(shoot) -> None:
    """Where two spots overlap the difference is as large as that of a board, but the slab's mark goes on beyond it."""
    lab = patched(slab_lab(12, 10), 3, 3, 2.5, 2.5, (9, 0, 0))
    lab = patched(lab, 4, 4, 2.5, 2.5, (9, 0, 0))
    found = measured(shoot(lab)).evenness
    assert "object" not in found.masked
    assert found.share_over["3"] == pytest.approx((2 * 6.25 - 2.25) / 120, abs=0.015)
    alone = measured(shoot(patched(slab_lab(12, 10), 4, 4, 1.5, 1.5, (18, 0, 0)))).evenness
    assert alone.masked["object"] > 0.015


def test_a_polygon_that_is_not_slab_is_left_out(shoot) -> None:
    lab = patched(slab_lab(12, 10), 4, 4, 2, 2, (7, 0, 0))
    shot = shoot(lab)
    assert measured(shot).evenness.share_over["3"] > 0.02
    from dataclasses import replace

    from finishadvisor.demo.render import Camera

    camera = Camera((6, -5, 11), (6, 4.4), 1200, 900, 26)
    u, v = camera.pixels_of(np.array([3.7, 6.3, 6.3, 3.7]), np.array([3.7, 3.7, 6.3, 6.3]))
    polygon = tuple(zip(u.tolist(), v.tolist(), strict=True))
    found = measure(shot.path, replace(shot.marks, leave_out=(polygon,))).evenness
    assert found.masked["left-out"] == pytest.approx(2.6**2 / 120, rel=0.1)
    assert found.share_over["3"] < 0.01
    wet = measure(shot.path, replace(shot.marks, wet=(polygon,)))
    assert wet.shade.wet_ratio > 1.1  # the patch is lighter here: the ratio says so


def test_a_patch_must_be_plain_and_big_enough() -> None:
    grid = Grid(60, 60, 5.0, 5.0)
    used = np.ones((60, 60), dtype=bool)
    de00 = np.zeros((60, 60))
    de00[10:14, 10:13] = 4.0  # 12 cells, 0.083 ft²
    assert patch_cells(de00, used, grid, 0.1).max() == 0
    de00[10:14, 10:15] = 4.0  # 20 cells, 0.139 ft²
    assert patch_cells(de00, used, grid, 0.1).max() == 1
    de00[30:50, 30:50] = 2.8  # never plain
    assert patch_cells(de00, used, grid, 0.1).max() == 1
    de00[35, 35] = 3.1  # one plain cell and the whole field belongs
    numbers = patch_cells(de00, used, grid, 0.1)
    assert (numbers[30:50, 30:50] == 1).all()
    assert numbers[11, 11] == 2  # the largest is number 1
    assert (
        patch_cells(de00, used, grid, 1.2).max() == 0
    )  # in grain of 1.2 a peak of 3.1 proves nothing, nor a small one


@pytest.mark.parametrize(
    ("changes", "difference", "kind"),
    [
        ({"area_ft2": 40.0, "edges_touched": 3, "thick_ft": 6.0}, (4, 0, 0), PatchKind.LARGE_SIDE),
        ({"at_edge": 0.45, "thick_ft": 1.2, "long_ft": 9.0}, (-4, 0, 0), PatchKind.EDGE_BAND),
        ({"light": -4.0, "thick_ft": 0.2, "long_ft": 3.0}, (-4, 0, 0), PatchKind.DARK_LINE),
        ({"thick_ft": 0.8, "long_ft": 8.0, "solidity": 0.9}, (4, 0, 0), PatchKind.STRIPE),
        ({"thick_ft": 0.7, "long_ft": 5.4, "short_ft": 1.6, "solidity": 0.3}, (4, 0, 0), PatchKind.RING),
        (
            {"light": -5.0, "thick_ft": 0.7, "long_ft": 6.8, "short_ft": 1.6, "solidity": 0.3},
            (-5, 0, 0),
            PatchKind.DARK_LINE,
        ),
        ({"light": 0.5}, (0.5, 3, 3), PatchKind.HUE),
        ({"area_ft2": 0.3}, (4, 0, 0), PatchKind.SMALL_SPOT),
        ({"chroma": -2.0, "ragged": 2.0}, (4, -1, -2), PatchKind.PALE_LACE),
        ({"light": -4.0, "chroma": 1.0, "edge_ft": 0.8}, (-4, 0.5, 1), PatchKind.DARK_SOFT),
        ({}, (4, 0, 0), PatchKind.PALE),
        ({"light": -4.0}, (-4, 0, 0), PatchKind.DARK),
    ],
)
def test_a_patch_is_named_by_what_it_looks_like(changes, difference, kind) -> None:
    plain = {
        "light": 4.0, "chroma": 0.0, "area_ft2": 3.0, "long_ft": 2.2, "short_ft": 1.8, "thick_ft": 1.6,
        "solidity": 0.95, "edge_ft": 0.2, "at_edge": 0.0, "edges_touched": 0, "ragged": 1.1,
    }  # fmt: skip
    assert kind_of(Features(**{**plain, **changes}), np.array(difference, dtype=float)) == kind


def test_figures_of_a_slab_written_by_hand() -> None:
    lab = np.tile(np.array([50.0, 0, 0]), (10, 10, 1))
    lab[0, :] = [54, 0, 0]  # a tenth of the slab, CIEDE2000 3.93 (gray 50 to 54, Sharma 2005 formula)
    found = figures_of(lab, np.ones((10, 10), dtype=bool))
    assert found.typical_lab == pytest.approx([50, 0, 0])
    assert found.share_over == {2: 0.1, 3: 0.1, 5: 0.0}
    assert found.index == pytest.approx(np.sqrt(0.1 * (3.94 - 1) ** 2), abs=0.01)


def test_grades_follow_their_limits() -> None:
    assert [grade_of(v) for v in (0, 0.299, 0.3, 0.7, 1.3, 2.5)] == [
        Grade.EVEN, Grade.EVEN, Grade.NEARLY_EVEN, Grade.SLIGHTLY_UNEVEN, Grade.UNEVEN, Grade.VERY_UNEVEN,
    ]  # fmt: skip


def test_two_loads_read_as_two_shades_and_one_load_does_not() -> None:
    used = np.ones((80, 100), dtype=bool)
    lab = np.tile(np.array([50.0, 5, 8]), (80, 100, 1)) + np.random.default_rng(0).normal(0, 0.4, (80, 100, 1))
    assert two_shades(lab, used) is None
    lab[:, :40] += [-5, 0, 0]
    larger, smaller = two_shades(lab, used)
    assert larger[0] == pytest.approx(50, abs=0.2)
    assert smaller[0] == pytest.approx(45, abs=0.2)
    lab[:, :30] += [5, 0, 0]  # a tenth only: a patch
    assert two_shades(lab, used) is None


def test_mottling_is_what_lies_between_four_and_twelve_inches() -> None:
    used = np.ones((120, 120), dtype=bool)
    x = np.arange(120)[None, :, None] * np.ones((120, 1, 3))
    eight_in, five_ft = np.sin(2 * np.pi * x / 16) * [2, 0, 0], np.sin(2 * np.pi * x / 120) * [2, 0, 0]
    assert mottling(eight_in, used, 1.0) > 0.8
    assert mottling(five_ft, used, 1.0) < 0.1


def test_windows_are_odd() -> None:
    assert [window_of(3, 1), window_of(6, 1), window_of(3, 3), window_of(3, 0.5)] == [3, 5, 1, 5] or window_of(
        6, 1
    ) == 7


def test_every_word_has_its_sentence() -> None:
    for words, sentences in ((Caveat, CAVEAT_SENTENCES), (Refusal, REFUSAL_SENTENCES), (PatchKind, PATCH_SENTENCES)):
        assert set(sentences) == set(words)
        assert all(text.strip() and "  " not in text for text in sentences.values())
