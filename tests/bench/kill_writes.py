"""Kill writers at random moments and check what they leave: `python tests/bench/kill_writes.py [COUNT] [SEED]`.

Each kill is a SIGKILL (TerminateProcess on Windows) within 50 ms after the first whole write. Prints the counts.
"""

import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.hostile.killed_writers import WRITERS, kill_one


def main(count: int, seed: int) -> int:
    chance = random.Random(seed)
    kills: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        for number in range(count):
            name = list(WRITERS)[number % len(WRITERS)]
            try:
                kill_one(name, Path(folder) / "job", chance)
            except Exception as error:
                wrong[name] += 1
                print(f"kill {number}, {name}: {type(error).__name__}: {str(error)[:200]}", flush=True)
            kills[name] += 1
    for name, times in kills.items():
        print(f"{times:6d} kills, {wrong[name]} wrong: {name}")
    print(f"{count:6d} kills in all, seed {seed}; wrong {wrong.total()}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*(int(word) for word in (sys.argv + ["500", "0"][len(sys.argv) - 1 :])[1:3])))
