"""Fuzz one reader by the code that its input reaches: `python tests/hostile/fuzz_readers.py READER SECONDS`.

READER is one of `readers.READERS`, or `all`, each for so many seconds. It needs the package `atheris` (Linux and
macOS; `pip install atheris`), which is no part of this package. The fuzzer starts from sound input and from the saved
corpus in `tests/hostile/corpus`, and keeps there what led it into new code, as far as it is small text. Every exception
that a reader lets out is a fault; each is printed once, with the input that makes it again, and the run goes on.
"""

import argparse
import hashlib
import importlib
import os
import pkgutil
import re
import subprocess
import sys
import tempfile
import time
import traceback
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

LARGEST_KEPT_BYTES = 1_500
MOST_KEPT_BYTES = 36_000
"""Of one reader: the corpus of all stays below 300 KB."""
MOST_KEPT = 60
"""Files of one reader."""
LARGEST_INPUT_BYTES = 16_000
MOST_MEGABYTES = 2_000
_DONE = re.compile(r"^#(\d+)\s+DONE\s+cov: (\d+) ft: (\d+) corp: (\d+)", re.MULTILINE)


def fuzz(name: str, work: Path, seconds: int) -> None:
    """Let the fuzzer run in this process, which ends with it."""
    import atheris

    with atheris.instrument_imports(include=["finishadvisor"]):
        _import_all()
    from tests.hostile.readers import ready

    take = ready(name, work / "place")
    seen: set[str] = set()
    slowest = work / "slowest"
    longest = 0.0

    def try_one(data: bytes) -> None:
        nonlocal longest
        begin = time.perf_counter()
        try:
            take(data)
        except Exception as error:  # whatever it is: readers let nothing out
            where = _where(error)
            if where not in seen:
                seen.add(where)
                path = work / "faults" / f"{len(seen)}.bin"
                path.write_bytes(data)
                path.with_suffix(".txt").write_text(where + "\n" + traceback.format_exc(), encoding="utf-8")
        spent = time.perf_counter() - begin
        if spent > longest:
            longest = spent
            slowest.write_text(f"{spent:.2f}", encoding="utf-8")

    words = [f"-max_total_time={seconds}", f"-max_len={LARGEST_INPUT_BYTES}", f"-rss_limit_mb={MOST_MEGABYTES}",
             f"-dict={work / 'words'}", "-timeout=60", "-reduce_inputs=1", "-close_fd_mask=1",
             f"-artifact_prefix={work}/faults/"]  # fmt: skip
    atheris.Setup([sys.argv[0], *words, str(work / "corpus")], try_one)
    atheris.Fuzz()


def _import_all() -> None:
    """Import every module of the package, so that the fuzzer sees which lines of it are reached."""
    import finishadvisor

    for module in pkgutil.walk_packages(finishadvisor.__path__, "finishadvisor."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)


def _where(error: Exception) -> str:
    """Return what went wrong and in which line of ours, by which faults are told apart."""
    frames = traceback.extract_tb(error.__traceback__)
    ours = [frame for frame in frames if "finishadvisor" in frame.filename] or list(frames)
    return f"{type(error).__name__} in {Path(ours[-1].filename).name}:{ours[-1].lineno}: {str(error)[:200]}"


def run(name: str, seconds: int) -> int:
    """Fuzz a reader in a process of its own, print its counts, keep what is new; return the number of faults."""
    from tests.hostile.readers import CORPUS, READERS, kept_inputs

    reader = READERS[name]
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        (work / "faults").mkdir()
        (work / "corpus").mkdir()
        begun = [*reader.sound(), *kept_inputs(name)]
        for data in begun:
            (work / "corpus" / _name(data)).write_bytes(data)
        words = _dictionary(begun) if reader.text else '"Exif"\n"ICC_PROFILE"\n"acsp"\n"ftypheic"\n'
        (work / "words").write_text(words, encoding="ascii")
        settings = {**os.environ, "FINISHADVISOR_FOLDER": str(work / "user folder"), "OPENBLAS_NUM_THREADS": "1"}
        command = [sys.executable, __file__, name, str(seconds), "--inside", str(work)]
        done = subprocess.run(command, env=settings, capture_output=True, check=False)
        said = done.stderr.decode("utf-8", "replace")
        faults = sorted((work / "faults").glob("*.txt"))
        for path in faults:
            print(path.read_text(encoding="utf-8"), path.with_suffix(".bin").read_bytes()[:2000], sep="", flush=True)
        ended = [path.name for path in (work / "faults").iterdir() if path.suffix not in {".txt", ".bin"}]
        if ended or not _DONE.search(said):
            print(f"{name}: the fuzzer ended early: {ended}\n{said[-3000:]}", flush=True)
            ended = ended or ["ended early"]
        count, lines, features, _ = (int(word) for word in (_DONE.findall(said) or [("0",) * 4])[-1])
        slowest = (work / "slowest").read_text(encoding="utf-8") if (work / "slowest").exists() else "-"
        new = _keep(work / "corpus", CORPUS / name, {_name(data) for data in begun}) if reader.text else 0
        print(
            f"{name:14s} {count:8,d} inputs in {seconds} s, {lines:6,d} edges, {features:6,d} features, "
            f"slowest {slowest} s, kept {new} new; faults {len(faults) + len(ended)}",
            flush=True,
        )
        return len(faults) + len(ended)


def _name(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:16]


def _keep(found: Path, kept: Path, begun: set[str]) -> int:
    """Add what was found last, is small and is text to the saved corpus, up to its size; return how many."""
    kept.mkdir(parents=True, exist_ok=True)
    files, room = len(list(kept.iterdir())), MOST_KEPT_BYTES - sum(path.stat().st_size for path in kept.iterdir())
    new = 0
    for path in sorted(found.iterdir(), key=lambda path: (-path.stat().st_mtime_ns, path.name)):
        data = path.read_bytes()
        fits = 0 < len(data) <= min(room, LARGEST_KEPT_BYTES) and files + new < MOST_KEPT
        if fits and _is_text(data) and _name(data) not in begun:
            (kept / _name(data)).write_bytes(data)
            room -= len(data)
            new += 1
    return new


def _is_text(data: bytes) -> bool:
    try:
        return all(sign.isprintable() or sign in "\n\t" for sign in data.decode("utf-8"))
    except UnicodeDecodeError:
        return False


def _dictionary(begun: list[bytes]) -> str:
    """Return the words of sound input in the form that the fuzzer reads, to be put in anywhere."""
    words = {word for data in begun for word in re.findall(rb"[A-Za-z_][\w.-]{2,30}|[-\d.:T]{4,20}", data)}
    return "".join(f'"{word.decode("ascii")}"\n' for word in sorted(words) if word.isascii())


def main() -> int:
    from tests.hostile.readers import READERS

    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("reader", choices=[*READERS, "all"])
    parser.add_argument("seconds", type=int, nargs="?", default=60)
    parser.add_argument("--inside", type=Path, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.inside:
        fuzz(given.reader, given.inside, given.seconds)
        return 0
    names = list(READERS) if given.reader == "all" else [given.reader]
    return 1 if sum(run(name, given.seconds) for name in names) else 0


if __name__ == "__main__":
    sys.exit(main())
