"""Shade maps: the same in vectors and pixels, true to the cells, and every word on the picture."""

import io
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image, ImageFont

from finishadvisor.papers.figures import PAPER
from finishadvisor.papers.pixels import DOTS_PER_INCH
from finishadvisor.papers.shade_map import PANEL_IN, shade_map_png, shade_map_svg
from finishadvisor.papers.shade_scale import END_OF_BAR, colors, signed_difference
from finishadvisor.papers.svg_font import FACES
from finishadvisor.papers.typeset import font_folder

SVG = "{http://www.w3.org/2000/svg}"


def texts_of(svg):
    return list(ElementTree.fromstring(svg).iter(f"{SVG}text"))


def words_of(svg):
    return [text.text for text in texts_of(svg)]


def places_of_pictures(svg):
    """Return left, top, right and foot of photo, map and bar [pt]."""
    boxes = []
    for image in ElementTree.fromstring(svg).iter(f"{SVG}image"):
        x, y, wide, high = (float(image.get(name)) for name in ("x", "y", "width", "height"))
        boxes.append((x, y, x + wide, y + high))
    return boxes


def test_shade_maps_come_in_feet_and_meters(example):
    measured = example.floors[0].measurements[0]
    us, metric = (shade_map_png(measured, units=units) for units in ("us", "metric"))
    assert us.startswith(b"\x89PNG")
    assert us != metric
    us, metric = (words_of(shade_map_svg(measured, units=units, panel_in=2.3)) for units in ("us", "metric"))
    assert "along the first side, ft" in us
    assert "along the first side, m" in metric
    assert {"15", "10"} <= set(us)
    assert "15" not in metric


def test_the_same_map_is_the_same_file(example):
    measured = example.floors[0].measurements[0]
    assert shade_map_png(measured) == shade_map_png(measured)
    assert shade_map_svg(measured, units="us", panel_in=2) == shade_map_svg(measured, units="us", panel_in=2)


def test_a_refused_photo_has_no_map(example):
    refused = replace(example.floors[0].measurements[0], shade=None)
    with pytest.raises(ValueError, match="refused"):
        shade_map_png(refused)


def test_a_map_for_a_client_bears_no_figure_of_color(example):
    measured = example.floors[0].measurements[0]
    told, untold = (
        " ".join(words_of(shade_map_svg(measured, units="us", panel_in=2.3, figures=figures)))
        for figures in (True, False)
    )
    assert "CIEDE2000" in told
    assert "%" in told
    assert "CIEDE2000" not in untold
    assert "%" not in untold


@pytest.mark.parametrize(("width_ft", "length_ft"), [(13.0, 18.0), (140.0, 45.0), (20.0, 130.0), (9.5, 9.5)])
@pytest.mark.parametrize("figures", [True, False])
def test_no_words_of_a_map_run_off_it(example, width_ft, length_ft, figures):
    font = ImageFont.truetype(str(font_folder() / FACES[400]), 1000, layout_engine=ImageFont.Layout.BASIC)
    measured = example.floors[0].measurements[0]
    shade = replace(measured.shade, width_ft=width_ft, length_ft=length_ft)
    evenness = measured.evenness.model_copy(update={"patches": ()})  # they lie on a slab of another size
    svg = shade_map_svg(replace(measured, shade=shade, evenness=evenness), units="us", panel_in=2.3, figures=figures)
    wide, high = (float(side) for side in ElementTree.fromstring(svg).get("viewBox").split()[2:])
    seen = texts_of(svg)
    assert len(seen) >= 10
    for text in seen:
        size, x, y = (float(text.get(name)) for name in ("font-size", "x", "y"))
        long = font.getlength(text.text) * size / 1000
        before = {"start": 0, "middle": 0.5, "end": 1}[text.get("text-anchor")] * long
        if text.get("transform"):
            left, right, top, foot = x - 0.75 * size, x + 0.25 * size, y - long + before, y + before
        else:
            left, right, top, foot = x - before, x - before + long, y - 0.75 * size, y + 0.25 * size
        assert left >= 0 and right <= wide, text.text
        assert top >= 0 and foot <= high, text.text


@pytest.mark.parametrize(("width_ft", "length_ft"), [(13.0, 18.0), (140.0, 45.0), (20.0, 130.0)])
def test_photo_map_and_bar_stand_apart_and_to_scale(example, width_ft, length_ft):
    measured = example.floors[0].measurements[0]
    shade = replace(measured.shade, width_ft=width_ft, length_ft=length_ft)
    photo, map_, bar = places_of_pictures(shade_map_svg(replace(measured, shade=shade), units="us", panel_in=2.3))
    for left, top, right, foot in (photo, map_):
        assert (right - left) / (foot - top) == pytest.approx(width_ft / length_ft, rel=0.01)
    assert photo[2] < map_[0]
    assert map_[2] < bar[0]


def test_cells_have_their_color_where_they_lie(example):
    measured = example.floors[0].measurements[1]
    shade = measured.shade
    pixels = np.asarray(Image.open(io.BytesIO(shade_map_png(measured))).convert("RGB"), dtype=float)
    _, (left, top, right, foot), _ = places_of_pictures(shade_map_svg(measured, units="us", panel_in=PANEL_IN))
    wanted = colors(signed_difference(shade))[::-1]
    rows, cols = shade.used.shape
    down = ((top + (np.arange(rows) + 0.5) / rows * (foot - top)) * DOTS_PER_INCH / 72).astype(int)
    across = ((left + (np.arange(cols) + 0.5) / cols * (right - left)) * DOTS_PER_INCH / 72).astype(int)
    seen = pixels[np.ix_(down, across)]
    off = np.abs(seen - wanted[..., :3]).max(axis=2)[wanted[..., 3] > 0]
    assert np.mean(off <= 1) > 0.97  # but for outlines and numbers of patches


def test_what_was_left_out_is_hatched(example):
    shade = example.floors[0].measurements[0].shade
    left_out = replace(shade, used=np.zeros_like(shade.used))
    pixels = np.asarray(
        Image.open(io.BytesIO(shade_map_png(replace(example.floors[0].measurements[0], shade=left_out))))
    )
    _, (left, top, right, foot), _ = places_of_pictures(
        shade_map_svg(example.floors[0].measurements[0], units="us", panel_in=PANEL_IN)
    )
    scale = DOTS_PER_INCH / 72
    inside = pixels[int(top * scale) + 9 : int(foot * scale) - 9, int(left * scale) + 9 : int(right * scale) - 9]
    paper = [int(PAPER[start : start + 2], 16) for start in (1, 3, 5)]
    blank = (np.abs(inside.astype(int) - paper).max(axis=2) <= 1).mean()
    assert 0.5 < blank < 0.95


def test_the_scale_runs_from_dark_to_light_and_ends_at_its_ends():
    ends = colors(np.array([-99.0, -END_OF_BAR, 0.0, END_OF_BAR, 99.0, np.nan]))
    assert ends[0].tolist() == ends[1].tolist() == [45, 0, 75, 255]
    assert ends[2].tolist() == [247, 247, 247, 255]
    assert ends[3].tolist() == ends[4].tolist() == [127, 59, 8, 255]
    assert ends[5][3] == 0


def test_darker_is_negative_and_left_out_is_no_number(example):
    shade = example.floors[0].measurements[1].shade
    signed = signed_difference(shade)
    assert np.isnan(signed[~shade.used]).all()
    dark = shade.used & (shade.lab[:, :, 0] < shade.typical_lab[0] - 2)
    assert dark.any()
    assert (signed[dark] < 0).all()
