"""Drawing a floor that is no rectangle, in a real browser on a phone: wall after wall, by thumb."""

import re

import pytest

from finishadvisor.job.folder import open_job
from finishadvisor.job.outline import area_ft2
from tests.web.running import PHONE, browser_path, served

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(browser_path() is None, reason="no Chromium, Chrome or Edge on this machine"),
]


@pytest.fixture
def phone(chromium, jobs):
    """The floor's page on a phone; whatever a script complains of fails the test."""
    complaints = []
    with served(jobs) as address:
        context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
        page = context.new_page()
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.goto(address + "/job/shed/1/floor")
        yield page
        context.close()
    assert not complaints


def outline_of(jobs):
    return open_job(jobs / "shed").job.floors[0].outline


def open_outline(page):
    page.get_by_role("link", name="Enter its walls").tap()
    page.wait_for_selector("#drawing[data-ready]")


def told(page):
    return page.locator("#plan-note").inner_text()


def walk(page, walls):
    """Enter walls as a person does who walks along them with a tape."""
    for number, (turn, length) in enumerate(walls, start=1):
        if number > 1:
            page.get_by_role("button", name="Add a wall").tap()
        page.keyboard.type(length)  # the new entry has the focus
        if turn:
            page.get_by_label("Then turn").last.select_option(label=turn)


def test_an_l_shape_wall_after_wall(phone, jobs):
    open_outline(phone)
    phone.get_by_role("button", name="Enter walls").tap()
    walk(phone, [("", "24ft"), ("left", "10ft"), ("left", "16ft"), ("right", "8ft"), ("left", "8ft")])
    assert told(phone).startswith("304 ft². The wall from corner 6 back to corner 1 comes out at 18'")
    walk_on = phone.get_by_role("button", name="Add a wall")
    walk_on.tap()
    phone.keyboard.type("17ft 8in")
    assert told(phone).startswith('It does not close: the last wall ends 4" beside corner 1.')
    phone.keyboard.press("Control+A")
    phone.keyboard.type("18ft")
    assert told(phone) == "It closes: 304 ft²."
    phone.reload()
    phone.get_by_text("What you entered before is back. It is not saved yet.").wait_for()
    phone.wait_for_selector("#drawing[data-ready]")
    assert told(phone).startswith("304 ft²")
    phone.get_by_role("button", name="Save the outline").tap()
    phone.wait_for_url("**/floor?saved")
    assert area_ft2(outline_of(jobs)) == 304
    assert len(outline_of(jobs).polygons[0]) == 6, "the corner that lies on the first is one corner"
    assert phone.locator("svg.plan .length").count() == 6
    phone.get_by_role("link", name="Change the outline").tap()
    phone.wait_for_selector("#drawing[data-ready]")
    assert phone.get_by_text("What you entered before is back").count() == 0


def test_walls_that_cross_are_said_while_they_are_typed_and_refused_by_name(phone, jobs):
    open_outline(phone)
    phone.get_by_role("button", name="Enter walls").tap()
    walk(phone, [("", "10ft"), ("left", "10ft"), ("left", "5ft"), ("left", "15ft")])
    assert told(phone) == "Walls 1 and 4 cross. Go around once, in order."
    phone.get_by_role("button", name="Save the outline").tap()
    phone.get_by_text(re.compile("polygon 1 crosses or touches itself near")).wait_for()
    phone.wait_for_selector("#drawing[data-ready]")
    assert told(phone) == "Walls 1 and 4 cross. Go around once, in order.", "what was drawn is lost"
    assert outline_of(jobs) is None


def test_rectangles_a_cut_out_a_joint_and_steps(phone, jobs):
    open_outline(phone)
    phone.get_by_role("button", name="Add a rectangle").tap()
    phone.keyboard.type("20ft")
    phone.get_by_label("Side along y").fill("10ft")
    phone.get_by_role("button", name="Cut something out").tap()
    cut = phone.get_by_role("group", name="Cut-out 1")
    cut.get_by_label("Corner 1 lies at x").fill("4ft")
    cut.get_by_label("Corner 1 lies at y").fill("4ft")
    cut.get_by_label("Wall 1", exact=True).fill("2ft")
    for _ in range(2):
        cut.get_by_role("button", name="Add a wall").tap()
        phone.keyboard.type("2ft")
    phone.get_by_text("Joints and cracks").tap()
    phone.get_by_role("button", name="Add a joint").tap()
    joint = phone.get_by_role("group", name="Joint 1")
    joint.get_by_label("From x").fill("10ft")
    joint.get_by_label("To x").fill("10ft")
    joint.get_by_label("To y").fill("10ft")
    phone.get_by_text("Steps that get the same finish").tap()
    phone.get_by_role("button", name="Add a flight of steps").tap()
    for label, text in (("Number of steps", "2"), ("Width", "4ft"), ("Tread", "11in"), ("Riser", "7in")):
        phone.get_by_role("group", name="Flight 1").get_by_label(label).fill(text)
    phone.get_by_role("button", name="Save the outline").tap()
    phone.wait_for_url("**/floor?saved")
    outline = outline_of(jobs)
    assert area_ft2(outline) == pytest.approx(196)
    assert outline.joints[0].end == (10, 10)
    assert outline.steps[0].count == 2


def test_lengths_are_read_as_the_program_reads_them(phone):
    """The drawing goes by the same lengths as the commands."""
    from finishadvisor.job.lengths import read_place_ft, write_length

    typed = ["24ft 6in", "24' 6 1/2\"", "24.5", "7.5 m", "750 cm", "3in", "6 1/2in", "-4ft 2in", "24 ft", "12' 3¼\""]
    script = "async (typed) => { const m = await import('/static/lengths.js'); return typed.map(t => m.feetOf(t)) }"
    assert phone.evaluate(script, typed) == pytest.approx([read_place_ft(text) for text in typed])
    no_length = ["", "six", "4 feet and more", "1/0x", "--3"]
    assert phone.evaluate(script, no_length) == [None] * 5
    feet = [0, 0.03125, 0.5, 24.5, 24.541666, 9.999, -3.25, 100]
    written = (
        "async (feet) => { const m = await import('/static/lengths.js'); return feet.map((f) => m.lengthText(f)); }"
    )
    for text, each in zip(phone.evaluate(written, feet), feet, strict=True):
        assert write_length(read_place_ft(text)) == write_length(each), text


def test_the_length_beside_a_wall_is_not_cut_off(phone):
    open_outline(phone)
    phone.get_by_role("button", name="Add a rectangle").tap()
    phone.get_by_label("Side along x").fill("60ft")
    phone.get_by_label("Side along y").fill("18ft 10 1/2in")
    plan = phone.locator("#plan").bounding_box()
    for text in phone.locator("#plan text.length").all():
        box = text.bounding_box()
        assert box["x"] >= plan["x"], text.inner_html()
        assert box["x"] + box["width"] <= plan["x"] + plan["width"], text.inner_html()
    assert phone.locator("#plan text.length").count() == 2
