"""Reading forms: the token that only this page knows, then plain text fields, then values of their kind."""

import datetime
from collections.abc import Mapping
from typing import Final, TypeVar

from pydantic import BaseModel, ValidationError
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request

from finishadvisor.catalog.models import Fact
from finishadvisor.errors import UsageError
from finishadvisor.web.job_units import number_from, unit_in
from finishadvisor.web.site import device_of, site_of

TOKEN: Final = "token"
VERSION: Final = "version"
ONCE: Final = "once"
"""The mark of one form as it was shown; sent twice, it is still one wish."""
MOST_FIELDS: Final = 400

Row = TypeVar("Row", bound=BaseModel)
Fields = Mapping[str, str]


async def read_form(request: Request) -> tuple[Fields, list[UploadFile]]:
    """Return the text fields and the files of a form.

    Raises:
        HTTPException: the form does not bear the token of this device.
    """
    form = await request.form(max_files=12, max_fields=MOST_FIELDS, max_part_size=500_000)
    # A browser sends every end of a line as two characters; what it was given to choose from had one.
    fields = {name: value.replace("\r\n", "\n") for name, value in form.multi_items() if isinstance(value, str)}
    files = [value for _, value in form.multi_items() if isinstance(value, UploadFile)]
    if not site_of(request).tokens.fits(fields.get(TOKEN, ""), device_of(request)):
        raise HTTPException(403, "This form is from before the page was last started. Load the page again and resend.")
    return fields, files


def entered(fields: Fields) -> dict[str, str]:
    """Return what the person entered: the fields without those that the page itself put into the form."""
    return {name: value for name, value in fields.items() if name not in {TOKEN, VERSION, ONCE}}


def read_fact(fact: Fact, text: str, units: str = "us") -> str | float | bool | None:
    """Return the answer to a fact as typed or chosen in a job in such units; an empty one is not known.

    Raises:
        UsageError: it is not an answer to this fact.
    """
    text = text.strip()
    if not text:
        return None
    if fact.type == "word":
        return text
    if fact.type == "flag":
        if text in {"yes", "no"}:
            return text == "yes"
        raise UsageError(f"{fact.question} The answer is yes, no, or not known.")
    try:
        return number_from(float(text.replace(",", "")), fact.unit, units)
    except ValueError:
        unit = f", in {unit_in(fact.unit, units)}" if fact.unit else ""
        raise UsageError(f'{fact.question} "{text[:40]}" is not a number. Write digits only{unit}.') from None


def read_day(text: str, what: str) -> datetime.date | None:
    """Return a day from a date field, None where it was left empty.

    Raises:
        UsageError: it is not a day.
    """
    if not text.strip():
        return None
    try:
        return datetime.date.fromisoformat(text.strip())
    except ValueError:
        raise UsageError(f'{what}: "{text[:40]}" is not a day. Write it as year-month-day, like 2026-09-14.') from None


def number_or_text(text: str) -> str | float:
    """Return a number where the text is one, else the text as typed."""
    try:
        return float(text)
    except ValueError:
        return text.strip()


def row_of(kind: type[Row], **entries: object) -> Row:
    """Return a row of the job file from what was entered.

    Raises:
        UsageError: an entry is not allowed there; the line names the entry.
    """
    try:
        return kind(**entries)
    except ValidationError as error:
        first = error.errors()[0]
        reason = first["msg"].removeprefix("Value error, ")
        raise UsageError(f"{str(first['loc'][0]).replace('_', ' ')}: {reason[:1].lower()}{reason[1:]}") from None
