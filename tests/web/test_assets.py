"""Style sheets and scripts: sent once, asked for again each time, so that a new version shows at once."""

import pytest


@pytest.mark.parametrize("address", ["/look.css", "/static/page.css", "/static/page.js"])
def test_a_file_that_the_browser_has_is_not_sent_again(page, address):
    first = page.get(address)
    assert first.status_code == 200
    assert first.headers["cache-control"] == "private, no-cache"
    again = page.get(address, headers={"If-None-Match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert page.get(address, headers={"If-None-Match": '"of-an-older-version"'}).content == first.content


def test_pages_are_never_kept(page):
    assert page.get("/job/shed/1/floor").headers["cache-control"] == "no-store"
