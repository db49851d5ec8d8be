"""Results written so that a reader finds the old file or the new one, never half of one."""

import json
import os
import tempfile
from pathlib import Path
from typing import Any

from finishadvisor.errors import JobError


def write_bytes_whole(path: Path, content: bytes) -> None:
    """Write a file in one piece: first beside it, then in its place.

    Raises:
        JobError: the folder does not exist or cannot be written to.
    """
    try:
        handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    except OSError as error:
        raise JobError(
            f"{path} cannot be written ({error.strerror}). Name a folder that exists and is yours."
        ) from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except OSError as error:
        Path(beside).unlink(missing_ok=True)
        raise JobError(f"{path} could not be written ({error.strerror}). The old file is unchanged.") from error


def json_bytes(content: Any) -> bytes:
    """Return plain values as indented JSON."""
    return (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def write_json(path: Path, content: Any) -> None:
    """Write plain values as indented JSON, in one piece."""
    write_bytes_whole(path, json_bytes(content))
