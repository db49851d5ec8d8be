"""Who and what is turned away before any handler sees it."""

import re

import pytest

from finishadvisor.web.guard import HEADERS, MOST_FORM_BYTES, MOST_UPLOAD_BYTES
from tests.web.addresses import addresses

FORBIDDEN_IN_HTML = (
    r"<script(?![^>]*\ssrc=)", r"<style", r"\sstyle=", r"\son[a-z]+=", r"javascript:", r"(src|href)=\"(https?:)?//",
)  # fmt: skip
PAGES = [address for address in addresses("GET") if not re.search(r"^/pair/|/work$|\.\w+$", address)]


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8712", "127.0.0.1:9999", "127.0.0.1", "localhost.evil.example:8712", ""]
)
def test_only_its_own_names_are_answered(page, host):
    answer = page.get("/", headers={"Host": host})
    assert answer.status_code == 421
    assert "Pottery" not in answer.text


def test_its_own_names_are_answered(page):
    for host in ("127.0.0.1:8712", "localhost:8712", "LOCALHOST:8712"):
        assert page.get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_turned_away(page, method):
    assert page.client.request(method, "/").status_code == 405


FOREIGN = (
    {"Origin": "http://evil.example"},
    {"Origin": "null"},
    {"Origin": "http://127.0.0.1:9999"},
    {"Origin": "https://127.0.0.1:8712"},
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
    {},
)


@pytest.mark.parametrize("address", addresses("POST"))
def test_a_form_from_another_site_does_nothing(page, jobs, address):
    before = (jobs / "pottery" / "job.toml").read_bytes()
    fields = {"token": page.site.tokens.of(""), "first_side": "1 ft", "second_side": "1 ft"}
    for headers in FOREIGN:
        answer = page.client.post(address, data=fields, headers=headers, follow_redirects=False)
        assert answer.status_code == 403, headers
    assert (jobs / "pottery" / "job.toml").read_bytes() == before


@pytest.mark.parametrize("address", [address for address in addresses("POST") if not address.startswith("/pair/")])
def test_a_form_without_the_token_of_this_device_does_nothing(page, jobs, address):
    before = (jobs / "pottery" / "job.toml").read_bytes()
    for fields in ({}, {"token": ""}, {"token": "0" * 64}, {"token": "ü"}):
        headers = {"Origin": "http://127.0.0.1:8712"}
        answer = page.client.post(address, data=fields, headers=headers, follow_redirects=False)
        assert answer.status_code == 403
    assert (jobs / "pottery" / "job.toml").read_bytes() == before
    assert page.site.works.of(jobs / "pottery") is None


@pytest.mark.parametrize("address", addresses("GET"))
def test_every_answer_bears_strict_headers(page, address):
    answer = page.get(address)
    for name in HEADERS:
        assert name in answer.headers, name
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert "*" not in policy


@pytest.mark.parametrize("address", PAGES)
def test_pages_hold_no_inline_script_or_style_and_nothing_from_elsewhere(page, address):
    html = page.get(address).text
    assert "<main" in html
    for pattern in FORBIDDEN_IN_HTML:
        assert not re.search(pattern, html), (pattern, address)


def test_the_search_for_inline_script_can_fail():
    bad = '<p onclick="x()"><script>1</script><b style="x"><img src="//evil.example/x">'
    assert all(re.search(pattern, bad) for pattern in FORBIDDEN_IN_HTML if pattern not in {r"<style", r"javascript:"})


def test_a_body_longer_than_allowed_is_turned_away_by_its_length(page):
    for path, most in (("/new", MOST_FORM_BYTES), ("/job/pottery/1/photos", MOST_UPLOAD_BYTES)):
        headers = {"Origin": "http://127.0.0.1:8712", "Content-Length": str(most + 1)}
        assert page.client.post(path, content=b"x", headers=headers).status_code == 413


def test_a_body_without_a_stated_length_is_stopped_when_it_grows_too_long(page):
    def endless():
        for _ in range(MOST_FORM_BYTES // 10_000 + 2):
            yield b"name=" + b"x" * 9_990 + b"&"

    headers = {"Origin": "http://127.0.0.1:8712", "Content-Type": "application/x-www-form-urlencoded"}
    assert page.client.post("/new", content=endless(), headers=headers).status_code == 413


def test_more_fields_than_a_form_has_are_turned_away(page, jobs):
    fields = {f"field-{number}": "x" for number in range(500)}
    assert page.post("/new", fields).status_code in {400, 413}
    assert sorted(path.name for path in jobs.iterdir()) == ["pottery", "shed"]
