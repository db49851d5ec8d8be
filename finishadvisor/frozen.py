"""The base of catalog rows and of records: frozen, closed, given by keyword, and made in no time.

A job file is a person's, so pydantic reads it and tells every mistake at once. Rows and records are thousands at every
start and ours; their classes cost next to nothing here.
"""

from collections.abc import Mapping
from typing import Any, Self, dataclass_transform

import msgspec


class ByKeyword(msgspec.StructMeta):
    """The kind of class whose fields are all given by keyword, which msgspec would have each class say for itself."""

    def __new__(mcls, name: str, bases: tuple[type, ...], namespace: dict[str, Any], **config: Any) -> "ByKeyword":
        """Return the class."""
        return super().__new__(mcls, name, bases, namespace, kw_only=True, **config)


@dataclass_transform(frozen_default=True, kw_only_default=True, field_specifiers=(msgspec.field,))
class Frozen(msgspec.Struct, frozen=True, forbid_unknown_fields=True, metaclass=ByKeyword):
    """A frozen, closed set of values. Building one by keyword checks names, not values; `model_validate` checks both.

    Its methods bear the names that they have on the parts of the job document.
    """

    @classmethod
    def model_validate(cls, plain: object) -> Self:
        """Return what plain values say, as TOML or JSON gives them.

        Raises:
            msgspec.ValidationError: a key is unknown or missing, or a value is not of its type.
        """
        return msgspec.convert(plain, cls)

    def model_dump(self) -> dict[str, Any]:
        """Return the same as plain values."""
        plain: dict[str, Any] = msgspec.to_builtins(self)
        return plain

    def model_copy(self, *, update: Mapping[str, Any]) -> Self:
        """Return the same with other values under some of the keys."""
        return msgspec.structs.replace(self, **update)
