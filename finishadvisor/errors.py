"""The one family of errors: each says what is wrong, the value, what is allowed, and the mend."""

from collections.abc import Iterable
from difflib import get_close_matches
from typing import Final


class FinishAdvisorError(Exception):
    """Anything the user can mend. The message is one plain line; the command line exits with `exit_code`.

    A message may echo what stands in a stranger's file: signs that would steer a terminal are replaced by "?".
    """

    exit_code = 1

    def __init__(self, message: str = "") -> None:
        line = " ".join(message.split())
        super().__init__("".join(sign if sign.isprintable() else "?" for sign in line))


class UsageError(FinishAdvisorError):
    """A command was called wrongly: a bad option, crossed corners, a zero size."""

    exit_code = 2


class OutOfRangeError(FinishAdvisorError):
    """A quantity lies outside the range that its formula or its file allows."""


class CatalogError(FinishAdvisorError):
    """A row of the catalog, shipped or the user's own, cannot be used."""


class EntryError(FinishAdvisorError, ValueError):
    """What a person typed for one value (a length, a temperature, a date) cannot be read."""


class JobError(FinishAdvisorError):
    """The job folder or its job.toml cannot be used as it stands.

    Attributes:
        mistakes: every mistake found, a line each; the message is the first, and how many more there are.
    """

    def __init__(self, first: str, *others: str) -> None:
        count = len(others)
        behind = f" ({count} more {'mistake' if count == 1 else 'mistakes'}; check lists all.)" if others else ""
        super().__init__(first + behind)
        self.mistakes: tuple[str, ...] = (first, *others)


class ChangedMeanwhileError(JobError):
    """The job was changed by someone else since it was read; nothing was written over it."""


class PhotoError(FinishAdvisorError):
    """A photo cannot be read at all."""


class WeatherError(FinishAdvisorError):
    """A weather file cannot be used."""


def require_between(quantity: str, value: float, low: float, high: float, unit: str = "") -> None:
    """Refuse a value outside `low` to `high`, both ends allowed.

    Args:
        quantity: what the value is, in words that a user reads.
        value: the value received.
        low: least allowed value.
        high: greatest allowed value.
        unit: unit printed behind each number.

    Raises:
        OutOfRangeError: the value is outside, or is not a number.
    """
    if not low <= value <= high:
        behind = f" {unit}" if unit else ""
        raise OutOfRangeError(
            f"{quantity} is {value:g}{behind}; it must lie between {low:g} and {high:g}{behind}. "
            "Check the entry and its unit."
        )


def require_positive(quantity: str, value: float, unit: str = "") -> None:
    """Refuse a value that is zero, negative or not a finite number.

    Args:
        quantity: what the value is, in words that a user reads.
        value: the value received.
        unit: unit printed behind the number.

    Raises:
        OutOfRangeError: the value is not above zero, or not finite.
    """
    if not 0 < value < float("inf"):
        behind = f" {unit}" if unit else ""
        raise OutOfRangeError(f"{quantity} is {value:g}{behind}; it must be more than 0. Check the entry and its unit.")


SHORTEST_PART: Final = 2
"""A single letter is a part of too many words to say anything."""
MOST_AROUND: Final = 3


def nearest_of(word: str, allowed: Iterable[str]) -> str:
    """Return ` Did you mean "x"?` for the most similar allowed word, or for the few that it is a part of; else nothing.

    Capital letters make no difference.
    """
    wanted = word.casefold()
    as_written = {each.casefold(): each for each in allowed}
    close = get_close_matches(wanted, as_written, n=1, cutoff=0.6)
    if not close and len(wanted) >= SHORTEST_PART:
        around = [each for each in as_written if wanted in each]
        close = around if len(around) <= MOST_AROUND else []
    listed = " or ".join(f'"{as_written[each]}"' for each in close)
    return f" Did you mean {listed}?" if close else ""
