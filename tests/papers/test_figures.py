"""Pictures: the floor plan to scale, charts that say what the records say."""

import base64
import io
import re
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image, ImageFont

from finishadvisor.job.document import Floor
from finishadvisor.papers.floor_plan import floor_plan, places_of
from finishadvisor.papers.make import list_papers, make_paper
from finishadvisor.papers.pictures import (
    PHOTO_SIDE_PX,
    bare_reflectance,
    encoded,
    largest_bay,
    marked_photo,
    sealed_picture,
)

SVG = "{http://www.w3.org/2000/svg}"


def words_of(svg):
    return [" ".join(node.itertext()).strip() for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def floor_of(**outline):
    return Floor.model_validate({"name": "Test", "outline": outline}, context={"metric": False})


L_SHAPE = {"polygons": [[[0, 0], [34, 0], [34, 14], [22, 14], [22, 6], [0, 6]]]}


def test_plan_gives_every_side_and_zone():
    joints = [{"kind": "control", "start": [11, 0], "end": [11, 6]}]
    words = words_of(floor_plan(floor_of(**L_SHAPE, joint=joints), "us"))
    for length in ("34'", "11'", "12'", "14'", "6'", "8'"):
        assert length in words
    assert {"A", "B"} <= set(words)
    assert {"66 ft²", "234 ft²"} <= set(words)


def test_plan_is_metric_where_the_job_is():
    words = words_of(floor_plan(floor_of(rectangle=[{"x": 20, "y": 10}]), "metric"))
    assert "6.096 m" in words
    assert "3.048 m" in words


def test_short_sides_in_a_chain_stand_beside_their_line():
    hole = {"cut_outs": [[[27, 2], [29.5, 2], [29.5, 4], [27, 4]]]}
    svg = floor_plan(floor_of(rectangle=[{"x": 30, "y": 20}], **hole), "metric").decode()
    assert {"9.144 m", "8.23", "0.762", "0.152"} <= set(words_of(svg))
    places = {words: float(y) for y, words in re.findall(r' y="([\d.]+)"[^>]*>([^<]+)</text>', svg)}
    assert places["0.152"] > places["8.23"] + 8  # the others of the chain stand above the line
    assert places["0.762"] == places["8.23"]


def test_plan_is_to_scale():
    svg = floor_plan(floor_of(rectangle=[{"x": 30, "y": 10}]), "us").decode()
    path = re.search(r'<g id="floor">\s*<path d="([^"]+)"', svg)[1]
    (x0, y0), (x1, y1), (x2, y2) = [
        (float(x), float(y)) for x, y in re.findall(r"[ML] ([\d.]+) ([\d.]+)", path)[:3]
    ]  # fmt: skip
    sides = sorted([np.hypot(x1 - x0, y1 - y0), np.hypot(x2 - x1, y2 - y1)])
    assert sides[1] / sides[0] == pytest.approx(3.0, rel=1e-3)


def test_test_places_are_marked_by_their_number(example):
    floor = example.floors[0].floor
    assert [place.label for place in places_of(floor)] == ["1", "2", "3"]
    words = words_of(floor_plan(floor, "us"))
    assert {"1", "2", "3"} <= set(words)


def test_no_plan_without_an_outline():
    assert floor_plan(Floor(name="Test"), "us") is None


def test_a_long_thin_floor_and_one_of_many_corners_can_be_drawn():
    comb = [[0, 0], [40, 0], [40, 10]] + [
        point for x in range(36, 0, -4) for point in ([x, 10], [x, 8], [x - 2, 8], [x - 2, 10])
    ]
    for floor in (floor_of(rectangle=[{"x": 200, "y": 2}]), floor_of(polygons=[[*comb, [0, 10]]])):
        words = words_of(floor_plan(floor, "us"))
        assert "200'" in words or "40'" in words


def test_the_same_figure_is_the_same_file(example):
    floor = example.floors[1].floor
    assert floor_plan(floor, "us") == floor_plan(floor, "us")


def test_a_bare_finish_looks_like_the_measured_shade(example):
    shade = largest_bay(example.floors[0].measurements)
    picture = np.asarray(Image.open(io.BytesIO(sealed_picture(shade, example.catalog.finishes["bare"].sealed_look))))
    drawn = np.median(picture.reshape(-1, 3), axis=0)
    from skimage.color import rgb2lab

    lab = rgb2lab(drawn[None, None] / 255)[0, 0]
    assert lab == pytest.approx(shade.typical_lab, abs=1.5)


def test_a_closed_film_darkens_and_a_tint_evens_out(example):
    shade = largest_bay(example.floors[0].measurements)
    finishes = example.catalog.finishes

    def drawn(finish):
        picture = Image.open(io.BytesIO(sealed_picture(shade, finishes[finish].sealed_look))).convert("L")
        return np.asarray(picture, dtype=float)

    assert drawn("acrylic-solvent").mean() < drawn("bare").mean() - 5
    assert drawn("acrylic-tinted").std() < drawn("acrylic-solvent").std()


def test_cells_left_out_take_the_shade_beside_them(example):
    shade = largest_bay(example.floors[0].measurements)
    assert (~shade.used).any()
    bare = bare_reflectance(shade)
    assert np.isfinite(bare).all()
    assert bare.min() >= 0
    assert bare.max() <= 1


def test_encoding_of_srgb():
    # IEC 61966-2-1: linear 0.2140 is about signal 0.5 (from memory)
    assert encoded(np.array([0.0, 0.2140, 1.0])).tolist() == pytest.approx([0, 127.5, 255], abs=0.6)


def test_marks_are_drawn_where_they_are(example):
    photo = example.floors[0].floor.photos[1]
    path = example.folder / "photos" / photo.file
    with Image.open(path) as original:
        scale = PHOTO_SIDE_PX / max(original.size)
    marked = Image.open(io.BytesIO(marked_photo(path, photo))).convert("RGB")
    x, y = (round(value * scale) for value in photo.corners[0])
    red, green, blue = np.asarray(marked)[y, x].astype(int)
    assert blue > red + 40
    assert blue > green


def test_a_photo_that_cannot_be_opened_has_no_picture(tmp_path, example):
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(b"no photo")
    assert marked_photo(broken, example.floors[0].floor.photos[0]) is None


@pytest.mark.parametrize("kind", ["plan", "costs", "trade-off", "days"])
def test_a_picture_by_itself_brings_its_font(kind, example):
    name = next(paper.name for paper in list_papers(example) if paper.name.endswith(f"-{kind}.svg"))
    svg = make_paper(example, name).decode("utf-8")
    weights = {"400", *re.findall(r"font-weight: (\d+)", svg)}
    faces = re.findall(
        r"@font-face{font-family:'([^']+)';font-weight:(\d+);src:url\(data:font/otf;base64,([^)]+)\)}", svg
    )
    assert {weight for _, weight, _ in faces} == weights
    for family, _, content in faces:
        assert f"font-family: '{family}'" in svg
        assert ImageFont.truetype(io.BytesIO(base64.b64decode(content))).getname()[0] == family
