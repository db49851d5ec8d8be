"""What holds for every PDF of every job: it can be read, searched and printed, and nothing runs over its edge."""

import io

import numpy as np
import pytest
from PIL import Image

from finishadvisor.papers.look import look
from tests.papers.conftest import plain, squeezed
from tests.papers.page_pictures import POINTS_PER_INCH, page_pictures
from tests.papers.test_client_sheet import MEASURED_WORDS

MOST_PAGES = {
    "client-sheet": 4, "all-finishes": 4, "evenness-report": 6, "job-sheet": 6, "field-card": 2, "scope": 3,
    "care-sheet": 2, "warranty": 3, "record": 3, "order-list": 12,
}  # fmt: skip
MONEY = ("$", "€", "USD", "EUR")


def fonts_of(reader):
    for page in reader.pages:
        for font in (page["/Resources"].get("/Font") or {}).values():
            whole = font.get_object()
            yield whole["/DescendantFonts"][0].get_object() if "/DescendantFonts" in whole else whole


def test_every_paper_has_title_language_and_tags(printed):
    for paper in printed.values():
        catalog = paper.reader.trailer["/Root"]
        assert plain(str(paper.reader.metadata.title)) == plain(paper.data["title"]), paper.paper.name
        assert str(catalog["/Lang"]) == "en-US", paper.paper.name
        assert catalog["/MarkInfo"]["/Marked"], paper.paper.name
        assert "/StructTreeRoot" in catalog, paper.paper.name


def test_every_font_is_embedded_and_the_text_is_set_in_the_open_one(printed):
    for paper in printed.values():
        families = set()
        for font in fonts_of(paper.reader):
            descriptor = font["/FontDescriptor"].get_object()
            assert any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3")), paper.paper.name
            families.add(str(font["/BaseFont"]))
        assert all("SourceSansPro" in family for family in families), (paper.paper.name, families)


def test_every_page_bears_its_number_and_the_foot(printed):
    for paper in printed.values():
        pages = paper.pages
        kind = paper.paper.name.removesuffix(".pdf")
        most = next(number for name, number in MOST_PAGES.items() if kind.endswith(name))
        assert 1 <= len(pages) <= most, (paper.paper.name, len(pages))
        for number, page in enumerate(pages, start=1):
            assert f"page {number} of {len(pages)}" in page, paper.paper.name
            assert squeezed(paper.data["foot"]) in squeezed(page), paper.paper.name


def test_title_and_answer_stand_on_the_first_page(printed):
    for paper in printed.values():
        first = squeezed(paper.pages[0])
        assert squeezed(paper.data["title"]) in first, paper.paper.name
        assert squeezed(paper.data["answer"]) in first.replace("\N{SOFT HYPHEN}", ""), paper.paper.name


def test_nothing_runs_into_the_margins(printed):
    space = look().space
    for paper in printed.values():
        for number, picture in enumerate(page_pictures(paper), start=1):
            ink = np.asarray(Image.open(io.BytesIO(picture)).convert("L")) < 235
            right = ink.shape[1] - round(space["margin_right_in"] * POINTS_PER_INCH) + 3
            left = round(space["margin_left_in"] * POINTS_PER_INCH) - 4
            assert not ink[:, right:].any(), f"{paper.paper.name}, page {number}: ink in the right margin"
            assert not ink[:, :left].any(), f"{paper.paper.name}, page {number}: ink in the left margin"
            assert not ink[-12:].any(), f"{paper.paper.name}, page {number}: ink at the foot of the page"
            assert not ink[: round(0.6 * POINTS_PER_INCH)].any(), f"{paper.paper.name}, page {number}: ink at the top"


@pytest.mark.parametrize(("job", "size_in"), [("example", (8.5, 11.0)), ("metric", (210 / 25.4, 297 / 25.4))])
def test_the_page_is_letter_or_a4_by_the_units_of_the_job(job, size_in, request):
    from finishadvisor.papers.make import make_paper

    whole = request.getfixturevalue(job)
    from pypdf import PdfReader

    from finishadvisor.papers.make import list_papers

    name = next(paper.name for paper in list_papers(whole) if paper.name.endswith("field-card.pdf"))
    box = PdfReader(io.BytesIO(make_paper(whole, name))).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx([side * POINTS_PER_INCH for side in size_in], abs=0.5)


def test_no_paper_of_the_crew_tells_money_and_none_of_the_client_s_a_color_difference(printed):
    readers = {paper.paper.reader for paper in printed.values()}
    assert {"crew", "client"} <= readers
    for name, paper in printed.items():
        told = paper.text
        if paper.paper.reader == "crew":
            assert not [sign for sign in MONEY if sign in told], name
        if paper.paper.reader == "client":
            assert not [word for word in MEASURED_WORDS if word in told], name
