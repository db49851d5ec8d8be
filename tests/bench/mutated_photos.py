"""Damage many photos, measure each, and print how they ended: `python tests/bench/mutated_photos.py [COUNT] [FIRST]`.

With the word `cuts` instead: every kind of photo cut off at every hundredth byte. With the word `bombs`: small files
that claim, or would unpack to, far more than they hold.

Each photo is measured in a second process, so that one that brings the process down, or does not end, is counted too.
A photo that ended in neither a measurement nor a refusal, took longer than 5 s or more than 1 GB is named; its number
makes it again: `tests.hostile.damage.damaged(number)`.
"""

import json
import multiprocessing
import sys
import tempfile
import time
import warnings
from collections import Counter
from collections.abc import Iterator
from multiprocessing.connection import Connection
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

MOST_SECONDS = 5.0
MOST_MEGABYTES = 1000.0
GIVEN_UP_SECONDS = 30.0

Ended = tuple[str, float, float]
"""How a photo ended, the seconds it took, and the greatest memory of the process so far [MB]."""


def peak_megabytes() -> float:
    """Return the greatest memory of this process; 0 where the system does not tell."""
    try:
        import resource
    except ImportError:
        return 0.0
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform != "darwin" else 1024**2)


def measure_all(pipe: Connection) -> None:
    """Measure the photos that come in, and send back how each ended."""
    from finishadvisor.errors import FinishAdvisorError
    from finishadvisor.evenness.measure import PhotoMarks, measure
    from tests.hostile.odd_photos import SIZE_FT

    warnings.simplefilter("error", RuntimeWarning)  # arithmetic that overflows is a fault, and prints on standard error
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "photo"
        while (data := pipe.recv()) is not None:
            path.write_bytes(data)
            begin = time.perf_counter()
            try:
                evenness = measure(path, PhotoMarks(size_ft=SIZE_FT)).evenness
                json.dumps(evenness.as_json(), allow_nan=False)
                ended = f"refused: {evenness.refused[0]}" if evenness.refused else "measured"
            except FinishAdvisorError as error:
                ended = f"one line: {str(error)[:60]}"
            except Exception as error:
                ended = f"FAULT: {type(error).__name__}: {str(error)[:80]}"
            pipe.send((ended, time.perf_counter() - begin, peak_megabytes()))


class Helper:
    """The second process; it is begun anew when it has ended or does not answer."""

    def __init__(self) -> None:
        self._begin()

    def _begin(self) -> None:
        context = multiprocessing.get_context("spawn")
        self.pipe, other = context.Pipe()
        self.process = context.Process(target=measure_all, args=(other,), daemon=True)
        self.process.start()
        other.close()

    def measure(self, data: bytes) -> Ended:
        self.pipe.send(data)
        try:
            if self.pipe.poll(GIVEN_UP_SECONDS):
                return self.pipe.recv()
            ended = f"FAULT: no end within {GIVEN_UP_SECONDS:g} s"
        except EOFError:
            self.process.join()
            ended = f"FAULT: the process ended with {self.process.exitcode}"
        self.process.kill()
        self._begin()
        return ended, GIVEN_UP_SECONDS, 0.0

    def end(self) -> None:
        self.pipe.send(None)
        self.process.join()


def photos(words: list[str]) -> Iterator[tuple[str, bytes]]:
    """Yield the photos that the words of the command line ask for, each with its name."""
    from tests.hostile.damage import cuts_every, damaged
    from tests.hostile.swollen_photos import bombs

    if words == ["cuts"]:
        yield from cuts_every(100)
    elif words == ["bombs"]:
        yield from bombs().items()
    else:
        count, first = (int(word) for word in (words + ["500", "0"][len(words) :])[:2])
        yield from map(damaged, range(first, first + count))


def main(words: list[str]) -> int:
    counts: Counter[str] = Counter()
    slowest, largest, faults = 0.0, 0.0, 0
    helper = Helper()
    for name, data in photos(words):
        ended, seconds, megabytes = helper.measure(data)
        counts[ended] += 1
        slowest, largest = max(slowest, seconds), max(largest, megabytes)
        wrong = ended.startswith("FAULT") or seconds > MOST_SECONDS or megabytes > MOST_MEGABYTES
        faults += wrong
        if wrong:
            print(f"{name}: {ended}, {seconds:.1f} s, {megabytes:.0f} MB", flush=True)
    helper.end()
    for ended, times in counts.most_common():
        print(f"{times:7d}  {ended}")
    print(f"{counts.total():7d}  photos ({' '.join(words) or 'the first 500'}); faults {faults}")
    print(f"slowest {slowest:.1f} s (bound {MOST_SECONDS:g} s); memory {largest:.0f} MB (bound {MOST_MEGABYTES:g} MB)")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
