"""What a client, a supplier or a crew would stumble over: each kind of slip that was once found has its check here."""

import io
import itertools
import re

import pytest
from pypdf import PdfReader

from finishadvisor.papers import typeset as typeset_module
from finishadvisor.papers.all_finishes import verdict_in_short, why
from finishadvisor.papers.blocks import Sheet, points
from finishadvisor.papers.care_sheet import care_sheet
from finishadvisor.papers.cautions import IN_USE, cautions_by_finish, floor_cautions
from finishadvisor.papers.client_options import verdict_words
from finishadvisor.papers.client_sheet import before_the_pour_of, client_sheet_data, options_shown
from finishadvisor.papers.job_sheet import job_sheet
from finishadvisor.papers.order_list import order_list_data
from finishadvisor.papers.record import record_of_work
from finishadvisor.papers.stop_rules import stop_rules
from finishadvisor.papers.warranty import warranty_page
from finishadvisor.papers.wording import money_range_text
from tests.papers.conftest import squeezed

ONE_OF_MANY = re.compile(r"(?<![\d.,])\b1 (?:days|floors|materials|months|packs|photos|places|things|weeks|years)\b")
MANY_OF_ONE = re.compile(r"(?<![\d.,])\b(?:[2-9]|\d\d+) (?:floor|material|month|pack|photo|place|thing)\b(?![- ]?\w)")


def headings(paper):
    """Return the headings of a paper that is a run of parts, those inside parts that stay together with them."""
    blocks = list(paper.data.get("blocks", ()))
    blocks += [inner for block in blocks for inner in block.get("blocks", ())]
    return [block["words"] for block in blocks if block["kind"] in {"heading", "subheading"}]


def test_no_page_ends_with_a_heading(printed):
    for paper in printed.values():
        foot = squeezed(paper.data["foot"])
        for page in paper.pages:
            body = squeezed(page).rsplit(foot, 1)[0]
            for words in headings(paper):
                assert not body.endswith(squeezed(words)), (paper.paper.name, words)


def test_no_heading_stands_over_nothing(bare_bones):
    for make in (record_of_work, warranty_page):
        kinds = [block["kind"] for block in make(bare_bones, bare_bones.floors[0]).blocks if block]
        for kind, after in itertools.pairwise(kinds):
            assert (kind, after) not in {("subheading", "heading"), ("subheading", "signatures")}


def test_things_are_counted_as_a_person_counts_them(printed):
    for paper in printed.values():
        assert not ONE_OF_MANY.findall(paper.text), paper.paper.name
        assert not MANY_OF_ONE.findall(paper.text), paper.paper.name


def test_no_id_of_the_catalog_stands_on_a_paper(example, example_printed):
    catalog = example.catalog
    names = " ".join([
        *(row.name for table in (catalog.finishes, catalog.materials, catalog.causes) for row in table.values()),
        *(step for item in catalog.work_items.values() for step in (item.title, *item.steps)),
        *(caution.sentence for caution in catalog.cautions.values()),
        *(rule.because for rule in (*catalog.rules.values(), *catalog.cause_rules.values())),
    ]).lower()
    tables = (catalog.finishes, catalog.materials, catalog.work_items, catalog.rules, catalog.causes, catalog.cautions)
    ids = [id_ for table in tables for id_ in table if id_.count("-") >= 1 and id_ not in names]
    ids += [id_ for id_ in catalog.facts if "_" in id_]
    assert len(ids) > 300
    for paper in example_printed.values():
        words = set(re.findall(r"[a-z0-9]+(?:[-_][a-z0-9]+)+", paper.text))
        assert not words & set(ids), paper.paper.name


LINES = 54
"""Two more than a page holds on Letter at the usual size."""


def overflowing():
    """A sheet that runs a few lines over its first page."""
    return Sheet("Title", "Answer", [points(f"line {number}" for number in range(LINES))], "foot")


def pages_of(sheet):
    return len(PdfReader(io.BytesIO(sheet.pdf("us"))).pages)


def test_a_last_page_of_a_few_lines_is_drawn_in(monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(typeset_module, "TIGHTER", ())
        assert pages_of(overflowing()) == 2
    assert pages_of(overflowing()) == 1


def test_client_sheet_and_comparison_give_the_same_verdict(example):
    for outcome in example.floors:
        for finish in options_shown(outcome):
            assert verdict_words(finish).startswith(verdict_in_short(finish).split(",")[0])
            assert ("work" in verdict_words(finish)) == ("work" in verdict_in_short(finish))


def test_a_finish_that_cannot_be_told_names_what_is_missing(bare_bones):
    unclear = [finish for finish in bare_bones.floors[0].advice.finishes if finish.verdict == "cannot-tell"]
    assert unclear
    for finish in unclear:
        assert why(finish, bare_bones.catalog).startswith("Not known: ")


def test_cautions_stand_with_the_finishes_that_they_go_with(example):
    shown = options_shown(example.floors[0])
    groups = cautions_by_finish(shown)
    assert sorted(caution for _, told in groups for caution in told) == sorted(floor_cautions(shown))
    for names, told in groups:
        for finish in shown:
            assert set(told) <= set(floor_cautions([finish])) or (names and finish.name not in names)


def test_the_pour_brings_what_the_finishes_shown_ask_for(bare_bones):
    outcome = bare_bones.floors[0]
    shown = options_shown(outcome)
    others = [finish.name for finish in outcome.advice.finishes if finish not in shown]
    lines = before_the_pour_of(shown, outcome.advice)
    assert lines
    assert len(lines) < len(outcome.advice.before_the_pour)
    assert not [line for line in lines for name in others if line.endswith(f"{name})") or f"{name};" in line]
    told = client_sheet_data(bare_bones, outcome)["cautions"]
    assert not [caution for _, group in told for caution in group if caution in " ".join(lines)]


def test_the_care_sheet_warns_of_use_and_not_of_work(example):
    assert {example.catalog.rules[id_].effect for id_ in IN_USE} == {"caution"}
    words = str(care_sheet(example, example.floors[0]).data())
    assert "Rubber-backed mats" in words
    assert "shroud" not in words
    assert "sawcut" not in words


def test_a_repellent_is_not_screened(example):
    assert "screen" not in " ".join(stop_rules(example.floors[1].works, example.catalog, "us"))
    assert "screen" in " ".join(stop_rules(example.floors[0].works, example.catalog, "us"))


def test_what_the_plan_takes_for_granted_stands_under_the_days_and_not_among_the_steps(example):
    sheet = job_sheet(example, example.floors[1], (), b"<svg/>").data()
    assert example.plan.assumptions
    blocks = [inner for block in sheet["blocks"] for inner in block.get("blocks", [block])]
    steps = [item for block in blocks if block["kind"] == "points" for item in block["items"]]
    assert len(steps) > 10
    assert not [item for item in steps if item.rstrip(".") in " ".join(example.plan.assumptions)]
    assert not [item for item in steps if item.startswith(("Perhaps also", "Hold point"))]
    days = next(n for n, block in enumerate(sheet["blocks"]) if block.get("words") == "Schedule")
    assert "weather.csv" in sheet["blocks"][days + 2]["words"].lower()


def test_a_note_on_several_materials_is_told_once_on_the_order(example):
    data = order_list_data(example, example.order)
    notes = [note for packs in example.order.packs for note in packs.notes]
    assert len(notes) > len(set(notes))
    for note in set(notes):
        assert sum(note in warning for warning in data["warnings"]) == 1
    assert money_range_text(example.order.total_cost, example.job.currency) in data["answer"]
    assert not set(data["on_arrival"]) & set(data["warnings"])


def test_the_look_once_sealed_is_a_band_for_each_finish(example, example_printed):
    text = example_printed["glaze-room-evenness-report.pdf"].text
    photos = [photo for photo in example.floors[0].evenness.photos if photo.sealed]
    least_even = max(photos, key=lambda photo: photo.p95_de00)
    assert f"Of {least_even.photo}, the least even of the photos." in text
    ranked = {finish.id for finish in example.floors[0].advice.finishes if finish.rank is not None}
    for id_, spread in least_even.sealed.items():
        if id_ in ranked:
            assert squeezed(example.catalog.finishes[id_].name) in squeezed(text)
            if spread is not None:
                assert f"{spread.p95_low:.1f}".rstrip("0").rstrip(".") in text


@pytest.mark.parametrize("name", ["long_names", "example"])
def test_no_title_of_a_figure_is_cut_off(name, request):
    from finishadvisor.papers.days_figure import LONGEST_LABEL, days_picture

    whole = request.getfixturevalue(name)
    for floor, hours in whole.plan.air.items():
        svg = days_picture(whole.plan, {floor: hours}).decode("utf-8")
        titles = [words for words in re.findall(r">([^<]*)</text>", svg) if words.startswith(floor[:10])]
        assert titles
        assert all(len(words) < LONGEST_LABEL + 70 for words in titles)
