"""Plain entries of a job file: words, days, moments, times of day, answers, and how a message shows a value."""

import datetime
import json
import math
import re
import unicodedata
from typing import Any, Final

from finishadvisor.errors import EntryError

LONGEST_TEXT: Final = 2_000
LONGEST_NAME: Final = 80
_CLOCK = re.compile(r"(\d{1,2})(?::(\d{2})(?::00)?)?\s*(?:([ap])\.?m\.?)?", re.IGNORECASE)
_UNPRINTABLE: Final = {"Cc", "Cs", "Zl", "Zp"}
_DIRECTION_MARKS: Final = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


def shown(value: Any) -> str:
    """Return a value as a message shows it: on one line, short, written as in the file."""
    try:
        text = f'"{value}"' if isinstance(value, str) else json.dumps(value, ensure_ascii=False, default=str)
    except (ValueError, RecursionError):  # an integer of thousands of digits, brackets without end
        text = "a huge value"
    plain = "".join(letter if letter.isprintable() else "?" for letter in text)
    return plain if len(plain) <= 60 else plain[:57] + "..."


def read_words(value: str) -> str:
    """Return a text without blanks around it.

    Raises:
        EntryError: the text is empty, too long, or holds control characters.
    """
    words = value.strip()
    if not words:
        raise EntryError("is empty. Write a text, or leave the key out.")
    if len(words) > LONGEST_TEXT:
        raise EntryError(f"{shown(words)} has {len(words)} characters; at most {LONGEST_TEXT} are allowed.")
    if any(_is_control(letter) for letter in words):
        raise EntryError(
            f"{shown(words)} holds a line break or a control character. Write it on one line, in plain text."
        )
    return words


def read_name(value: str) -> str:
    """Return a short text that names something.

    Raises:
        EntryError: the text is empty, longer than 80 characters, or holds control characters.
    """
    words = read_words(value)
    if len(words) > LONGEST_NAME:
        raise EntryError(f"{shown(words)} has {len(words)} characters; a name has at most {LONGEST_NAME}.")
    return words


def read_day(value: Any) -> datetime.date:
    """Return a date from a TOML date or a text.

    Raises:
        EntryError: the value is no date between the years 1900 and 2200.
    """
    day: Any = value
    if isinstance(value, str):
        try:
            day = datetime.date.fromisoformat(value.strip())
        except ValueError:
            day = None
    if isinstance(day, datetime.datetime) or not isinstance(day, datetime.date) or not 1900 <= day.year <= 2200:
        raise EntryError(f"{shown(value)} is not a date. Write it like 2026-09-14, without quotes.")
    return day


def read_moment(value: Any) -> datetime.datetime:
    """Return a date with a time of day from a TOML date-time or a text; without an offset it is the job's local time.

    Raises:
        EntryError: the value is no date with a time of day.
    """
    moment: Any = value
    if isinstance(value, str):
        try:
            moment = datetime.datetime.fromisoformat(value.strip()) if ":" in value else None
        except ValueError:
            moment = None
    if not isinstance(moment, datetime.datetime) or not 1900 <= moment.year <= 2200:
        raise EntryError(f"{shown(value)} is not a date with a time. Write it like 2026-09-14T07:30, without quotes.")
    return moment


def read_clock(value: Any) -> datetime.time:
    """Return a time of day from a TOML time or a text such as "7:00", "14:30" or "2:30 PM".

    Raises:
        EntryError: the value is no time of day.
    """
    if isinstance(value, datetime.time) and value.tzinfo is None:
        return value
    found = _CLOCK.fullmatch(value.strip()) if isinstance(value, str) else None
    hour = _hour(int(found[1]), found[3], with_minutes=found[2] is not None) if found else None
    if found is None or hour is None or int(found[2] or 0) > 59:
        raise EntryError(f'{shown(value)} is not a time of day. Write it like "14:30" or "2:30 PM".')
    return datetime.time(hour, int(found[2] or 0))


def _hour(hour: int, half: str | None, *, with_minutes: bool) -> int | None:
    """Return the hour of the day, 0 to 23, None where there is none such; `half` is the a or p of AM and PM."""
    if half is None:
        return hour if hour < 24 and with_minutes else None
    return hour % 12 + (12 if half in "pP" else 0) if 1 <= hour <= 12 else None


def read_answer(value: Any) -> str | float | bool:
    """Return the answer to a fact: a word, a number, or true or false.

    Raises:
        EntryError: the value is a list, a table, a date, or not a finite number.
    """
    if isinstance(value, str):
        return read_words(value)
    if isinstance(value, bool):
        return value
    if isinstance(value, int | float) and abs(value) < 1e15 and math.isfinite(value):
        return float(value)
    raise EntryError(f"{shown(value)} is not an answer. Write one word in quotes, a number, or true or false.")


def _is_control(letter: str) -> bool:
    return unicodedata.category(letter) in _UNPRINTABLE or unicodedata.bidirectional(letter) in _DIRECTION_MARKS
