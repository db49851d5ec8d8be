"""The example job and some odd jobs, worked through once, and every paper of each set once."""

import datetime
import io
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from finishadvisor.demo.example import EXAMPLE_DAY, copy_example
from finishadvisor.papers import blocks, client_sheet
from finishadvisor.papers import typeset as typeset_module
from finishadvisor.papers.files import Paper, file_stems
from finishadvisor.papers.make import list_papers
from finishadvisor.records.whole import WholeJob
from finishadvisor.whole_job.work_through import work_through
from tests.papers import jobs

MANY = 4
DAY = datetime.date(2026, 9, 21)


@dataclass(frozen=True)
class Printed:
    """One PDF as it was made, with what it was set from."""

    paper: Paper
    pdf: bytes
    template: str
    data: Mapping[str, Any]
    units: str
    pictures: Mapping[str, bytes]

    @cached_property
    def reader(self) -> PdfReader:
        return PdfReader(io.BytesIO(self.pdf))

    @cached_property
    def pages(self) -> list[str]:
        """The words of each page, with plain blanks."""
        return [plain(page.extract_text()) for page in self.reader.pages]

    @property
    def text(self) -> str:
        """Its words on one line, with plain blanks, the foot of each page left out."""
        foot = re.compile(re.escape(plain(self.data["foot"])) + r" page \d+ of \d+")
        return plain(" ".join(foot.sub("", page) for page in self.pages))


def plain(text: str) -> str:
    """Return text as a person would type it: one blank between words, no invisible signs."""
    text = text.replace("\N{ZERO WIDTH SPACE}", "").replace("\N{NO-BREAK SPACE}", " ")
    return re.sub(r"\s+", " ", text)


def squeezed(text: str) -> str:
    """Return text without any blank: lines may break inside a word or a name."""
    return re.sub(r"\s+", "", plain(text))


def print_all(whole: WholeJob) -> dict[str, Printed]:
    """Set every PDF of a job, by file name; of a job of many floors those of the first and last floor."""
    calls: list[tuple[str, Mapping[str, Any], str, Mapping[str, bytes]]] = []
    true = typeset_module.typeset

    def spy(template: str, data: Mapping[str, Any], *, units: Any, pictures: Any = None) -> bytes:
        calls.append((template, data, units, pictures or {}))
        return true(template, data, units=units, pictures=pictures)

    printed = {}
    with pytest.MonkeyPatch.context() as patch:
        for module in (typeset_module, blocks, client_sheet):
            patch.setattr(module, "typeset", spy)
        stems = file_stems(whole)
        kept = (stems[0], stems[1], stems[-1]) if len(stems) > MANY else tuple(stems)
        for paper in list_papers(whole):
            if paper.name.endswith(".pdf") and paper.name.startswith((*kept, "order-list")):
                pdf = paper.make()
                printed[paper.name] = Printed(paper, pdf, *calls[-1])
    return printed


@pytest.fixture(scope="session")
def example(tmp_path_factory: pytest.TempPathFactory) -> WholeJob:
    """The example job with its photos measured."""
    folder = tmp_path_factory.mktemp("papers") / "job"
    copy_example(folder)
    return work_through(folder, EXAMPLE_DAY, measure_photos=True)


@pytest.fixture(scope="session")
def worked(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., WholeJob]:
    """Work a small job through that is written for one test."""

    def work(floors: list[str], **more: str) -> WholeJob:
        folder = jobs.write_job(tmp_path_factory.mktemp("papers") / "job", floors, **more)
        return work_through(folder, DAY)

    return work


@pytest.fixture(scope="session")
def metric(worked: Callable[..., WholeJob]) -> WholeJob:
    """A metric job of one floor without photos, its outline an L with a crack."""
    return worked([jobs.floor("Atelier", outline=jobs.METRIC_OUTLINE)], head='units = "metric"\ncurrency = "EUR"')


@pytest.fixture(scope="session")
def metric_example(tmp_path_factory: pytest.TempPathFactory) -> WholeJob:
    """The example job, its file written in metric units."""
    folder = tmp_path_factory.mktemp("papers") / "job"
    copy_example(folder)
    jobs.turn_metric(folder)
    return work_through(folder, EXAMPLE_DAY, measure_photos=True)


@pytest.fixture(scope="session")
def long_names(worked: Callable[..., WholeJob]) -> WholeJob:
    """A job whose names are as long as a job file allows, one of them without a blank."""
    floors = [jobs.floor(jobs.LONG_NAME), jobs.floor(jobs.UNBROKEN_NAME)]
    return worked(floors, name=jobs.LONG_NAME, head=f'client = "{jobs.UNBROKEN_NAME}"')


@pytest.fixture(scope="session")
def ten_floors(worked: Callable[..., WholeJob]) -> WholeJob:
    """Ten floors in one job; two of their names make the same file name."""
    return worked([jobs.floor(f"Bay {number}") for number in range(1, 10)] + [jobs.floor("bay-9")])


@pytest.fixture(scope="session")
def bare_bones(worked: Callable[..., WholeJob]) -> WholeJob:
    """A floor of which little is known: no outline, no photo, no price."""
    return worked(['[[floor]]\nname = "Porch"\n\n[floor.answers]\nplace = "outdoors"\nuse = "walk"\n'])


@pytest.fixture(scope="session")
def no_price(example: WholeJob) -> WholeJob:
    """The example with every price unknown."""
    unknown = dict.fromkeys(example.catalog.finishes)
    floors = tuple(replace(each, selling_prices=unknown, life_prices=unknown) for each in example.floors)
    order = example.order
    assert order is not None
    packs = tuple(each.model_copy(update={"cost": None}) for each in order.packs)
    return replace(example, floors=floors, order=order.model_copy(update={"packs": packs, "total_cost": None}))


@pytest.fixture(scope="session")
def none_fits(tmp_path_factory: pytest.TempPathFactory) -> WholeJob:
    """The example job with hot alkaline wash-down in the glaze room, which no finish stands."""
    folder = tmp_path_factory.mktemp("papers") / "job"
    copy_example(folder)
    text = (folder / "job.toml").read_text(encoding="utf-8")
    (folder / "job.toml").write_text(text.replace("hot_caustic = false", "hot_caustic = true", 1), encoding="utf-8")
    return work_through(folder, EXAMPLE_DAY, measure_photos=True)


RECORDED = """
[floor.decision]
finish = "polyaspartic-flake"

[[floor.done]]
task = "grind-csp-2-3"
date = 2026-09-21
time = 12:05:00

[[floor.done]]
task = "wash"
date = 2026-09-20

[[floor.used]]
material = "polyaspartic-base"
layer = "base"
area_ft2 = 452
used = 4.1
date = 2026-09-22
lot = "A-17"

[[floor.reading]]
kind = "air-temperature"
value = 67
date = 2026-09-22

[[floor.reading]]
kind = "air-rh"
value = 48
date = 2026-09-22

[[floor.reading]]
kind = "slab-temperature"
value = 65
date = 2026-09-22

"""


@pytest.fixture(scope="session")
def under_way(tmp_path_factory: pytest.TempPathFactory) -> WholeJob:
    """The example job two days later, with what the crew wrote down of the glaze room by then."""
    folder = tmp_path_factory.mktemp("papers") / "job"
    copy_example(folder)
    text = (folder / "job.toml").read_text(encoding="utf-8")
    start = text.index("[[floor.photo]]")
    (folder / "job.toml").write_text(text[:start] + RECORDED + text[start:], encoding="utf-8")
    return work_through(folder, datetime.date(2026, 9, 23))


JOBS = ("example", "metric", "long_names", "ten_floors", "bare_bones", "no_price")


@pytest.fixture(scope="session")
def printed_job(request: pytest.FixtureRequest) -> Callable[[str], dict[str, Printed]]:
    """Return every PDF of one of the jobs, set once."""

    @cache
    def print_job(name: str) -> dict[str, Printed]:
        return print_all(request.getfixturevalue(name))

    return print_job


@pytest.fixture(scope="session", params=JOBS)
def printed(request: pytest.FixtureRequest, printed_job: Callable[[str], dict[str, Printed]]) -> dict[str, Printed]:
    """Every PDF of each of the jobs."""
    return printed_job(request.param)


@pytest.fixture(scope="session")
def example_printed(printed_job: Callable[[str], dict[str, Printed]]) -> dict[str, Printed]:
    """Every PDF of the example job."""
    return printed_job("example")


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "papers"
