"""What all records share: frozen, closed, and printed as JSON with every key always there."""

from typing import Any

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A frozen result. Unknown keys are refused; `as_json` prints `null` where a value is not known."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)

    def as_json(self) -> dict[str, Any]:
        """Return plain JSON values under the contract's key names."""
        return self.model_dump(mode="json", by_alias=True)


class SourceNote(Record):
    """On whose word: a source id of sources.toml, the clause, and whether the value is given from memory."""

    id: str
    clause: str | None = None
    from_memory: bool = False


class Money(Record):
    """An amount in the job's currency; `basis` says where the prices came from."""

    low: float
    expected: float
    high: float
    basis: str


class Spread(Record):
    """A quantity with its 10th percentile, expected value and 90th percentile."""

    low: float
    expected: float
    high: float
    unit: str
