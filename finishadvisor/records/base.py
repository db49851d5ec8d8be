"""What all records share: frozen, closed, and printed as JSON with every key always there."""

from typing import Any

import msgspec

from finishadvisor.frozen import Frozen


class Record(Frozen):
    """A frozen result. `as_json` prints `null` where a value is not known."""

    def as_json(self) -> dict[str, Any]:
        """Return plain JSON values under the contract's key names, each checked against the type of its field.

        Raises:
            msgspec.ValidationError: a value is not of the type of its field: a fault of the program.
        """
        checked = msgspec.json.decode(msgspec.json.encode(self, enc_hook=_plain_number), type=type(self))
        plain: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(checked))
        return plain


def _plain_number(value: Any) -> Any:
    """Return a number of numpy as one of Python."""
    return value.item()


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
