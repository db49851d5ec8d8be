"""Corners and cards proposed from a photo: right on rendered slabs of known corners, or not at all."""

import tomllib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from finishadvisor.evenness.plane import solve_homography
from finishadvisor.evenness.propose import _fits_a_lens, propose_corners
from finishadvisor.evenness.propose_cards import MOST_SKEWED, _skewed, propose_cards

PICTURES = Path(__file__).parents[2] / "reference_images"
WITHIN_SHARE = 0.01
"""Of the diagonal: what a thumb on a phone moves a corner by."""
GROUND, SLAB = (120, 95, 60), (150, 150, 148)


def pictures():
    with (PICTURES / "reference_images.toml").open("rb") as file:
        return tomllib.load(file)["picture"]


def read(picture):
    return np.asarray(Image.open(PICTURES / picture["file"]).convert("RGB"))


def drawn(corners, size=(800, 600), ground=GROUND, slab=SLAB, extra=None):
    """Return a plain picture of one slab, with a little grain."""
    image = Image.new("RGB", size, ground)
    pen = ImageDraw.Draw(image)
    pen.polygon(corners, fill=slab)
    if extra:
        extra(pen)
    grain = np.random.default_rng(5).normal(0, 2, (size[1], size[0], 3))
    return np.clip(np.asarray(image) + grain, 0, 255).astype(np.uint8)


def test_corners_of_rendered_slabs_are_right_or_not_proposed():
    found = 0
    whole = [picture for picture in pictures() if not picture["file"].startswith("refused")]
    for picture in whole:
        rgb = read(picture)
        corners = propose_corners(rgb)
        if corners is None:
            continue
        found += 1
        off = [np.linalg.norm(np.roll(corners, k, axis=0) - picture["corners"], axis=1).max() for k in range(4)]
        assert min(off) < WITHIN_SHARE * np.hypot(*rgb.shape[:2]), picture["file"]
    assert found > len(whole) / 2


def test_the_near_left_corner_comes_first_and_they_go_by_the_near_right():
    true = [(100, 500), (720, 540), (600, 120), (200, 90)]
    assert np.abs(np.subtract(propose_corners(drawn(true)), true)).max() < 4
    mirrored = drawn(true)[:, ::-1]
    assert np.abs(np.subtract(propose_corners(mirrored), [(80, 540), (700, 500), (600, 90), (200, 120)])).max() < 4


@pytest.mark.parametrize(
    ("case", "rgb"),
    [
        ("nothing but slab", drawn([(-9, -9), (900, -9), (900, 700), (-9, 700)])),
        ("the slab runs out of the frame", drawn([(-50, 620), (850, 620), (600, 120), (200, 90)])),
        ("too small", drawn([(270, 460), (530, 460), (510, 260), (290, 260)])),
        ("five sides", drawn([(100, 500), (400, 590), (720, 500), (600, 60), (200, 60)])),
        ("round", drawn([(400 + 280 * np.cos(a), 310 + 260 * np.sin(a)) for a in np.linspace(0, 6.28, 60)])),
        ("as light as the ground", drawn([(100, 500), (720, 540), (600, 120), (200, 90)], ground=(151, 150, 147))),
    ],
)
def test_nothing_is_proposed_where_there_is_doubt(case, rgb):
    assert propose_corners(rgb) is None, case


def test_the_edge_of_a_shadow_is_no_side():
    def shade(pen):
        pen.polygon([(100, 500), (410, 520), (400, 105), (200, 90)], fill=(74, 75, 76))

    assert propose_corners(drawn([(100, 500), (720, 540), (600, 120), (200, 90)], extra=shade)) is None


def test_cards_of_rendered_slabs_lie_where_cards_lie_and_are_of_their_kind():
    found = 0
    for picture in pictures():
        rgb = read(picture)
        for card in propose_cards(rgb, picture["corners"]):
            places = [np.hypot(*np.subtract(sheet["at"], card.at)) for sheet in picture["sheets"]]
            assert min(places, default=np.inf) < WITHIN_SHARE * np.hypot(*rgb.shape[:2]), picture["file"]
            assert card.reflectance in {None, picture["sheets"][int(np.argmin(places))]["reflectance"]}
            found += 1
    assert found >= 5


def test_where_sheets_disagree_about_their_kind_a_person_is_asked_for_each():
    corners = [(60, 560), (740, 560), (640, 60), (160, 60)]

    def sheets(pen):
        pen.rectangle((380, 280, 430, 320), fill=(110, 110, 110))  # may be either kind on this slab
        pen.rectangle((300, 430, 360, 480), fill=(250, 250, 250))  # paper by itself

    def paper(pen):
        pen.rectangle((300, 430, 360, 480), fill=(250, 250, 250))

    found = propose_cards(drawn(corners, slab=(66, 66, 66), extra=sheets), corners)
    assert [card.reflectance for card in found] == [None, None]
    assert [card.reflectance for card in propose_cards(drawn(corners, slab=(66, 66, 66), extra=paper), corners)] == [
        0.85
    ]


def test_a_rectangle_that_a_shadow_cut_short_fits_no_lens():
    """Both sets were found on one rendered slab: its corners, and those where a shadow's edge was taken for a side."""
    true = np.array([(69.4, 1032.0), (1531.6, 927.1), (1173.5, 166.1), (320.0, 201.1)])
    cut = np.array([(67.2, 1032.3), (1533.1, 929.9), (1298.7, 427.9), (285.8, 311.0)])
    assert _fits_a_lens(true, (1200, 1600))
    assert not _fits_a_lens(cut, (1200, 1600))
    square_on = np.array([(300.0, 1000.0), (1300.0, 1000.0), (1100.0, 300.0), (500.0, 300.0)])
    assert not _fits_a_lens(square_on, (1200, 1600)), "the focal length is not given, so nothing is sure"


def test_what_lies_flat_is_a_parallelogram_on_the_slab_and_half_a_spot_is_none():
    corners = np.array([(60.0, 560.0), (740.0, 560.0), (640.0, 60.0), (160.0, 60.0)])
    to_pixels = solve_homography(np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]), corners)

    def seen(places):
        u, v, w = to_pixels @ np.column_stack([places, np.ones(4)]).T
        return np.column_stack([u / w, v / w])

    assert _skewed(seen([(0.4, 0.5), (0.5, 0.45), (0.53, 0.6), (0.43, 0.65)]), corners) < 1e-9
    assert _skewed(seen([(0.4, 0.5), (0.5, 0.5), (0.475, 0.55), (0.425, 0.55)]), corners) > MOST_SKEWED


def test_a_sheet_that_may_be_of_either_kind_is_left_to_a_person_and_a_colored_or_round_thing_is_no_card():
    corners = [(60, 560), (740, 560), (640, 60), (160, 60)]

    def things(pen):
        pen.rectangle((380, 280, 430, 320), fill=(118, 118, 118))
        pen.rectangle((200, 400, 250, 440), fill=(190, 110, 60))

    def doubtful(pen):
        pen.rectangle((380, 280, 430, 320), fill=(110, 110, 110))  # a gray card here, paper on a lighter slab
        pen.ellipse((500, 400, 550, 450), fill=(230, 230, 230))

    (card,) = propose_cards(drawn(corners, extra=things), corners)
    assert np.abs(np.subtract(card.at, (405.5, 300.5))).max() < 2
    assert card.reflectance == 0.18
    (card,) = propose_cards(drawn(corners, slab=(66, 66, 66), extra=doubtful), corners)
    assert np.abs(np.subtract(card.at, (405.5, 300.5))).max() < 2
    assert card.reflectance is None
