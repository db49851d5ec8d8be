"""The one look, read from look.toml."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any


@dataclass(frozen=True)
class Look:
    """Type, spacing and colors by name, as look.toml gives them."""

    type: dict[str, Any]
    space: dict[str, float]
    color: dict[str, str]
    color_dark: dict[str, str]


@cache
def look() -> Look:
    """Return the look."""
    text = resources.files("finishadvisor.papers").joinpath("look.toml").read_text(encoding="utf-8")
    return Look(**tomllib.loads(text))
