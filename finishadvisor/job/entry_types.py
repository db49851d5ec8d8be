"""The kinds of entry that the job document is made of: each reads what a person types and knows its JSON Schema."""

import datetime
from collections.abc import Callable
from typing import Annotated, Any, Final

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Discriminator,
    Field,
    Tag,
    ValidationInfo,
    WithJsonSchema,
)

from finishadvisor.job.entries import read_answer, read_clock, read_day, read_moment, read_name, read_words
from finishadvisor.job.lengths import (
    read_length_ft,
    read_length_or_zero_ft,
    read_place_ft,
    read_size_ft,
    read_small_length_ft,
    read_temperature_f,
)


def _typed(read: Callable[[Any, ValidationInfo | None], Any]) -> BeforeValidator:
    """Return a validator that hands on the context; pydantic gives none to a function whose `info` has a default."""

    def with_context(value: Any, info: ValidationInfo) -> Any:
        return read(value, info)

    return BeforeValidator(with_context)


NUMBER_OR_TEXT: Final = WithJsonSchema({"type": ["number", "string"]})
_LENGTH_TEXT: Final = WithJsonSchema({"type": "string", "examples": ["4in", "100 mm"]})
_SIDES: Final = WithJsonSchema({
    "anyOf": [
        {"type": "array", "items": {"type": ["number", "string"]}, "minItems": 2, "maxItems": 2},
        {"type": "string", "examples": ["20ft x 15ft"]},
    ]
})

Feet = Annotated[float, _typed(read_length_ft), NUMBER_OR_TEXT]
"""A length above zero."""
FeetOrZero = Annotated[float, _typed(read_length_or_zero_ft), NUMBER_OR_TEXT]
SmallFeet = Annotated[float, _typed(read_small_length_ft), _LENGTH_TEXT]
"""A length that the trade states in inches; a job file writes its unit."""
Place = Annotated[float, _typed(read_place_ft), NUMBER_OR_TEXT]
"""One coordinate on the plan."""
Fahrenheit = Annotated[float, _typed(read_temperature_f), NUMBER_OR_TEXT]
Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Count = Annotated[int, Field(strict=True, le=1_000_000)]
Flag = Annotated[bool, Field(strict=True)]
Words = Annotated[str, AfterValidator(read_words)]
Name = Annotated[str, AfterValidator(read_name)]
Day = Annotated[datetime.date, BeforeValidator(read_day)]
Moment = Annotated[datetime.datetime, BeforeValidator(read_moment)]
Clock = Annotated[datetime.time, BeforeValidator(read_clock)]
Answer = Annotated[str | float | bool, BeforeValidator(read_answer)]
Point = tuple[Place, Place]
Pixel = tuple[Number, Number]
Polygon = Annotated[tuple[Point, ...], Field(min_length=3, max_length=2_000)]
PixelPolygon = Annotated[tuple[Pixel, ...], Field(min_length=3, max_length=2_000)]
Size = Annotated[tuple[Feet, Feet], _typed(read_size_ft), _SIDES]
"""First and second side."""


def _point_or_words(value: Any) -> str:
    return "words" if isinstance(value, str) else "point"


PointOrWords = Annotated[
    Annotated[Point, Tag("point")] | Annotated[Words, Tag("words")], Discriminator(_point_or_words)
]
