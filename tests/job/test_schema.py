import datetime
import tomllib
from collections.abc import Mapping
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from finishadvisor.catalog.models import Fact
from finishadvisor.job.schema import job_schema
from tests.job.test_docs import whole_example


def plain(value: Any) -> Any:
    """Return TOML values as an editor's checker sees them: dates as texts."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, datetime.date | datetime.time) else value


def errors(facts: Mapping[str, Fact], text: str) -> list[str]:
    validator = Draft202012Validator(job_schema(facts))
    return [error.message for error in validator.iter_errors(plain(tomllib.loads(text)))]


def test_the_schema_is_a_schema_and_knows_no_null(facts: Mapping[str, Fact]) -> None:
    schema = job_schema(facts)
    Draft202012Validator.check_schema(schema)
    assert '"null"' not in str(schema).replace("'", '"')


def test_the_documented_example_passes(facts: Mapping[str, Fact]) -> None:
    text = whole_example().replace('place = "indoors"\n', "").replace('use = "workshop"\n', "")
    assert errors(facts, text) == []


@pytest.mark.parametrize(
    "lines",
    ["colour = 1", '[floor.answers]\nsun = "ful"', "[floor.answers]\nson = 1", "[floor.answers]\nthickness_in = 99",
     "[floor.answers]\nheat_in_slab = 1", '[[floor.load]]\nname = "1"\nslump = 4', '[[floor.reading]]\nkind = "ph"',
     "[floor.outline]\nrectangle = [{ x = true, y = 3 }]", "[floor.room]\nair = 70\nrh_pct = 101"],
)  # fmt: skip
def test_mistakes_are_marked(facts: Mapping[str, Fact], lines: str) -> None:
    start = 'name = "n"\n[[floor]]\nname = "f"\n'
    assert errors(facts, start) == []
    assert errors(facts, start + lines)


def test_keys_and_answers_are_described(facts: Mapping[str, Fact]) -> None:
    parts = job_schema(facts)["$defs"]
    assert "photos folder" in parts["Photo"]["properties"]["file"]["description"]
    assert parts["Floor"]["properties"]["answers"]["properties"]["sun"]["enum"] == ["none", "part", "full"]
