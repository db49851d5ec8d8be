"""The JSON Schema of job.toml, by which an editor completes keys and marks mistakes while a person types."""

import ast
import inspect
import json
from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import Path
from types import ModuleType
from typing import Any, Final

from finishadvisor.catalog.models import Fact
from finishadvisor.job import document, drawn
from finishadvisor.job.document import Job
from finishadvisor.job.writing import write_whole

SCHEMA_FILE: Final = "job.schema.json"
SCHEMA_LINE: Final = f"#:schema ./{SCHEMA_FILE}"
"""First line of a job.toml: names the schema to editors that know TOML."""


def job_schema(facts: Mapping[str, Fact]) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of job.toml.

    Args:
        facts: the facts of the catalog by id: the keys of a floor's answers, with the values that each takes.
    """
    schema: dict[str, Any] = Job.model_json_schema(by_alias=True, mode="validation")
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "A job: its floors, what is known of them, and what was decided"
    parts = {"Job": schema, **schema["$defs"]}
    for module, part, key, sentence in _described_keys():
        field = getattr(module, part).model_fields[key]
        parts[part]["properties"][field.alias or key]["description"] = sentence
    for part in parts.values():
        for described in part.get("properties", {}).values():
            described.pop("title", None)  # says the key over again
    answers = schema["$defs"]["Floor"]["properties"]["answers"]
    answers["properties"] = {fact.id: _answer_schema(fact) for fact in facts.values()}
    answers["additionalProperties"] = False
    plain: dict[str, Any] = _without_null(schema)
    return plain


def write_schema(folder: Path, facts: Mapping[str, Fact]) -> Path:
    """Write the schema into a job folder and return where it lies.

    Raises:
        JobError: the file cannot be written.
    """
    path = folder / SCHEMA_FILE
    text = json.dumps(job_schema(facts), indent=1, ensure_ascii=False)
    write_whole(path, f"{text}\n".encode())
    return path


def _answer_schema(fact: Fact) -> dict[str, Any]:
    """Return the schema of the answer to one fact."""
    unit = f" [{fact.unit}]" if fact.unit else ""
    schema: dict[str, Any] = {"description": f"{fact.question}{unit} {fact.how}"}
    if fact.type == "flag":
        return {**schema, "type": "boolean"}
    if fact.type == "word":
        return {**schema, "type": "string", **({"enum": list(fact.values)} if fact.values else {})}
    limits = {"minimum": fact.least, "maximum": fact.most}
    return {**schema, "type": "number", **{key: value for key, value in limits.items() if value is not None}}


def _without_null(schema: Any) -> Any:
    """Return the schema without null, which TOML has not: what is not known is left out."""
    if isinstance(schema, list):
        return [_without_null(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    plain = {key: _without_null(value) for key, value in schema.items() if not (key == "default" and value is None)}
    choices = plain.get("anyOf")
    if isinstance(choices, list) and {"type": "null"} in choices:
        left = [choice for choice in choices if choice != {"type": "null"}]
        del plain["anyOf"]
        plain = {**left[0], **plain} if len(left) == 1 else {**plain, "anyOf": left}
    return plain


def _described_keys() -> Iterator[tuple[ModuleType, str, str, str]]:
    """Yield module, part, key and sentence for every key of the document that has a sentence below it."""
    for module in (document, drawn):
        parts = [part for part in ast.parse(inspect.getsource(module)).body if isinstance(part, ast.ClassDef)]
        for part, line, below in ((each, *pair) for each in parts for pair in pairwise(each.body)):
            if isinstance(line, ast.AnnAssign) and isinstance(line.target, ast.Name) and isinstance(below, ast.Expr):
                sentence = ast.literal_eval(below.value)
                yield module, part.name, line.target.id, " ".join(sentence.split())
