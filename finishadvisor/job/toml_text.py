"""From the bytes of a TOML file to plain values, with one clear line for whatever stands in the way."""

import codecs
import re
from pathlib import Path
from typing import Any, Final

import tomli

from finishadvisor.errors import JobError
from finishadvisor.job.entries import shown

LARGEST_BYTES: Final = 2_000_000
_UTF16_MARKS: Final = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
_AT_LINE = re.compile(r"\s*\(at (?:line (?P<line>\d+), column \d+|end of document)\)")
_DEEP_KEY = re.compile(r"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){16,}""")
"""A key of many parts, for which the TOML reader's time grows without bounds; a job's keys have at most four."""
_COMMENT: Final = r"\s#.*"
_LIKELY: Final = (
    (r"\d\s*['′’]", 'Write feet and inches in letters: "24ft 6in".'),
    (r"[“”„«»]", 'Write plain quotes: "like this".'),
    (r'=.*"[^"]*\\', "Write / between folders, not a backslash."),
    (r"\d{1,4}[/.]\d{1,2}[/.]\d{1,4}", "Write a date year first, without quotes: 2026-09-14."),
    (r"\d{4}-\d{1,2}-\d{1,2}", "There is no such day. Write year, month and day in two digits each: 2026-09-04."),
    (
        r'=\s*[^"\[{\s]*[\d.,]\s*(?:ft|in|m|cm|mm|feet|inches|[°ºFC])\b',
        'Write a number with its unit in quotes: "24ft 6in", "7.5 m", "72F".',
    ),
    (r"=\s*(?i:true|false|yes|no)\s*$", "Write true or false, in small letters and without quotes."),
    (r"=\s*\d?\d:\d\d", 'Write a time of day as 07:30:00, or in quotes: "7:30 AM".'),
    (r"=\s*[$€£]?\s*\d[\d.,]*\s*[%$€£]?$", "Write the number alone, with a point and no other sign: 82, 1200, 1.5."),
    (r'^[\w.-]+\s*=\s*[A-Za-z][^"]*$', 'Write a word in quotes: "like this". Numbers and dates have none.'),
    (r'^[^"]*"[^"]*$', "A quote is missing at the end of the text, or at its beginning."),
    (r"^[\w.-]+\s*=?\s*$", "Write the key, =, and the value, or put # in front of the line."),
    (r"^[\w-]+\s*:", "Write = between the key and its value."),
    (r"^\[\[?[^\[\]]*\]?$", "Close the brackets: [floor.outline], [[floor]]."),
)  # fmt: skip
"""Slips that are made often in a job file, as patterns of a line, the surest first, and the mend of each."""
_LONGEST_LOOKED_AT: Final = 200


def read_bytes(path: Path) -> bytes:
    """Return the bytes of a file of reasonable size.

    Raises:
        JobError: the file is not there, cannot be read, or is too large to be a job file.
    """
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise JobError(
                f"{path.name} is {size / 1e6:.1f} MB; a job file has at most {LARGEST_BYTES / 1e6:g} MB. "
                "Is it another file under this name?"
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise JobError(f"There is no file {path}. Check the name, or begin a job with: finishadvisor new") from None
    except OSError as error:
        raise JobError(f"{path} cannot be read: {error.strerror}.") from None


def decode(data: bytes, name: str) -> str:
    """Return the text of a UTF-8 file without its byte order mark, lines ended by a line feed only.

    Args:
        data: the bytes of the file.
        name: how messages call the file.

    Raises:
        JobError: the bytes are not UTF-8.
    """
    if data.startswith(_UTF16_MARKS):
        raise JobError(f"{name} is saved as UTF-16. Save it as UTF-8, in the editor under Save As, Encoding.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise JobError(
            f"{name}, line {line}: a letter is not saved as UTF-8. Save the file as UTF-8, in the editor under "
            "Save As, Encoding."
        ) from None
    return text.replace("\r\n", "\n")


def parse(text: str, name: str) -> dict[str, Any]:
    """Return the plain values of a TOML text.

    Args:
        text: the text of the file.
        name: how messages call the file.

    Raises:
        JobError: the text is not TOML; the message names the line.
    """
    deep = _DEEP_KEY.search(text)
    if deep:
        line = text.count("\n", 0, deep.start()) + 1
        raise JobError(f"{name}, line {line}: {shown(deep[0])} has more parts between dots than any key. Correct it.")
    try:
        return tomli.loads(text)
    except tomli.TOMLDecodeError as error:
        raise JobError(_syntax_mistake(str(error), text, name)) from None
    except RecursionError:
        raise JobError(f"{name} nests brackets far too deeply. Close the brackets.") from None
    except ValueError as error:  # an integer of thousands of digits, a date such as 2026-02-30
        raise JobError(f"{name} holds a value that cannot be read: {str(error).split(';')[0]}.") from None


def _syntax_mistake(reason: str, text: str, name: str) -> str:
    """Return the line that a person reads for a reason given by the TOML reader."""
    found = _AT_LINE.search(reason)
    lines = text.split("\n")
    number = int(found["line"]) if found and found["line"] else len(lines)
    line = lines[min(number, len(lines)) - 1].strip()
    plain = _AT_LINE.sub("", reason)
    where = f"{name}, line {number}"
    if plain.startswith(("Cannot overwrite a value", "Duplicate inline table key")):
        key = line.split("=")[0].strip()
        return f"{where}: the key {shown(key)} stands twice in the same table. Keep one of them."
    if plain.startswith(("Cannot declare", "Cannot redefine", "Cannot mutate", "Cannot define")):
        return f"{where}: {shown(line)} declares a table that is there already. Keep one, or write [[...]] for a list."
    if _is_toml(line):
        return f"{where}: a quote or a bracket opened above this line is not closed. Close it."
    looked_at = re.sub(_COMMENT, "", line[:_LONGEST_LOOKED_AT])
    likely = next((mend for slip, mend in _LIKELY if re.search(slip, looked_at)), None)
    if likely:
        return f"{where}: {shown(line)} cannot be read. {likely}"
    return f"{where}: {shown(line)} is not valid TOML ({plain[:1].lower()}{plain[1:]}). Texts stand in quotes."


def _is_toml(line: str) -> bool:
    try:
        tomli.loads(line)
    except ValueError:
        return False
    return True
