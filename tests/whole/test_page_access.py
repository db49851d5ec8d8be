"""Every page, light and dark, at both sizes, looked over by axe-core; and targets large enough for a gloved thumb."""

import json

import pytest

from finishadvisor.demo.example import copy_example
from finishadvisor.errors import FinishAdvisorError
from finishadvisor.job.edits import answer
from finishadvisor.web.serve import lan_address
from tests.web.running import LAPTOP, PHONE, browser_path, served
from tests.web.take_screens import PAGES, READY, measure_on_the_page

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(browser_path() is None, reason="no Chromium, Chrome or Edge on this machine"),
]

SMALLEST_BUTTON_PX = 44
SMALLEST_LINK_PX = 24
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def jobs_of_site(chromium, tmp_path_factory):
    """The address of the page over the example job, its photos measured on the page itself, and its folder of jobs."""
    folder = tmp_path_factory.mktemp("jobs")
    copy_example(folder / "pottery")
    for name in ("order-list.pdf", "plan.ics", "order.csv"):  # only their names are shown
        (folder / "pottery" / "papers" / name).write_bytes(b"")
    with served(folder) as address:
        page = chromium.new_page()
        measure_on_the_page(page, address)
        page.close()
        yield address, folder


@pytest.fixture
def measured_site(jobs_of_site):
    return jobs_of_site[0]


@pytest.mark.parametrize(("size", "scheme"), [(PHONE, "light"), (LAPTOP, "dark")], ids=["phone-light", "laptop-dark"])
def test_axe_finds_nothing_on_any_page(chromium, measured_site, scheme, size):
    context = chromium.new_context(viewport=size, color_scheme=scheme, bypass_csp=True)  # axe is put in as a script
    page = context.new_page()
    found = {}
    for title, path in {**PAGES, "split": "/job/pottery/1/evenness?show=sealed", "none": "/nothing"}.items():
        page.goto(measured_site + path)
        page.wait_for_selector(READY.get(title, "main"))
        for summary in page.locator("summary").all():
            if summary.is_visible():  # what is folded on a phone alone stands open here
                summary.click()
        found[title] = violations(page)
    context.close()
    assert not any(found.values()), json.dumps(found, indent=1)


def violations(page):
    """Return what axe-core finds wrong with the page as it stands."""
    from axe_playwright_python.sync_playwright import Axe

    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}})
    assert len(answer.response["passes"]) > 8
    return [(each["id"], each["nodes"][0]["html"][:160]) for each in answer.response["violations"]]


def test_axe_finds_nothing_on_pages_that_come_up_on_the_way(chromium, jobs_of_site):
    """A refused entry, a conflict, work under way and stopped, and the pages that let a phone in."""
    site, jobs = jobs_of_site
    context = chromium.new_context(viewport=PHONE, bypass_csp=True)
    page, found = context.new_page(), {}
    page.goto(site + "/job/pottery/1/floor")
    page.get_by_label("First side").fill("")
    page.get_by_role("button", name="Save sides and dates").click()
    page.get_by_text("Not saved.").wait_for()
    found["refused"] = violations(page)
    page.goto(site + "/job/pottery/1/floor")
    answer(jobs / "pottery", "Glaze room", {"thickness_in": 6.0})
    page.get_by_role("button", name="Save sides and dates").click()
    page.get_by_role("heading", name="The job was changed meanwhile").wait_for()
    found["conflict"] = violations(page)
    page.goto(site + "/job/pottery/papers")
    page.get_by_role("button", name="Make the papers").click()
    page.get_by_role("button", name="Stop it").wait_for()
    found["under way"] = violations(page)
    page.get_by_role("button", name="Stop it").click()
    page.get_by_text("Stopped. What was finished").wait_for()
    found["stopped"] = violations(page)
    context.close()
    assert not any(found.values()), json.dumps(found, indent=1)


def test_many_floors_fit_a_phone_folded_and_unfolded(chromium, tmp_path):
    floors = "".join(f'[[floor]]\nname = "Room {number} of the long corridor"\n' for number in range(1, 9))
    (tmp_path / "hall").mkdir()
    (tmp_path / "hall" / "job.toml").write_text(f'name = "Hall"\n{floors}', encoding="utf-8")
    found, wide = {}, []
    with served(tmp_path) as address:
        page = chromium.new_context(viewport=PHONE, bypass_csp=True).new_page()
        for path in ("/job/hall", "/job/hall/2/finishes", "/job/hall/days", "/job/hall/papers"):
            page.goto(address + path)
            assert page.locator("header").bounding_box()["height"] < PHONE["height"] / 4
            page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
            found[path] = violations(page)
            if page.evaluate("document.documentElement.scrollWidth") > PHONE["width"]:
                wide.append(path)
        page.context.close()
    assert not any(found.values()), json.dumps(found, indent=1)
    assert not wide


def test_a_phone_is_let_in_by_its_code(chromium, tmp_path):
    """The laptop makes a code, the phone scans it, presses the button, and is in."""
    try:
        lan_address()
    except FinishAdvisorError:
        pytest.skip("this machine is on no network")
    copy_example(tmp_path / "pottery")
    with served(tmp_path, "--lan") as address:
        laptop = chromium.new_context(viewport=LAPTOP, bypass_csp=True).new_page()
        laptop.goto(address)
        laptop.get_by_role("link", name="Devices").click()
        laptop.get_by_role("button", name="Let one more device in").click()
        link = laptop.locator("p.path").inner_text()
        found = {"devices": violations(laptop)}
        phone = chromium.new_context(viewport=PHONE, bypass_csp=True).new_page()
        home = link.split("/pair/")[0]
        assert phone.goto(home).status == 401
        phone.goto(link)
        found["pair"] = violations(phone)
        phone.get_by_role("button", name="Let this device in").click()
        phone.get_by_role("link", name="Pottery, two floors", exact=True).wait_for()
        assert phone.goto(link).status == 401, "a code lets one device in, once"
        phone.context.close()
        laptop.context.close()
    assert not any(found.values()), json.dumps(found, indent=1)


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


@pytest.mark.parametrize("path", ["/job/pottery/days", "/job/pottery/1/finishes"])
def test_a_long_page_is_folded_on_a_phone_and_open_on_a_laptop(chromium, measured_site, path):
    heights = {}
    for name, size in (("phone", PHONE), ("laptop", LAPTOP)):
        page = chromium.new_page(viewport=size)
        page.goto(measured_site + path)
        folds = page.locator("details.fold")
        assert folds.count() >= 2
        within = folds.first.locator("table, ul").first
        assert within.is_visible() == (name == "laptop")
        assert folds.first.locator("summary").is_visible() == (name == "phone")
        heights[name] = page.evaluate("document.documentElement.scrollHeight")
        if name == "phone":
            folds.first.locator("summary").click()
            assert within.is_visible()
        page.close()
    assert heights["phone"] < heights["laptop"] * 2
