"""Measured floors kept in the job folder, so that advice needs no photo to be measured again.

A kept measurement counts only while its photos and their marks are what they were.
"""

import hashlib
import json
from pathlib import Path
from typing import Final

from msgspec import ValidationError

from finishadvisor import __version__
from finishadvisor.errors import JobError
from finishadvisor.job.document import Floor
from finishadvisor.records.evenness import FloorEvenness

MEASURED: Final = "measured"


def kept_path(folder: Path, floor: Floor) -> Path:
    """Return where the measurement of a floor is kept; the name holds only characters that every system allows."""
    plain = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in floor.name.lower()).strip("-")
    return folder / MEASURED / f"{plain or 'floor'}-{hashlib.sha256(floor.name.encode()).hexdigest()[:6]}.json"


def fingerprint(folder: Path, floor: Floor) -> str:
    """Return a digest of everything that a measurement of this floor follows from."""
    digest = hashlib.sha256(__version__.encode())
    for photo in floor.photos:
        digest.update(photo.model_dump_json().encode())
        path = folder / "photos" / photo.file
        if path.is_file():
            digest.update(hashlib.sha256(path.read_bytes()).digest())
    for load in floor.loads:
        if load.boundary:
            digest.update(f"{load.name} {load.boundary}".encode())
    return digest.hexdigest()


def keep(folder: Path, floor: Floor, evenness: FloorEvenness) -> None:
    """Keep the measurement of a floor.

    Raises:
        JobError: the job folder cannot be written to.
    """
    from finishadvisor.whole_job.files import write_json

    path = kept_path(folder, floor)
    try:
        path.parent.mkdir(exist_ok=True)
    except OSError as error:
        raise JobError(f"{path.parent} cannot be made: {error.strerror or error}.") from None
    content = {"fingerprint": fingerprint(folder, floor), "evenness": evenness.as_json()}
    if evenness.compared is not None:
        content["compared"] = evenness.compared.as_json()
    write_json(path, content)


def kept(folder: Path, floor: Floor) -> FloorEvenness | None:
    """Return the kept measurement, or None where there is none or the photos or marks have changed since."""
    path = kept_path(folder, floor)
    if not floor.photos or not path.is_file():
        return None
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
        if content["fingerprint"] != fingerprint(folder, floor):
            return None
        return FloorEvenness.model_validate({**content["evenness"], "compared": content.get("compared")})
    except (OSError, ValueError, KeyError, TypeError, ValidationError):
        return None  # a damaged copy is worth nothing: the photos are measured again
