"""Writing job.toml: one writer at a time, whole or not at all, the previous version kept beside it."""

import errno
import glob
import hashlib
import os
import shutil
import stat
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final

from finishadvisor.errors import ChangedMeanwhileError, JobError
from finishadvisor.job.toml_text import decode, read_bytes

if TYPE_CHECKING:
    import tomlkit

LOCK_FILE: Final = ".job.lock"
WAIT_SECONDS: Final = 3.0
FORGOTTEN_SECONDS: Final = 3600.0
"""No file takes an hour to be written: an unfinished one of that age was left by a writer that was killed."""
_BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"
_UNFINISHED: Final = ".unfinished"


def previous_of(path: Path) -> Path:
    """Return where the version before the last change is kept: job.previous.toml beside job.toml."""
    return path.with_name(f"{path.stem}.previous{path.suffix}")


def version_of(data: bytes) -> str:
    """Return a short mark of a file's content: two contents have the same mark only when they are the same."""
    return hashlib.sha256(data).hexdigest()[:16]


def change_file(
    path: Path,
    change: "Callable[[tomlkit.TOMLDocument], None]",
    check: Callable[[str], object],
    version: str | None = None,
) -> None:
    """Change a TOML file in place of its comments, byte order mark and line ends.

    Args:
        path: the file.
        change: alters the document.
        check: is given the new text and raises when it may not be written.
        version: the mark of the content that the change was thought out for; None where any content will do.

    Raises:
        ChangedMeanwhileError: the content is not of that version any more; nothing was written.
        JobError: another program is writing, the file is not TOML, `check` refused, or it cannot be written.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    with locked(path.parent):
        target = path.resolve()
        before = read_bytes(target)
        if version is not None and version != version_of(before):
            raise ChangedMeanwhileError(
                f"{path.name} was changed by another window, device or command since you opened this. "
                "Nothing was changed. Look at it again and repeat your entry."
            )
        text = decode(before, path.name)
        try:
            document = tomlkit.parse(text)
        except TOMLKitError as error:
            check(text)  # names line and mend, as everywhere else
            raise JobError(f"{path.name} cannot be changed by the program: {error}. Change it in an editor.") from None
        unchanged = tomlkit.dumps(document)
        change(document)
        after = tomlkit.dumps(document)
        check(after)
        _sweep(path)
        if after != unchanged:
            _refuse_read_only(target)
            write_whole(previous_of(path), before)
            write_whole(target, _encode_like(before, after))


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold the folder's lock for as long as the block runs.

    Raises:
        JobError: another program holds it, or the folder cannot be written to.
    """
    from filelock import FileLock, Timeout

    lock = FileLock(folder / LOCK_FILE, timeout=WAIT_SECONDS)
    try:
        lock.acquire()
    except Timeout:
        raise JobError(
            f"Another window or command is writing to the job {folder.name}. Nothing was changed; try again soon."
        ) from None
    except OSError as error:
        raise JobError(_cannot_write(folder, error)) from None
    try:
        yield
    finally:
        lock.release()


def write_whole(path: Path, data: bytes, *, lasting: bool = True) -> None:
    """Write a file so that it holds either its old content or all of the new one, whenever the power fails.

    Args:
        path: the file.
        data: all that it shall hold.
        lasting: wait until the disk has it; not worth it for what can be made anew from other files.

    Raises:
        JobError: the file cannot be written; what was there is untouched.
    """
    unfinished: Path | None = None
    try:
        if path.exists() and not path.is_file():  # a terminal or another device is written to, never replaced
            path.write_bytes(data)
            return
        with tempfile.NamedTemporaryFile(
            dir=path.parent, prefix=f".{path.name}.", suffix=_UNFINISHED, delete=False
        ) as file:
            unfinished = Path(file.name)
            file.write(data)
            file.flush()
            if lasting:
                os.fsync(file.fileno())
        if path.exists():
            shutil.copymode(path, unfinished)
        else:
            unfinished.chmod(0o644)  # a temporary file is private, a job file is like any other
        unfinished.replace(path)
        _sweep(path, FORGOTTEN_SECONDS)
    except OSError as error:
        raise JobError(_cannot_write(path, error)) from None
    finally:
        if unfinished is not None:
            unfinished.unlink(missing_ok=True)


def _sweep(path: Path, least_age_s: float = 0.0) -> None:
    """Remove what a writer that was killed left unfinished beside a file.

    Only the holder of the lock may remove all of it; anyone else only what is too old to be another's work under way.
    """
    for left in path.parent.glob(f".{glob.escape(path.stem)}*{_UNFINISHED}"):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime >= least_age_s:
                left.unlink(missing_ok=True)


def _encode_like(before: bytes, text: str) -> bytes:
    """Return the new text with the byte order mark and the line ends of the old file."""
    ends = "\r\n" if before.count(b"\r\n") * 2 > before.count(b"\n") else "\n"
    mark = _BYTE_ORDER_MARK if before.startswith(_BYTE_ORDER_MARK) else b""
    return mark + text.replace("\n", ends).encode("utf-8")


def _refuse_read_only(path: Path) -> None:
    """Refuse a file that was marked as not to be changed; replacing it would work all the same.

    Raises:
        JobError: the file is read-only.
    """
    if not path.stat().st_mode & stat.S_IWRITE:
        raise JobError(f"{path.name} is marked read-only, so nothing was changed. Take the mark off and try again.")


def _cannot_write(path: Path, error: OSError) -> str:
    reason = error.strerror or str(error)
    mends = {
        errno.ENOSPC: "Make room on the disk.",
        errno.ENOENT: f"Make the folder {path.parent} first, or name another.",
        errno.ENAMETOOLONG: "Give it a shorter name.",
    }
    mend = mends.get(
        error.errno or 0, "Close it in other programs, and check that the file and its folder may be written to."
    )
    return f"{path} cannot be written: {reason}. Nothing was changed. {mend}"
