"""The JSON contracts, written by hand and closed."""

import json
from pathlib import Path
from typing import Any


def contract(name: str) -> dict[str, Any]:
    """Return one schema: advise, evenness, order or plan."""
    schema: dict[str, Any] = json.loads(Path(__file__).with_name(f"{name}.schema.json").read_text(encoding="utf-8"))
    return schema
