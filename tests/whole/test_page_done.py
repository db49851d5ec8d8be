"""A task that is done in part, written down on the page: by thumb on a phone, and without any script."""

import pytest

from finishadvisor.demo.example import copy_example
from finishadvisor.job.folder import open_job
from tests.web.running import PHONE, browser_path, served
from tests.whole.test_page_access import SMALLEST_BUTTON_PX, violations

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(browser_path() is None, reason="no Chromium, Chrome or Edge on this machine"),
]

DAYS = "/job/pottery/days"
FLOOR = "Glaze room"
TASK = f"Vacuum twice and wipe, {FLOOR}"


@pytest.fixture
def site(tmp_path):
    copy_example(tmp_path / "pottery")
    with served(tmp_path) as address:
        yield address


def done_rows(tmp_path):
    return next(floor for floor in open_job(tmp_path / "pottery").job.floors if floor.name == FLOOR).done


def test_zones_are_ticked_by_thumb(chromium, site, tmp_path):
    context = chromium.new_context(viewport=PHONE, has_touch=True, bypass_csp=True)
    page = context.new_page()
    page.goto(site + DAYS)
    page.get_by_text("Write down what is finished").tap()
    page.get_by_label("Task").select_option(label=TASK)
    assert not page.get_by_text("Zones done on").first.is_visible(), "all of it is chosen at first"
    page.get_by_label("a part of it").tap()
    assert page.get_by_text(f"Zones done on {FLOOR}").is_visible()
    assert page.get_by_text("Zones done on").locator("visible=true").count() == 1, "zones of another floor"
    page.get_by_label("A", exact=True).locator("visible=true").tap()
    small = [box for each in page.locator("#done-part .choice:visible, #done-part input[inputmode]").all()
             if (box := each.bounding_box())["height"] < SMALLEST_BUTTON_PX]  # fmt: skip
    assert not small
    page.locator("#done-area").evaluate(
        "entry => entry.scrollIntoView({ block: 'center' })"
    )  # clear of the next step's bar
    assert violations(page) == []
    page.get_by_label("Or the area done").fill("9")
    page.get_by_role("button", name="Save what is finished").tap()
    page.get_by_text("one of the two").wait_for()
    assert page.get_by_label("Or the area done").input_value() == "9", "what was entered stands there"
    assert violations(page) == []
    page.get_by_label("Or the area done").fill("")
    page.get_by_role("button", name="Save what is finished").tap()
    page.locator(".notice.saved").wait_for()
    assert [row.zones for row in done_rows(tmp_path)] == [("A",)]
    context.close()


def test_a_part_is_written_down_without_script(chromium, site, tmp_path):
    context = chromium.new_context(viewport=PHONE, java_script_enabled=False)
    page = context.new_page()
    page.goto(site + DAYS)
    page.get_by_text("Write down what is finished").click()
    page.get_by_label("Task").select_option(label=TASK)
    page.get_by_label("Or the area done").fill("20")
    page.get_by_role("button", name="Save what is finished").click()
    page.get_by_text("is chosen. Choose one of the two").wait_for()
    assert done_rows(tmp_path) == ()
    page.get_by_label("a part of it").check()
    page.get_by_role("button", name="Save what is finished").click()
    page.locator(".notice.saved").wait_for()
    assert [row.area_ft2 for row in done_rows(tmp_path)] == [20]
    context.close()
