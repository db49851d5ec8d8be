"""Every page, light and dark, at both sizes, looked over by axe-core; and targets large enough for a gloved thumb."""

import json

import pytest

from finishadvisor.demo.example import copy_example
from tests.web.running import LAPTOP, PHONE, browser, browser_path, served
from tests.web.take_screens import PAGES, measure_on_the_page

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(browser_path() is None, reason="no Chromium, Chrome or Edge on this machine"),
]

SMALLEST_BUTTON_PX = 44
SMALLEST_LINK_PX = 24
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def chromium():
    with browser() as started:
        yield started


@pytest.fixture(scope="module")
def measured_site(chromium, tmp_path_factory):
    """The address of the page over the example job, its photos measured on the page itself."""
    folder = tmp_path_factory.mktemp("jobs")
    copy_example(folder / "pottery")
    for name in ("order-list.pdf", "plan.ics", "order.csv"):  # only their names are shown
        (folder / "pottery" / "papers" / name).write_bytes(b"")
    with served(folder) as address:
        page = chromium.new_page()
        measure_on_the_page(page, address)
        page.close()
        yield address


@pytest.mark.parametrize(("size", "scheme"), [(PHONE, "light"), (LAPTOP, "dark")], ids=["phone-light", "laptop-dark"])
def test_axe_finds_nothing_on_any_page(chromium, measured_site, scheme, size):
    from axe_playwright_python.sync_playwright import Axe

    context = chromium.new_context(viewport=size, color_scheme=scheme, bypass_csp=True)  # axe is put in as a script
    page = context.new_page()
    axe, found = Axe(), {}
    for title, path in {**PAGES, "split": "/job/pottery/1/evenness?show=sealed", "none": "/nothing"}.items():
        page.goto(measured_site + path)
        if title == "mark":
            page.wait_for_selector("#marking[data-ready]")
        for summary in page.locator("summary").all():
            summary.click()
        answer = axe.run(page, options={"runOnly": {"type": "tag", "values": RULES}})
        assert len(answer.response["passes"]) > 10, title
        if answer.violations_count:
            found[title] = [(each["id"], each["nodes"][0]["html"][:160]) for each in answer.response["violations"]]
    context.close()
    assert not found, json.dumps(found, indent=1)


def test_axe_can_find_something(chromium):
    from axe_playwright_python.sync_playwright import Axe

    page = chromium.new_page()
    page.set_content('<html><body><img src="x"><p style="color:#aaa;background:#bbb">faint</p></body></html>')
    assert Axe().run(page).violations_count >= 2


def test_nothing_is_wider_than_the_phone_and_targets_fit_a_thumb(chromium, measured_site):
    page = chromium.new_page(viewport=PHONE)
    wide, small = [], []
    for title, path in PAGES.items():
        page.goto(measured_site + path)
        if page.evaluate("document.documentElement.scrollWidth") > PHONE["width"]:
            wide.append(title)
        targets = page.evaluate(
            """[...document.querySelectorAll("button, select, summary, .choice, .steps a, a.button, a, input")]
               .filter((e) => e.offsetParent && !e.closest(".choice > *") && e.type !== "hidden")
               .map((e) => [e.matches("a:not(.button, .steps a)"), e.getBoundingClientRect().height, e.outerHTML])"""
        )
        for is_plain_link, height, html in targets:
            if height < (SMALLEST_LINK_PX if is_plain_link else SMALLEST_BUTTON_PX):
                small.append((title, height, html[:120]))
    page.close()
    assert not wide
    assert not small, small
