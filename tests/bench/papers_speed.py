"""Prints how long the papers of the example job take after import, next to one decode of a 12 MP photo in the same run.

Run: python tests/bench/papers_speed.py
"""

import sys
import tempfile
from pathlib import Path

import numpy as np
from timing import best_of, decode_seconds

sys.path.insert(0, str(Path(__file__).parents[2]))

from finishadvisor.demo.example import EXAMPLE_DAY, copy_example
from finishadvisor.papers.make import list_papers
from finishadvisor.whole_job.work_through import work_through


def import_what_papers_need():
    """Import the libraries and fonts once, which every run of the program pays."""
    import scipy.ndimage  # noqa: F401
    import shapely  # noqa: F401
    import skimage.color
    import typst  # noqa: F401

    from finishadvisor.papers.typeset import fonts

    fonts()
    skimage.color.lab2rgb(np.zeros((1, 1, 3)))


def main():
    """Print the time of all papers and of the slowest, in decodes."""
    decode = decode_seconds()
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job"
        copy_example(job)
        whole = work_through(job, EXAMPLE_DAY, measure_photos=True)
        import_what_papers_need()
        times = {paper.name: best_of(1, paper.make) for paper in list_papers(whole)}
    total = sum(times.values())
    print(f"one decode {decode:.3f} s; {len(times)} files {total:.2f} s = {total / decode:.1f} decodes")
    for name, seconds in sorted(times.items(), key=lambda pair: -pair[1])[:12]:
        print(f"  {seconds / decode:6.1f} decodes  {name}")


if __name__ == "__main__":
    main()
