"""The outline of a floor of any shape on the page: what job.toml holds, what is typed, what is refused."""

import html
import json
import re

import pytest

from finishadvisor.job.folder import open_job
from finishadvisor.job.outline import area_ft2

OUTLINE = "/job/shed/1/outline"
L_SHAPE = [["0", "0"], ["24ft", "0"], ["24ft", "10ft"], ["8ft", "10ft"], ["8ft", "18ft"], ["0", "18ft"]]
EMPTY = {
    "rectangles": [], "polygons": [], "cut_outs": [], "steps": [], "joints": [], "edge": "", "cove": "", "origin": "",
    "x_direction": "",
}  # fmt: skip


def shape_of(answer):
    return json.loads(html.unescape(re.search(r'name="shape" id="shape" value="([^"]*)"', answer.text)[1]))


def sent(page, shape, **fields):
    return page.post(OUTLINE, {"version": page.version("shed"), "shape": json.dumps(shape), **fields})


def floor_of(jobs):
    return open_job(jobs / "shed").job.floors[0]


def test_walls_become_an_outline_that_the_commands_read(page, jobs):
    shape = shape_of(page.get(OUTLINE))
    assert shape == EMPTY
    shape["polygons"] = [{"was": None, "corners": L_SHAPE}]
    assert sent(page, shape).headers["location"] == "/job/shed/1/floor?saved"
    assert area_ft2(floor_of(jobs).outline) == 24 * 10 + 8 * 8
    floor = page.get("/job/shed/1/floor").text
    assert "304 ft²" in floor
    assert 'name="first_side"' not in floor


def test_everything_that_an_outline_holds_is_shown_and_stays(page, jobs):
    text = (jobs / "pottery" / "job.toml").read_text(encoding="utf-8")
    shape = shape_of(page.get("/job/pottery/1/outline"))
    answer = page.post("/job/pottery/1/outline", {"version": page.version("pottery"), "shape": json.dumps(shape)})
    assert answer.status_code == 303
    assert (jobs / "pottery" / "job.toml").read_text(encoding="utf-8") == text


def test_a_wrong_outline_is_shown_again_with_every_mistake_in_the_words_of_the_commands(page, jobs):
    before = (jobs / "shed" / "job.toml").read_bytes()
    crossed = [["0", "0"], ["10", "0"], ["0", "ten"], ["10", "10"]]
    shape = {**EMPTY, "polygons": [{"was": None, "corners": crossed}], "cove": "-3"}
    answer = sent(page, shape)
    assert answer.status_code == 400
    assert "is not a length" in html.unescape(answer.text)
    assert "is below zero" in html.unescape(answer.text)
    assert shape_of(answer) == shape
    assert (jobs / "shed" / "job.toml").read_bytes() == before


def test_an_outline_from_an_older_page_is_held_back_and_can_be_saved_knowingly(page, jobs):
    from finishadvisor.job.edits import answer

    old = page.version("shed")
    answer(jobs / "shed", "Floor", {"sun": "full"})
    shape = json.dumps({**EMPTY, "rectangles": [{"was": None, "corner": ["", ""], "x": "9", "y": "8"}]})
    held = page.post(OUTLINE, {"version": old, "shape": shape})
    assert held.status_code == 409
    assert "as you drew it" in held.text
    assert page.post(OUTLINE, {"version": page.version("shed"), "shape": shape}).status_code == 303
    assert area_ft2(floor_of(jobs).outline) == 72


@pytest.mark.parametrize(
    "shape",
    ["", "[]", "{", '{"rectangles": 4}', '{"evil": 1}', "[" * 50_000, json.dumps({**EMPTY, "edge": "9" * 3000}),
     json.dumps({**EMPTY, "polygons": [{"was": None, "corners": [["0", "0"]] * 3000}]}),
     json.dumps({**EMPTY, "rectangles": [{"was": "../x", "corner": ["", ""], "x": "9", "y": "8"}]})],
)  # fmt: skip
def test_what_no_page_sends_is_refused_and_nothing_is_written(page, jobs, shape):
    before = (jobs / "shed" / "job.toml").read_bytes()
    answer = page.post(OUTLINE, {"version": page.version("shed"), "shape": shape})
    assert answer.status_code == 400
    assert "did not arrive whole" in answer.text
    assert (jobs / "shed" / "job.toml").read_bytes() == before


def test_sides_still_change_a_plain_rectangle_on_the_floor_itself(page, jobs):
    page.post("/job/shed/1/floor/about", {"version": page.version("shed"), "first_side": "9ft", "second_side": "8ft"})
    text = page.get("/job/shed/1/floor").text
    assert 'name="first_side"' in text
    assert "72 ft²" in text
    cut = {"was": None, "corners": [["1", "1"], ["2", "1"], ["2", "2"], ["1", "2"]]}
    assert sent(page, {**shape_of(page.get(OUTLINE)), "cut_outs": [cut]}).status_code == 303
    page.post("/job/shed/1/floor/about", {"version": page.version("shed"), "first_side": "9ft", "second_side": "10ft"})
    assert area_ft2(floor_of(jobs).outline) == 89
