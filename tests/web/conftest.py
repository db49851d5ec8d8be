"""A site over the example job, asked in-process: quick, and every header can be forged."""

import datetime
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from finishadvisor.demo.example import EXAMPLE_DAY, copy_example
from finishadvisor.web.app import make_app
from finishadvisor.web.guard import Door, hosts_for
from finishadvisor.web.pairing import Pairing
from finishadvisor.web.site import Site
from finishadvisor.whole_job.changes import begin_job

PORT = 8712
HERE = f"http://127.0.0.1:{PORT}"
LAN_ADDRESS = "192.0.2.7"
LAN = f"http://{LAN_ADDRESS}:{PORT}"


class Page:
    """A browser that does as it is told: asks for pages, and sends forms as the page's own forms do."""

    def __init__(self, site: Site, client: TestClient) -> None:
        self.site = site
        self.client = client

    def get(self, path: str, **words):
        return self.client.get(path, follow_redirects=False, **words)

    def post(self, path: str, fields: Mapping[str, str] | None = None, **words):
        fields = {"token": self.site.tokens.of(""), **(fields or {})}
        headers = {"Origin": str(self.client.base_url).rstrip("/"), **words.pop("headers", {})}
        return self.client.post(path, data=fields, headers=headers, follow_redirects=False, **words)

    def version(self, job: str) -> str:
        from finishadvisor.job.folder import job_version

        return job_version(self.site.root / job)


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """A folder with the example job and one that has just begun."""
    root = tmp_path / "jobs"
    root.mkdir()
    copy_example(root / "pottery")
    begin_job(root / "shed", "Bike shed", {"place": "covered"})
    return root


@pytest.fixture
def make_page(jobs: Path, tmp_path: Path) -> Iterator[Callable[..., Page]]:
    """Give a page over the jobs; with `lan`, asked from another machine. What it started ends with the test."""
    sites = []

    def make(*, lan: bool = False, asked_from: str = "127.0.0.1", on: datetime.date = EXAMPLE_DAY) -> Page:
        cache = tmp_path / "cache"
        cache.mkdir(exist_ok=True)
        door = Door(hosts_for([LAN_ADDRESS] if lan else [], PORT), Pairing() if lan else None)
        site = Site(jobs, on, door, cache)
        sites.append(site)
        client = TestClient(
            make_app(site), base_url=LAN if lan else HERE, client=(asked_from, 50_000), raise_server_exceptions=False
        )
        return Page(site, client)

    yield make
    for site in sites:
        site.works.stop_all()


@pytest.fixture
def page(make_page: Callable[..., Page]) -> Page:
    """The page as it is on this machine alone."""
    return make_page()
