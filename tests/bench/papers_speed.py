"""Prints how long the papers of the example job take after import, next to one decode of a 12 MP photo in the same run.

Run: python tests/bench/papers_speed.py
"""

import io
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[2]))

from finishadvisor.demo.example import EXAMPLE_DAY, copy_example
from finishadvisor.papers.make import list_papers
from finishadvisor.whole_job.work_through import work_through


def best_of(count, work):
    """Return the shortest processor time of several runs [s]: other programs on the machine do not count."""
    times = []
    for _ in range(count):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def a_photo():
    """A 12 MP picture as a JPEG, quality 90, 4:2:0."""
    noise = np.random.default_rng(1).normal(128, 12, (3000, 4000, 3))
    shade = np.linspace(-40, 40, 4000)[None, :, None]
    picture = Image.fromarray(np.clip(noise + shade, 0, 255).astype(np.uint8))
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=90, subsampling="4:2:0")
    return file.getvalue()


def import_what_papers_need():
    """Import the libraries and fonts once, which every run of the program pays."""
    import scipy.ndimage  # noqa: F401
    import shapely  # noqa: F401
    import skimage.color
    import typst  # noqa: F401
    from matplotlib.figure import Figure  # noqa: F401

    from finishadvisor.papers.figures import ready
    from finishadvisor.papers.typeset import _fonts

    ready()
    _fonts()
    skimage.color.lab2rgb(np.zeros((1, 1, 3)))


def main():
    """Print the time of all papers and of the slowest, in decodes."""
    jpeg = a_photo()
    decode = best_of(5, lambda: Image.open(io.BytesIO(jpeg)).convert("RGB").load())
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
