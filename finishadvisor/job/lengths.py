"""Lengths and temperatures as people type them."""

from typing import Any

from pydantic import ValidationInfo


def read_length_ft(value: Any, info: ValidationInfo | None = None) -> float:
    """Return a length in feet (placeholder until the reader below is complete)."""
    return float(value)


def read_temperature_f(value: Any, info: ValidationInfo | None = None) -> float:
    """Return a temperature in °F (placeholder until the reader below is complete)."""
    return float(value)
