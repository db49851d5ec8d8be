"""Every command that works with the catalog says which of the user's own rows were used."""

import pytest
from click.testing import CliRunner

from finishadvisor.cli.main import cli

JOB = """
name = "Patio"
time_zone = "America/Chicago"

[own_files]
rules = ["mine.toml"]

[[floor]]
name = "Patio"

[floor.pour]
date = 2026-03-02

[floor.outline]
[[floor.outline.rectangle]]
x = 12
y = 10

[floor.answers]
place = "outdoors"
use = "patio"
"""
ROWS = """
[[rule]]
id = "no-acrylic-of-mine"
about = { layer = "acrylic" }
when = {}
effect = "forbid"
because = "We do not lay acrylic"
source = { id = "common-practice", from_memory = true }
"""
STUFF = """
[[material]]
id = "acrylic-of-mine"
name = "Acrylic from around the corner"
chemistry = "acrylic"
carrier = "water"
unit = "gal"
basis = "film"
volume_solids = { low = 0.2, expected = 0.25, high = 0.3 }
dry_film_mils = { low = 1, expected = 1.2, high = 1.5 }
loss = { low = 0.05, expected = 0.08, high = 0.15 }
packs = [{ size = 5, price = { low = 100, expected = 150, high = 200 } }]
source = { id = "common-practice", from_memory = true }
"""
OWN = "rule no-acrylic-of-mine (mine.toml)"


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    folder = tmp_path_factory.mktemp("patio")
    own_files = 'rules = ["mine.toml"]\nmaterials = ["stuff.toml"]'
    (folder / "job.toml").write_text(JOB.replace('rules = ["mine.toml"]', own_files), encoding="utf-8")
    (folder / "mine.toml").write_text(ROWS, encoding="utf-8")
    (folder / "stuff.toml").write_text(STUFF, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    "words",
    [
        ["check"], ["advise"], ["order"], ["plan"], ["today"], ["papers", "--only", "order.csv"],
        ["why", "--floor", "Patio", "--finish", "acrylic-water"], ["done", "--floor", "Patio", "--task", "wash"],
    ],
    ids=lambda words: words[0],
)  # fmt: skip
def test_every_command_says_which_own_rows_were_used(job, words):
    result = CliRunner().invoke(cli, [words[0], str(job), *words[1:], "--on", "2026-09-21"], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    assert OWN in " ".join(result.output.split())


def test_used_says_whether_the_material_is_a_row_of_the_users_own(job):
    words = ["--floor", "Patio", "--layer", "seal", "--area", "120", "--amount", "1", "--on", "2026-09-21"]
    own, shipped = (
        CliRunner().invoke(cli, ["used", str(job), "--material", name, *words], catch_exceptions=False)
        for name in ("acrylic-of-mine", "acrylic-water")
    )
    assert own.exit_code == shipped.exit_code == 0
    assert "material acrylic-of-mine (stuff.toml)" in own.output
    assert "own rows" not in shipped.output


def test_an_own_rule_decides_and_is_marked(job):
    words = ["why", str(job), "--floor", "Patio", "--finish", "acrylic-water", "--on", "2026-09-21"]
    output = CliRunner().invoke(cli, words, catch_exceptions=False).output
    assert "does not suit" in output
    assert "forbid: We do not lay acrylic (your own rule)" in output


def test_why_says_what_a_finish_shuts_out(job):
    words = ["why", str(job), "--floor", "Patio", "--finish", "repellent", "--on", "2026-09-21"]
    told = CliRunner().invoke(cli, words, catch_exceptions=False).output.split("Met (")[0]
    assert "Out of reach once it is down" in told
    assert "Clear acrylic, water-borne" in told
