"""Whatever a CSV file holds stands in JSON too, under the same names, as numbers and not as words."""

import csv
import io
import json

import pytest

from finishadvisor.papers.make import list_papers, make_paper
from finishadvisor.papers.tables import Table

COLUMNS = {
    "advice": "floor rank finish name verdict conditions own_first_cost own_life_cost days_out",
    "reasons": "floor finish rule effect met because source",
    "prices": "floor finish name verdict price_low price price_high life_low life life_high",
    "readings": "floor reading kind value date x_ft y_ft place note",
    "works": "floor finish task work_item title layer coat quantity unit crew_hours_low crew_hours crew_hours_high "
    "certain why",
    "batches": "floor task batch zone volume_gal area_ft2 wet_film_mils use_within_min",
    "order": "material name count pack_size unit price_per_pack",
    "needs": "floor finish material layer coats low expected high unit basis working",
    "plan": "floor task layer coat start end earliest latest crew crew_hours",
    "back-in-service": "floor foot water furniture cover vehicle",
    "patches": "floor photo patch kind x_ft y_ft width_ft length_ft area_ft2 dL da db de00",
}
"""The closed shape of tables.json, as docs/json.md has it."""


@pytest.fixture(scope="module")
def tables(example):
    return json.loads(make_paper(example, "tables.json"))


def csv_rows(whole, name):
    return list(csv.DictReader(io.StringIO(make_paper(whole, name).decode("utf-8"))))


def as_csv_has_it(value):
    return "" if value is None else str(value)


def test_the_columns_are_closed(tables):
    assert {name: " ".join(rows[0]) for name, rows in tables.items()} == COLUMNS
    for name, rows in tables.items():
        assert {" ".join(row) for row in rows} == {COLUMNS[name]}


def test_each_csv_says_what_the_json_says(example, tables):
    names = {paper.name for paper in list_papers(example) if paper.name.endswith(".csv")}
    for name in [name for name in COLUMNS if name != "patches"]:
        names.remove(f"{name}.csv")
        said = [{key: as_csv_has_it(value) for key, value in row.items()} for row in tables[name]]
        assert csv_rows(example, f"{name}.csv") == said, name
    patches = [row for name in sorted(names) if name.endswith("-patches.csv") for row in csv_rows(example, name)]
    assert patches == [{key: as_csv_has_it(value) for key, value in row.items()} for row in tables["patches"]]
    for name in (name for name in names if name.endswith("-cells.csv")):
        cells = json.loads(make_paper(example, name.replace(".csv", ".json")))
        assert set(cells) == {"columns", "rows"}
        said = [dict(zip(cells["columns"], map(as_csv_has_it, row), strict=True)) for row in cells["rows"]]
        assert csv_rows(example, name) == said, name
        names = names - {name}
    assert {name for name in names if not name.endswith("-patches.csv")} == set()


def test_readings_and_batches_are_those_of_the_job(example, tables):
    from finishadvisor.whole_job.batches import batches_of

    readings = [reading for floor in example.job.floors for reading in floor.readings]
    assert [(row["kind"], row["value"], row["date"]) for row in tables["readings"]] == [
        (reading.kind, reading.value, reading.date.isoformat()) for reading in readings
    ]
    assert [(row["task"], row["volume_gal"]) for row in tables["batches"]] == [
        (batch.task, batch.volume_gal) for batch in batches_of(example)
    ]


def test_a_floor_of_which_little_is_known_has_the_tables_that_can_be_made(bare_bones):
    tables = json.loads(make_paper(bare_bones, "tables.json"))
    assert set(tables) == {"advice", "reasons", "prices", "readings"}
    assert tables["readings"] == []


@pytest.mark.parametrize(
    "rows",
    [
        (),
        ((0.0001, -0.0, 50.0, None, 1),),
        ((1234.5678, 12.3450001, -7, None, 0), (None, None, None, None, None), (0.001, 100.0, 3.0, -2.5, 1)),
    ],
)
def test_numbers_written_quickly_are_the_same_file(rows):
    table = Table(("x_ft", "y_ft", "L", "de00", "used"), rows)
    assert table.csv_of_numbers() == table.csv()


def test_cells_are_printed_with_the_digits_that_they_have(example):
    name = next(paper.name for paper in list_papers(example) if paper.name.endswith("-cells.csv"))
    rows = list(csv.DictReader(io.StringIO(make_paper(example, name).decode("utf-8"))))
    numbers = [row[key] for row in rows for key in ("L", "a", "b", "de00") if row[key]]
    assert len(numbers) > 1000
    assert max(len(number.partition(".")[2]) for number in numbers) == 3
