"""What a person with one thumb runs into: reloads, steps back, double taps, two windows, in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from finishadvisor.job.edits import answer
from finishadvisor.job.folder import open_job
from tests.web.running import PHONE, browser_path, served

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(browser_path() is None, reason="no Chromium, Chrome or Edge on this machine"),
]

NOT_SAVED_YET = "What you entered before is back. It is not saved yet."


@pytest.fixture
def phone(chromium, jobs):
    with served(jobs) as address:
        context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True, base_url=address)
        page = context.new_page()
        page.goto("/job/shed/1/floor")
        yield page
        context.close()


def floor_of(jobs):
    return open_job(jobs / "shed").job.floors[0]


def test_what_was_typed_outlives_a_reload_and_a_step_away_and_back(phone, jobs):
    phone.get_by_label("First side").fill("12ft")
    phone.get_by_label("full", exact=True).tap()
    phone.reload()
    expect(phone.get_by_text(NOT_SAVED_YET)).to_have_count(2)  # one line on each of the two forms
    assert phone.get_by_label("First side").input_value() == "12ft"
    assert phone.get_by_label("full", exact=True).is_checked()
    phone.get_by_role("link", name="Finishes", exact=True).tap()
    phone.wait_for_url("**/finishes")
    phone.go_back()
    phone.get_by_text(NOT_SAVED_YET).first.wait_for()
    phone.get_by_label("Second side").fill("9ft")
    phone.get_by_role("button", name="Save sides and dates").tap()
    phone.get_by_text("Saved.").wait_for()
    assert phone.get_by_label("First side").input_value() == "12'"
    expect(phone.get_by_text(NOT_SAVED_YET)).to_have_count(1)  # the answers are still to be saved
    assert phone.get_by_label("full", exact=True).is_checked()
    phone.get_by_role("button", name="Drop it").tap()
    phone.wait_for_function("!document.querySelector('.notice:not(.saved)')")
    assert not phone.get_by_label("full", exact=True).is_checked()
    assert floor_of(jobs).outline.rectangles[0].y == 9
    assert "sun" not in floor_of(jobs).answers


def test_a_correction_of_a_refused_form_outlives_a_reload(phone):
    phone.get_by_label("First side").fill("12 feets")
    phone.get_by_label("Second side").fill("9ft")
    phone.get_by_role("button", name="Save sides and dates").tap()
    phone.get_by_text(re.compile('"12 feets" is not a length')).wait_for()
    assert phone.evaluate("document.activeElement.className") == "problem", "who hears the page is not told"
    phone.get_by_label("First side").fill("12ft")
    phone.reload()
    assert phone.get_by_label("First side").input_value() == "12ft"


def test_saved_is_said_once(phone):
    phone.get_by_label("First side").fill("12ft")
    phone.get_by_label("Second side").fill("9ft")
    phone.get_by_role("button", name="Save sides and dates").tap()
    phone.get_by_text("Saved.").wait_for()
    phone.reload()
    phone.wait_for_load_state()
    phone.wait_for_function("!document.querySelector('.notice')")


def test_two_quick_taps_write_one_reading(phone, jobs):
    phone.get_by_text("Write down a reading").tap()
    phone.get_by_label(re.compile("Value, or dry")).fill("9.5")
    phone.evaluate(
        "() => { const all = [...document.querySelectorAll('button')];"
        " const save = all.find((button) => button.textContent === 'Save the reading'); save.click(); save.click(); }"
    )
    phone.get_by_text("Saved.").wait_for()
    assert len(floor_of(jobs).readings) == 1


def test_after_a_conflict_the_entry_is_on_the_form_again_and_can_be_saved(phone, jobs):
    phone.get_by_label("First side").fill("12ft")
    phone.get_by_label("Second side").fill("9ft")
    answer(jobs / "shed", "Floor", {"sun": "full"})
    phone.get_by_role("button", name="Save sides and dates").tap()
    phone.get_by_role("heading", name="The job was changed meanwhile").wait_for()
    phone.get_by_role("link", name="Look at what is there now").tap()
    phone.get_by_text(NOT_SAVED_YET).wait_for()
    assert phone.get_by_label("full", exact=True).is_checked(), "what the other window wrote is shown"
    phone.get_by_role("button", name="Save sides and dates").tap()
    phone.get_by_text("Saved.").wait_for()
    assert floor_of(jobs).answers["sun"] == "full"
    assert floor_of(jobs).outline.rectangles[0].x == 12
    assert phone.get_by_text(NOT_SAVED_YET).count() == 0


def test_saving_over_the_other_window_knowingly_leaves_nothing_behind(phone, jobs):
    phone.get_by_label("First side").fill("12ft")
    phone.get_by_label("Second side").fill("9ft")
    answer(jobs / "shed", "Floor", {"sun": "full"})
    phone.get_by_role("button", name="Save sides and dates").tap()
    phone.get_by_role("button", name="Save mine over what is there now").tap()
    phone.get_by_text("Saved.").wait_for()
    assert phone.get_by_text(NOT_SAVED_YET).count() == 0
    assert floor_of(jobs).outline.rectangles[0].x == 12


def test_work_that_was_stopped_leads_back_to_where_it_can_be_started_again(phone):
    phone.goto("/job/shed/papers")
    phone.get_by_role("button", name="Make the papers").tap()
    phone.get_by_role("button", name="Stop it").tap()
    phone.get_by_text("Stopped. What was finished before is kept.").wait_for()
    phone.get_by_role("link", name="Back, to start it again").tap()
    phone.get_by_role("button", name="Make the papers").wait_for()
