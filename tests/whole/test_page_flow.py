"""The whole job in a real browser: from an empty folder to the papers, on a phone by touch, on a laptop by keyboard."""

import json
from importlib import resources
from pathlib import Path

import pytest

from finishadvisor.job.folder import open_job
from tests.web.running import LAPTOP, PHONE, browser, browser_path, served

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(browser_path() is None, reason="no Chromium, Chrome or Edge on this machine"),
]

CORNERS = ((174.4, 981.4), (1425.5, 981.4), (1130.4, 279.2), (469.6, 279.2))
"""Where the slab's corners lie in the example's photo of the yard, as it was rendered."""
LONG_MS = 120_000
"""For whatever is waited for: a machine with other work to do may take its time, and nothing here is about speed."""
PAINTED = "() => performance.getEntriesByName('first-contentful-paint').length > 0"
"""Keys that are pressed before a page was painted for the first time are dropped by the browser."""


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """A photo as it comes from a phone: another name, and a note of the place."""
    from PIL import Image

    original = resources.files("finishadvisor.demo").joinpath("job", "photos", "kiln-yard.jpg")
    path = tmp_path / "IMG 0042.jpg"
    with original.open("rb") as file, Image.open(file) as image:
        exif = Image.Exif()
        exif.get_ifd(0x8825)[1] = "N"
        image.save(path, quality=90, exif=exif)
    return path


@pytest.fixture
def site(tmp_path: Path):
    """The page over an empty folder, and the folder."""
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    with served(jobs) as address:
        yield address, jobs


def check_job(folder: Path) -> None:
    """Check that the folder holds what was done in the browser."""
    floor = open_job(folder).job.floors[0]
    assert floor.outline.rectangles[0].x == 12
    assert floor.answers["use"] == "patio"
    assert floor.decision is not None
    marked = floor.photos[0]
    assert marked.size == (12, 14)
    for corner, true in zip(marked.corners, CORNERS, strict=True):
        assert abs(corner[0] - true[0]) < 12, marked.corners
        assert abs(corner[1] - true[1]) < 12, marked.corners
    papers = {path.name for path in (folder / "papers").iterdir()}
    assert {"order-list.pdf", "floor-client-sheet.pdf", "plan.ics", "order.csv"} <= papers


def drag_by_touch(page, touch, handle, to) -> None:
    """Drag a handle with one finger, as the browser's own touch events."""
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for share in (0.25, 0.5, 0.75, 1.0):
        point = {"x": x + (to[0] - x) * share, "y": y + (to[1] - y) * share}
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    assert loupe_is_shown(page), "no magnifier while a corner is dragged"
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def loupe_is_shown(page) -> bool:
    return page.locator(".handle.held").count() == 1


def on_screen(page, pixel):
    """Return where a pixel of the photo lies on the screen."""
    box = page.locator("#photo").bounding_box()
    return box["x"] + pixel[0] / 1600 * box["width"], box["y"] + pixel[1] / 1200 * box["height"]


def begin_by_touch(page) -> None:
    page.get_by_role("link", name="Begin a job").tap()
    page.get_by_label("What is the job called?").fill("Yard")
    page.get_by_label("outdoors", exact=True).tap()
    page.get_by_label("What is the floor used for?").select_option("patio")
    page.get_by_role("button", name="Begin the job").tap()
    page.wait_for_url("**/floor")
    page.get_by_label("First side").fill("12ft")
    page.get_by_label("Second side").fill("14ft")
    page.get_by_label("Poured, or to be poured, on").fill("2026-08-10")
    page.get_by_role("button", name="Save sides and dates").tap()
    page.wait_for_url("**/floor?saved")
    assert page.get_by_text("Saved.").is_visible()


def mark_by_touch(page, touch) -> None:
    page.wait_for_selector("#marking[data-looked]")
    for number, true in enumerate(CORNERS, start=1):
        handle = page.get_by_role("button", name=f"Corner {number}")
        handle.scroll_into_view_if_needed()
        drag_by_touch(page, touch, handle, on_screen(page, true))
    moved = page.locator("#marks").input_value()
    page.get_by_role("button", name="Undo").tap()
    assert page.locator("#marks").input_value() != moved
    drag_by_touch(page, touch, page.get_by_role("button", name="Corner 4"), on_screen(page, CORNERS[3]))
    page.get_by_label("Cards", exact=True).tap()
    page.touchscreen.tap(*on_screen(page, (550.8, 678.8)))
    assert page.get_by_label("Card 1 is a").count() == 1
    page.get_by_label("First side, 1 to 2").fill("12ft")
    page.get_by_label("Second side, 2 to 3").fill("14ft")
    page.get_by_role("button", name="Save the marks").tap()


def look_at_a_patch(page) -> None:
    first = page.locator("a.patch").first
    first.scroll_into_view_if_needed()
    first.tap()
    page.wait_for_url("**/evenness#patch-1-1")
    page.reload()
    assert "#patch-1-1" in page.url, "where one was is lost on reload"


def test_from_an_empty_folder_to_the_papers_on_a_phone_by_touch(site, photo):
    address, jobs = site
    with browser() as chromium:
        context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
        context.set_default_timeout(LONG_MS)
        page = context.new_page()
        page.goto(address)
        begin_by_touch(page)
        page.get_by_role("link", name="Add photos").tap()  # what was saved leads on
        page.get_by_label("Photos of the slab").set_input_files(photo)
        page.get_by_role("button", name="Send the photos").tap()
        page.get_by_role("link", name="Mark the corners").tap()
        mark_by_touch(page, context.new_cdp_session(page))
        page.get_by_role("button", name="Measure the photos").tap()
        page.wait_for_url("**/evenness")
        look_at_a_patch(page)

        page.get_by_role("link", name="Compare the finishes").tap()
        page.get_by_role("link", name="Look closely at the first choice").tap()
        page.get_by_label("Decided by").fill("the client")
        page.get_by_role("button", name="Decide for this finish").tap()
        page.wait_for_url("**/finishes/*?saved")
        page.get_by_role("link", name="Order", exact=True).tap()
        page.get_by_role("link", name="Look at the schedule").tap()
        page.get_by_role("link", name="Go on to the papers").tap()
        page.get_by_role("button", name="Make the papers").tap()
        page.wait_for_url("**/work")
        page.reload()  # long work outlives a reload
        page.wait_for_url("**/papers")
        assert page.locator('a[href$="/papers/order-list.pdf"]').count() == 1
        context.close()
    check_job(jobs / "yard")


def go_to(page, role: str, name: str, most: int = 400) -> None:
    """Press Tab until something has the focus; whoever has no mouse must be able to get there."""
    wanted = page.get_by_role(role, name=name).first
    wanted.wait_for()
    page.wait_for_function(PAINTED)
    for _ in range(most):
        if wanted.evaluate("(e) => e === document.activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{role} {name!r} cannot be reached by Tab")


def press(page, role: str, name: str, key: str = "Enter") -> None:
    go_to(page, role, name)
    page.keyboard.press(key)


def type_into(page, name: str, text: str) -> None:
    go_to(page, "textbox", name)
    page.keyboard.press("Control+A")
    page.keyboard.type(text)


def move_by_keys(page, number: int, true) -> None:
    """Move a corner with the arrow keys, in long strides and then in short ones."""
    go_to(page, "button", f"Corner {number}")

    def now():
        return json.loads(page.locator("#marks").input_value())["corners"][number - 1]

    for axis, keys in ((0, ("ArrowRight", "ArrowLeft")), (1, ("ArrowDown", "ArrowUp"))):
        for stride, held in ((20, "Shift+"), (2, "")):
            off = true[axis] - now()[axis]
            for _ in range(int(abs(off) // stride)):
                page.keyboard.press(held + keys[0 if off > 0 else 1])


def begin_by_keyboard(page, address):
    """Begin a job for a patio, and give its sides."""
    page.goto(address)
    press(page, "link", "Begin a job")
    page.wait_for_url("**/new")
    type_into(page, "What is the job called?", "Yard")
    go_to(page, "combobox", "What is the floor used for?")
    page.keyboard.type("patio")
    press(page, "button", "Begin the job")
    page.wait_for_url("**/floor")
    type_into(page, "First side", "12ft")
    type_into(page, "Second side", "14ft")
    press(page, "button", "Save sides and dates")
    page.wait_for_url("**/floor?saved")


def measure_by_keyboard(page, photo):
    """Send a photo, mark its corners with the arrow keys, and have it measured."""
    press(page, "link", "Photos")
    page.wait_for_url("**/photos")
    go_to(page, "button", "Photos of the slab")
    with page.expect_file_chooser() as chooser:
        page.keyboard.press("Space")
    chooser.value.set_files(photo)
    press(page, "button", "Send the photos")
    press(page, "link", "Mark the corners")
    page.wait_for_selector("#marking[data-looked]")
    for number, true in enumerate(CORNERS, start=1):
        move_by_keys(page, number, true)
    type_into(page, "First side, 1 to 2", "12ft")
    type_into(page, "Second side, 2 to 3", "14ft")
    press(page, "button", "Save the marks")
    press(page, "button", "Measure the photos")
    page.wait_for_url("**/evenness")


def decide_by_keyboard(page):
    """Look at the first choice, decide for it, and have the papers made."""
    press(page, "link", "Compare the finishes")
    page.wait_for_url("**/finishes")
    press(page, "link", "Look closely at the first choice")
    page.wait_for_url("**/finishes/*")
    press(page, "button", "Decide for this finish")
    page.wait_for_url("**/finishes/*?saved")
    press(page, "link", "Papers")
    page.wait_for_url("**/papers")
    press(page, "button", "Make the papers")
    page.wait_for_url("**/work")
    page.wait_for_url("**/papers")


def test_from_an_empty_folder_to_the_papers_on_a_laptop_by_keyboard(site, photo):
    address, jobs = site
    with browser() as chromium:
        context = chromium.new_context(viewport=LAPTOP)
        context.set_default_timeout(LONG_MS)
        page = context.new_page()
        # Listened for from the start: else the key may reach a busy page before it is told to hand its chooser over.
        page.on("filechooser", lambda _: None)
        begin_by_keyboard(page, address)
        measure_by_keyboard(page, photo)
        decide_by_keyboard(page)
        assert page.locator('a[href$="/papers/order-list.pdf"]').count() == 1
        context.close()
    check_job(jobs / "yard")


def test_work_can_be_stopped_in_the_browser(site, photo):
    address, _ = site
    with browser() as chromium:
        page = chromium.new_page()
        page.set_default_timeout(LONG_MS)
        page.goto(address + "/new")
        page.get_by_label("What is the job called?").fill("Yard")
        page.get_by_role("button", name="Begin the job").click()
        page.get_by_role("link", name="Papers").click()
        page.get_by_role("button", name="Make the papers").click()
        page.get_by_role("button", name="Stop it").click()
        page.get_by_text("Stopped. What was finished before is kept.").wait_for()


def test_nothing_is_asked_of_any_other_machine(site):
    address, _ = site
    asked = []
    with browser() as chromium:
        page = chromium.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.on(
            "console", lambda message: asked.append(f"console: {message.text}") if message.type == "error" else None
        )
        for path in ("/", "/new"):
            page.goto(address + path)
    assert len(asked) > 4
    assert [url for url in asked if not url.startswith(address + "/")] == []
