"""Results written so that a reader finds the old file or the new one, never half of one."""

import json
from pathlib import Path
from typing import Any

import msgspec

from finishadvisor.job.writing import write_whole


def json_bytes(content: Any) -> bytes:
    """Return plain values as indented JSON."""
    compact = json.dumps(content, ensure_ascii=False)
    return (msgspec.json.format(compact, indent=1) + "\n").encode("utf-8")


def write_json(path: Path, content: Any) -> None:
    """Write plain values as indented JSON, in one piece."""
    write_whole(path, json_bytes(content))
