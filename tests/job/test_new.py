import json
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

import pytest

from finishadvisor.catalog.models import Fact
from finishadvisor.errors import JobError
from finishadvisor.job.folder import open_job, read_job
from finishadvisor.job.new import new_job


def test_a_new_job_holds_the_answers_and_opens(tmp_path: Path, facts: Mapping[str, Fact]) -> None:
    folder = tmp_path / "deep" / "job"
    opened = new_job(folder, 'The "red" shed', {"sun": "part", "heat_in_slab": True, "thickness_in": 5.5}, facts)
    assert opened == open_job(folder)
    assert opened.job.name == 'The "red" shed'
    assert opened.job.floors[0].answers == {"sun": "part", "heat_in_slab": True, "thickness_in": 5.5}
    assert (folder / "photos").is_dir()
    assert (folder / "papers").is_dir()


def test_the_first_line_names_the_schema_that_lies_beside_it(tmp_path: Path, facts: Mapping[str, Fact]) -> None:
    new_job(tmp_path, "n", {}, facts)
    first = (tmp_path / "job.toml").read_text(encoding="utf-8").splitlines()[0]
    assert first == "#:schema ./job.schema.json"
    assert json.loads((tmp_path / "job.schema.json").read_text(encoding="utf-8"))["$schema"]


def test_questions_that_nobody_answered_stand_behind_their_mark(tmp_path: Path, facts: Mapping[str, Fact]) -> None:
    new_job(tmp_path, "n", {"heat_in_slab": False}, facts)
    text = (tmp_path / "job.toml").read_text(encoding="utf-8")
    assert '# sun = "none"  # or part, full' in text
    assert "# thickness_in" not in text


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_line_behind_a_mark_can_be_used(tmp_path: Path, facts: Mapping[str, Fact], units: str) -> None:
    new_job(tmp_path, "n", {}, facts, units=units)  # type: ignore[arg-type]
    text = (tmp_path / "job.toml").read_text(encoding="utf-8")
    opened_up = re.sub(r"^# (?=\w+ = |\[)", "", text, flags=re.MULTILINE)
    assert opened_up.count("\n#") < 6
    (tmp_path / "photos" / "slab.jpg").touch()
    job = read_job(opened_up, tmp_path)
    assert job.floors[0].photos
    assert job.floors[0].decision
    assert tomllib.loads(text)["units"] == units


def test_a_job_that_is_there_is_never_touched(job_folder: Path, facts: Mapping[str, Fact]) -> None:
    before = (job_folder / "job.toml").read_bytes()
    with pytest.raises(JobError, match=r"There is a job in .+ already"):
        new_job(job_folder, "other", {}, facts)
    assert (job_folder / "job.toml").read_bytes() == before
    assert not (job_folder / "job.schema.json").exists()


@pytest.mark.parametrize(
    ("name", "answers", "said"),
    [
        ("", {}, "is empty"),
        ("a\nb", {}, "line break"),
        ("n" * 81, {}, "81 characters"),
        ("n", {"sun": "ful"}, 'write one of: none, part, full. Did you mean "full"'),
        ("n", {"son": "full"}, "is not a fact"),
        ("n", {"thickness_in": 50}, "at most 24 in"),
    ],
)
def test_what_cannot_be_used_is_refused_before_anything_is_made(
    tmp_path: Path, facts: Mapping[str, Fact], name: str, answers: dict[str, str | float | bool], said: str
) -> None:
    with pytest.raises(JobError) as refused:
        new_job(tmp_path / "job", name, answers, facts)
    assert said in str(refused.value)
    assert not (tmp_path / "job").exists()


def test_a_file_in_the_way_is_named(tmp_path: Path, facts: Mapping[str, Fact]) -> None:
    (tmp_path / "job").write_text("a file", encoding="utf-8")
    with pytest.raises(JobError, match="cannot be made"):
        new_job(tmp_path / "job", "n", {}, facts)
