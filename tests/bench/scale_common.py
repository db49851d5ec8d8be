"""Processor time and memory of one piece of work at several sizes, each in a process of its own, and how they grow."""

import math
import multiprocessing
import os
import platform
import resource
import sys
import time
from collections.abc import Callable, Sequence
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

Work = Callable[[int, Path], Callable[[], Any]]
"""Prepares work of a size in an empty folder and returns what is timed."""


def peak_megabytes(whose: int = resource.RUSAGE_SELF) -> float:
    return resource.getrusage(whose).ru_maxrss / (1024 if sys.platform != "darwin" else 1024**2)


def processor_seconds() -> float:
    """Return the processor's time of this process and of those that it started and that have ended."""
    times = os.times()  # other programs on the machine do not count
    return times.user + times.system + times.children_user + times.children_system


def time_one(prepare: Work, size: int, folder: Path, pipe: Connection) -> None:
    os.environ["FINISHADVISOR_FOLDER"] = str(folder / "user folder")
    work = prepare(size, folder)
    begin, clock = processor_seconds(), time.perf_counter()
    work()
    clock = time.perf_counter() - clock
    pipe.send((processor_seconds() - begin, clock, peak_megabytes(), peak_megabytes(resource.RUSAGE_CHILDREN)))


def measured(prepare: Work, size: int, folder: Path) -> tuple[float, float, float, float]:
    """Return what work of a size takes.

    Returns:
        Processor seconds of all its processes, seconds by the clock, the greatest memory of its process and of the
        largest one that it started [MB].
    """
    place = folder / f"{size}"
    place.mkdir()
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=time_one, args=(prepare, size, place, theirs))
    process.start()
    theirs.close()
    taken: tuple[float, float, float, float] = ours.recv()
    process.join()
    return taken


def exponent(sizes: Sequence[int], seconds: Sequence[float]) -> float:
    """Return the slope of the straight line through the logarithms of time over size, by least squares."""
    x, y = [math.log(size) for size in sizes], [math.log(value) for value in seconds]
    middle_x, middle_y = sum(x) / len(x), sum(y) / len(y)
    products = sum((a - middle_x) * (b - middle_y) for a, b in zip(x, y, strict=True))
    return products / sum((a - middle_x) ** 2 for a in x)


def show(title: str, unit: str, prepare: Work, sizes: Sequence[int], folder: Path) -> None:
    """Measure every size, print a line each, and the exponent of their growth."""
    print(title, flush=True)
    seconds = []
    for size in sizes:
        taken, clock, megabytes, helper_megabytes = measured(prepare, size, folder)
        seconds.append(taken)
        print(
            f"{size:8,d} {unit:<14s} {taken:8.2f} s {1000 * taken / size:9.1f} ms each {megabytes:7.0f} MB "
            f"(by the clock {clock:.1f} s; largest helper {helper_megabytes:.0f} MB)",
            flush=True,
        )
    last = exponent(sizes[-2:], seconds[-2:]) if len(sizes) > 1 else float("nan")
    print(f"grows as size to the power {exponent(sizes, seconds):.2f} (last step {last:.2f})\n", flush=True)


def machine() -> str:
    return f"{os.cpu_count()} cores, {platform.machine()}, {platform.system()}, Python {platform.python_version()}"


def sizes_given(default: Sequence[int]) -> list[int]:
    """Return the sizes named on the command line, else the default ones."""
    return [int(word) for word in sys.argv[1:]] or list(default)
