import re
from pathlib import Path

import pytest
from pydantic import BaseModel

from finishadvisor.job import document, drawn
from finishadvisor.job.document import Job
from finishadvisor.job.folder import read_job
from finishadvisor.job.part import Part

PAGE = (Path(__file__).parents[2] / "docs" / "job-file.md").read_text(encoding="utf-8")


def whole_example() -> str:
    (example,) = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    return str(example)


@pytest.fixture
def example(tmp_path: Path) -> Job:
    (tmp_path / "photos").mkdir()
    for file in ("photos/bay-west.jpg", "photos/bay-east.jpg", "our-materials.toml", "weather.csv"):
        (tmp_path / file).touch()
    return read_job(whole_example(), tmp_path)


def test_the_whole_example_loads_and_leaves_no_part_out(example: Job) -> None:
    (floor,) = example.floors
    assert all(getattr(example, key) not in (None, (), {}) for key in Job.model_fields)
    assert all(getattr(floor, key) not in (None, (), {}) for key in type(floor).model_fields)


def parts() -> list[type[BaseModel]]:
    named = {**vars(drawn), **vars(document)}.values()
    return [part for part in named if isinstance(part, type) and issubclass(part, Part)]


@pytest.mark.parametrize("part", parts(), ids=lambda part: part.__name__)
def test_every_key_is_told_of_and_stands_in_the_example(part: type[BaseModel]) -> None:
    told = PAGE.replace(whole_example(), "")
    for name, field in part.model_fields.items():
        key = field.alias or name
        assert re.search(rf"[`.\[]{key}[`\]]|`{key} =", told), key
        assert re.search(rf"\b{key}( =|\])", whole_example()), key


def test_every_kind_of_reading_is_told_of() -> None:
    for kind in document.ReadingKind.__args__:  # type: ignore[attr-defined]
        assert f"`{kind}`" in PAGE
