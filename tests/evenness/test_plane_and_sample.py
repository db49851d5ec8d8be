"""The plane and the cells: exact on made planes, area-correct, free of aliasing at the far edge."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishadvisor.demo.render import Camera
from finishadvisor.errors import UsageError
from finishadvisor.evenness.marks import PhotoMarks, check_marks
from finishadvisor.evenness.photo import Photo
from finishadvisor.evenness.plane import plane_of, solve_homography
from finishadvisor.evenness.profile import read_profile
from finishadvisor.evenness.sample import grid_over, resampled, sample_cells


def photo_of(picture: np.ndarray) -> Photo:
    return Photo(picture, read_profile(None), ())


@settings(max_examples=40, deadline=None)
@given(
    x=st.floats(-8, 20), away=st.floats(2, 15), height=st.floats(4, 15), wide=st.floats(6, 30), deep=st.floats(6, 25)
)
def test_corners_give_back_every_place(x: float, away: float, height: float, wide: float, deep: float) -> None:
    camera = Camera((x, -away, height), (wide / 2, deep / 2), 4000, 3000)
    corners = np.array(camera.corners_px(wide, deep))
    places = np.array([(0, 0), (wide, 0), (wide, deep), (0, deep)], dtype=float)
    h = solve_homography(places, corners)
    u, v = camera.pixels_of(np.array([wide * 0.3]), np.array([deep * 0.6]))
    found = h @ [wide * 0.3, deep * 0.6, 1]
    assert found[:2] / found[2] == pytest.approx([u[0], v[0]], abs=0.05)


def test_known_points_serve_instead_of_corners() -> None:
    camera = Camera((5, -6, 9), (5, 4), 1200, 900)
    places = ((1.0, 1.0), (9.0, 2.0), (8.0, 7.0), (2.0, 6.5), (5.0, 4.0))
    u, v = camera.pixels_of(np.array([p[0] for p in places]), np.array([p[1] for p in places]))
    points = tuple(((float(a), float(b)), place) for a, b, place in zip(u, v, places, strict=True))
    plane = plane_of(PhotoMarks(points=points, size_ft=(10, 8)), 1200, 900)
    corners = np.column_stack(plane.to_pixels(np.array([0.0, 10, 10, 0]), np.array([0.0, 0, 8, 8])))
    assert corners == pytest.approx(np.array(camera.corners_px(10, 8)), abs=0.02)


def test_points_in_a_line_or_at_odds_are_refused() -> None:
    line = tuple(((10.0 * k, 20.0), (float(k), 1.0)) for k in range(4))
    with pytest.raises(UsageError, match="line"):
        plane_of(PhotoMarks(points=line, size_ft=(4, 4)), 100, 100)
    odd = (((0, 0), (0, 0)), ((100, 0), (10, 0)), ((100, 100), (10, 10)), ((0, 100), (0, 10)), ((50, 50), (9, 1)))
    with pytest.raises(UsageError, match="contradict"):
        plane_of(PhotoMarks(points=odd, size_ft=(10, 10)), 100, 100)


@pytest.mark.parametrize(
    ("marks", "words"),
    [
        (PhotoMarks(size_ft=(10, 8), sheets=(((900, 5), 0.18),)), "card"),
        (PhotoMarks(size_ft=(10, 8), sheets=(((9, 5), 1.8),)), "reflectance"),
        (PhotoMarks(size_ft=(10, 8), leave_out=(((1, 1), (2, 2)),)), "polygon"),
        (PhotoMarks(size_ft=(10, 8), leave_out=(((101, 1), (150, 2), (120, 9)),)), "outside the photo"),
        (PhotoMarks(size_ft=(10, 8), wet=(((1, -9), (5, -1), (9, -9)),)), "outside the photo"),
        (PhotoMarks(points=(((1, 1), (0, 0)),)), "at least 4"),
        (PhotoMarks(size_ft=(float("nan"), 8)), "side"),
        (PhotoMarks(size_ft=(0.2, 8)), "0.2 ft"),
        (PhotoMarks(), "size"),
    ],
)
def test_marks_say_what_is_wrong(marks: PhotoMarks, words: str) -> None:
    with pytest.raises(UsageError, match=words):
        check_marks(marks, 100, 80)


def test_a_pixel_s_center_is_half_a_pixel_in() -> None:
    picture = np.zeros((4, 6, 3), dtype=np.uint8)
    picture[1, 2] = 255  # row 1 from the top, column 2
    plane = plane_of(PhotoMarks(corners=((0, 4), (6, 4), (6, 0), (0, 0)), size_ft=(6 / 12, 4 / 12)), 6, 4)
    cells = sample_cells(photo_of(picture), plane, grid_over(6 / 12, 4 / 12, 1.0)).rgb[:, :, 1]
    assert np.argwhere(cells > 0.9).tolist() == [[2, 2]]  # row 0 at the bottom, where the origin is
    assert plane.to_feet(2.5, 1.5) == pytest.approx((2.5 / 12, 2.5 / 12))


def test_far_cells_do_not_alias() -> None:
    """Stripes of one pixel at the far end average out to their mean there."""
    picture = np.zeros((600, 800, 3), dtype=np.uint8)
    picture[:, ::2] = 255
    corners = ((0, 600), (800, 600), (500, 100), (300, 100))
    plane = plane_of(PhotoMarks(corners=corners, size_ft=(10, 20)), 800, 600)
    light = sample_cells(photo_of(picture), plane, grid_over(10, 20, 3.0))
    assert light.rgb[:, :, 1].mean() == pytest.approx(0.5, abs=0.02)
    assert light.rgb[-5:, :, 1].std() < 0.2
    assert light.px_per_in[-1, 0, 0] < light.px_per_in[0, 0, 0]


def test_light_not_codes_is_averaged() -> None:
    picture = np.zeros((40, 40, 3), dtype=np.uint8)
    picture[:, ::2] = 255
    plane = plane_of(PhotoMarks(size_ft=(1, 1)), 40, 40)
    light = sample_cells(photo_of(picture), plane, grid_over(1, 1, 3.0)).rgb
    assert light.mean() == pytest.approx(0.5, abs=0.04)  # a mean of codes would give 0.21


def test_cells_out_of_the_frame_are_known() -> None:
    points = (((0, 100), (0, 0)), ((100, 100), (5, 0)), ((100, 0), (5, 5)), ((0, 0), (0, 5)))
    plane = plane_of(PhotoMarks(points=points, size_ft=(10, 5)), 100, 100)
    light = sample_cells(photo_of(np.full((100, 100, 3), 90, np.uint8)), plane, grid_over(10, 5, 3.0))
    assert light.in_frame[:, :19].all()
    assert not light.in_frame[:, 21:].any()


def test_resampling_keeps_a_plane_and_the_mask() -> None:
    grid, wanted = grid_over(4, 4, 1.0), grid_over(4, 4, 2.0)
    y, x = np.mgrid[0 : grid.rows, 0 : grid.cols].astype(float)
    used = np.ones((grid.rows, grid.cols), dtype=bool)
    used[:12] = False
    values, kept = resampled((x + 2 * y)[:, :, None], used, grid, wanted)
    assert kept[:6].sum() == 0
    assert kept[7:].all()
    assert values[10, 3, 0] == pytest.approx((2 * 3 + 0.5) + 2 * (2 * 10 + 0.5))
