"""The user's own rows are named on the papers where one decided or was used, and nowhere else."""

from importlib import resources

import pytest

from finishadvisor.papers.client_sheet import client_sheet_data, options_shown
from finishadvisor.papers.job_sheet import job_sheet
from finishadvisor.papers.order_list import order_list_data
from finishadvisor.whole_job.work_through import work_through
from tests.papers import jobs
from tests.papers.conftest import DAY

SHIPPED = resources.files("finishadvisor.catalog") / "data" / "materials.toml"
RULES = """
[[rule]]
id = "feet-like-it-quiet"
about = { all = "finishes" }
when = { use = "workshop" }
effect = "favor"
weight = 1
because = "Our crew has laid forty of these workshops"
source = { id = "common-practice" }

[[rule]]
id = "never-in-a-kitchen"
about = { all = "finishes" }
when = { use = "kitchen" }
effect = "against"
weight = 1
because = "Our kitchens did badly"
source = { id = "common-practice" }
"""


@pytest.fixture(scope="module")
def own(tmp_path_factory):
    """A workshop with two rules and a detergent of the user's own."""
    folder = jobs.write_job(
        tmp_path_factory.mktemp("own") / "job",
        [jobs.floor("Shop")],
        head='[own_files]\nrules = ["my-rules.toml"]\nmaterials = ["my-materials.toml"]',
    )
    (folder / "my-rules.toml").write_text(RULES, encoding="utf-8")
    shipped = SHIPPED.read_text(encoding="utf-8")
    start = shipped.index('[[material]]\nid = "neutral-detergent"')
    row = shipped[start : shipped.index("[[material]]", start + 5)].replace('name = "', 'name = "Our own ')
    (folder / "my-materials.toml").write_text(row, encoding="utf-8")
    return work_through(folder, DAY)


def test_a_rule_that_decided_stands_on_the_client_sheet_without_its_file(own):
    outcome = own.floors[0]
    told = client_sheet_data(own, outcome)["own_rows"]
    assert "Our crew has laid forty of these workshops." in told
    assert "kitchens" not in str(told)
    assert ".toml" not in str(told)
    assert options_shown(outcome)


def test_job_sheet_and_order_name_row_and_file(own):
    outcome = own.floors[0]
    sheet = str(job_sheet(own, outcome, ()).data())
    assert "Rule: Our crew has laid forty of these workshops (my-rules.toml)" in sheet
    assert "Material: Our own" in sheet
    assert "my-materials.toml" in sheet
    assert "kitchens" not in sheet
    order = order_list_data(own, own.order)["own_rows"]
    assert len(order) == 1
    assert order[0].startswith("Material: Our own")
    assert order[0].endswith("(my-materials.toml)")


def test_a_job_without_own_rows_says_nothing_of_them(example):
    assert client_sheet_data(example, example.floors[0])["own_rows"] == []
    assert order_list_data(example, example.order)["own_rows"] == []
    assert "From your own rows" not in str(job_sheet(example, example.floors[0], ()).data())
