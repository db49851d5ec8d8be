"""A small job folder, facts and a catalog stand-in for the tests of the job document."""

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from finishadvisor.catalog.models import Fact

FIRST_LINES = """\
#:schema ./job.schema.json
name = "Boat shed"            # the client calls it so

[[floor]]
name = "Shed"
pour = { date = 2026-06-01 }

[floor.outline]
[[floor.outline.rectangle]]
x = "20ft"
y = "10ft"
"""

FACT_ROWS = """
[[fact]]
id = "sun"
label = "sun"
kind = "choice"
type = "word"
values = ["none", "part", "full"]
question = "How much sun?"
how = "Look at noon."
effort_hours = 0
asked_by_new = true
source = { id = "common-practice" }

[[fact]]
id = "thickness_in"
label = "thickness"
kind = "choice"
type = "number"
unit = "in"
least = 1
most = 24
question = "How thick is the slab?"
how = "From the drawing."
effort_hours = 0
source = { id = "common-practice" }

[[fact]]
id = "heat_in_slab"
label = "heat in the slab"
kind = "choice"
type = "flag"
question = "Is there heat in the slab?"
how = "Ask."
effort_hours = 0
asked_by_new = true
source = { id = "common-practice" }
"""


@pytest.fixture(autouse=True)
def _no_user_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FINISHADVISOR_FOLDER", str(tmp_path / "user folder"))


@pytest.fixture
def facts() -> dict[str, Fact]:
    return {row["id"]: Fact(**row) for row in tomllib.loads(FACT_ROWS)["fact"]}


@pytest.fixture
def job_folder(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    (folder / "photos").mkdir(parents=True)
    (folder / "job.toml").write_text(FIRST_LINES, encoding="utf-8")
    return folder


@pytest.fixture
def write(job_folder: Path) -> Callable[[str], Path]:
    """Write lines behind the first ones, and return the folder."""

    def write_lines(lines: str) -> Path:
        (job_folder / "job.toml").write_text(FIRST_LINES + lines, encoding="utf-8")
        return job_folder

    return write_lines
