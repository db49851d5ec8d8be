"""Everything of a job in one folder, and each file alone."""

import csv
import io
import json

import pytest

from finishadvisor.errors import FinishAdvisorError, JobError
from finishadvisor.papers import typeset as typeset_module
from finishadvisor.papers.files import file_stem, file_stems
from finishadvisor.papers.make import list_papers, make_paper, make_papers
from finishadvisor.papers.tables import prices_table
from finishadvisor.papers.typeset import typeset


def test_everything_is_written_with_progress(metric, out):
    told = []
    written = make_papers(metric, out, told.append)
    assert [path.name for path in written] == [paper.name for paper in list_papers(metric)]
    assert len(told) == len(written)
    assert told[0].startswith(f"Writing 1 of {len(written)}: ")
    assert all(path.stat().st_size > 0 for path in written)


def test_every_json_and_csv_can_be_read(example):
    papers = {paper.name: paper for paper in list_papers(example)}
    for name, paper in papers.items():
        if name.endswith(".json"):
            assert json.loads(paper.make().decode("utf-8"))
        if name.endswith(".csv"):
            header, *rows = csv.reader(io.StringIO(paper.make().decode("utf-8")))
            assert rows, name
            assert all(len(row) == len(header) for row in rows), name


def test_there_is_a_table_of_every_kind(example):
    names = {paper.name for paper in list_papers(example)}
    assert {
        "advice.csv", "reasons.csv", "prices.csv", "readings.csv", "works.csv", "batches.csv", "order.csv", "needs.csv",
        "plan.csv", "back-in-service.csv", "glaze-room-patches.csv", "glaze-room-glaze-room-west-cells.csv", "plan.ics",
        "advice.json", "order.json", "plan.json", "works.json", "glaze-room-evenness.json",
    } <= names  # fmt: skip


def test_tables_equal_the_records(example):
    rows = list(csv.DictReader(io.StringIO(prices_table(example).csv().decode("utf-8"))))
    for row in rows:
        outcome = next(each for each in example.floors if each.floor.name == row["floor"])
        money = outcome.selling_prices[row["finish"]]
        assert float(row["price"]) == money.expected
    steps = list(csv.DictReader(io.StringIO(make_paper(example, "plan.csv").decode("utf-8"))))
    assert [row["task"] for row in steps] == [step.task for step in example.plan.steps]
    patches = list(csv.DictReader(io.StringIO(make_paper(example, "glaze-room-patches.csv").decode("utf-8"))))
    assert len(patches) == sum(len(photo.patches) for photo in example.floors[0].evenness.photos)


def test_no_own_cost_in_a_table_for_the_client_or_the_supplier(example):
    for name in ("prices.csv", "order.csv"):
        header = make_paper(example, name).decode("utf-8").splitlines()[0]
        assert "own" not in header
    assert "own_first_cost" in make_paper(example, "advice.csv").decode("utf-8").splitlines()[0]


def test_each_can_be_made_alone(metric):
    assert make_paper(metric, "atelier-care-sheet.pdf").startswith(b"%PDF")
    with pytest.raises(JobError, match=r"atelier-care-sheet\.pdf"):
        make_paper(metric, "atelier-care-shet.pdf")


def test_the_client_sees_the_shade_map_only_on_request(example):
    sheets = [
        next(paper for paper in papers if paper.name == "glaze-room-client-sheet.pdf").make()
        for papers in (list_papers(example), list_papers(example, map_for_client=True))
    ]
    assert len(sheets[1]) > len(sheets[0]) + 100_000


def test_only_what_is_asked_for_is_written(metric, out):
    written = make_papers(metric, out, lambda line: None, ["order-list.pdf", "plan.csv"])
    assert [path.name for path in written] == ["order-list.pdf", "plan.csv"]
    assert {path.name for path in out.iterdir()} == {"order-list.pdf", "plan.csv"}


def test_nothing_is_written_where_a_name_is_wrong(metric, out):
    with pytest.raises(JobError, match="There is no paper"):
        make_papers(metric, out, lambda line: None, ["plan.csv", "plan.cvs"])
    assert not out.exists()


def test_the_same_job_makes_the_same_paper(metric):
    for name in ("atelier-job-sheet.pdf", "order-list.pdf", "atelier-plan.svg"):
        assert make_paper(metric, name) == make_paper(metric, name)


def test_files_of_floors_with_like_names_do_not_meet(ten_floors):
    stems = file_stems(ten_floors)
    assert len(set(stems)) == 10
    assert stems[-2:] == ["bay-9", "bay-9-2"]
    names = [paper.name for paper in list_papers(ten_floors)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Glaze room", "glaze-room"),
        ("..\\..\\etc/passwd", "etc-passwd"),
        ("CON: aux?*", "con-aux"),
        ("///", "floor"),
        ("x" * 80, "x" * 40),
        ("Küche", "küche"),
    ],
)
def test_file_names_hold_only_letters_digits_and_hyphens(name, stem):
    assert file_stem(name) == stem


def test_little_is_known_still_makes_papers(bare_bones):
    names = {paper.name for paper in list_papers(bare_bones)}
    assert {"porch-client-sheet.pdf", "porch-field-card.pdf", "advice.json"} <= names
    assert "porch-job-sheet.pdf" not in names
    assert "order-list.pdf" not in names


def test_a_warning_of_the_typesetter_is_a_failure(metric, monkeypatch):
    monkeypatch.setattr(typeset_module, "look", _odd_look)
    with pytest.raises(FinishAdvisorError, match="warning"):
        make_paper(metric, "atelier-care-sheet.pdf")


def _odd_look():
    from dataclasses import replace

    from finishadvisor.papers.look import look

    return replace(look(), type={**look().type, "family": "No Such Font"})


def test_a_picture_that_is_missing_is_a_failure(metric):
    data = {"title": "Test", "answer": "", "foot": "", "blocks": [
        {"kind": "picture", "picture": "none.svg", "alt": "none", "width": 0, "caption": ""},
    ]}  # fmt: skip
    with pytest.raises(FinishAdvisorError, match="could not be set"):
        typeset("sheet", data, units="metric")


def test_a_sign_without_a_letter_in_the_font_is_told_with_the_mend():
    data = {"title": "釉薬室", "answer": "", "foot": "", "blocks": []}
    with pytest.raises(FinishAdvisorError, match=r'cannot show "釉".*Latin, Greek and Cyrillic'):
        typeset("sheet", data, units="metric")


def test_a_picture_that_two_papers_show_is_drawn_once(example, monkeypatch):
    from finishadvisor.papers import days_figure

    drawn = []

    def counted(*asked):
        drawn.append(asked)
        return draw(*asked)

    draw = days_figure.days_picture
    monkeypatch.setattr(days_figure, "days_picture", counted)
    papers = {paper.name: paper for paper in list_papers(example)}
    assert papers["glaze-room-job-sheet.pdf"].make().startswith(b"%PDF")
    assert b"<svg" in papers["glaze-room-days.svg"].make()
    assert len(drawn) == 1
