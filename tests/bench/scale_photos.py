"""Many photos of 12 MP on one floor: `python tests/bench/scale_photos.py [COUNT ...]` (5 10 20 when left out).

The photos are one rendered picture under many names, measured and joined as `finishadvisor evenness JOB` does.
"""

import datetime
import multiprocessing
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scale_common import machine, show, sizes_given

DAY = datetime.date(2026, 9, 21)
SIZE_FT = (20.0, 20.0)
PHOTO = "photo.jpg"


def render_photo(path: Path) -> None:
    """Render a photo of 4032 x 3024 pixels, the slab's corners in a text file beside it."""
    from finishadvisor.demo.render import Camera, Exposure, Slab, as_jpeg, render
    from finishadvisor.evenness.color import linear_from_lab

    chance = np.random.default_rng(12)
    lab = np.tile(np.array([52.0, 8, 12]), (480, 480, 1))
    lab[:, :, 0] += chance.normal(0, 1, (480, 480))
    lab[100:160, 200:300, 0] += 5
    fall = np.exp(np.linspace(0.3, -0.3, 480))[:, None, None] * np.ones((480, 480, 3))
    camera = Camera((10, -7, 14), (10, 9), 4032, 3024, 24)
    path.write_bytes(as_jpeg(render(Slab(*SIZE_FT, linear_from_lab(lab), fall), camera, Exposure()), 90))
    corners = [list(corner) for corner in camera.corners_px(*SIZE_FT)]
    path.with_suffix(".txt").write_text(str(corners), encoding="utf-8")


def measuring(count: int, folder: Path) -> Callable[[], object]:
    from finishadvisor.whole_job.photos import measure_job_floors

    job, shared = folder / "job", folder.parent / PHOTO
    corners = shared.with_suffix(".txt").read_text(encoding="utf-8")
    (job / "photos").mkdir(parents=True)
    text = 'name = "many photos"\n[[floor]]\nname = "hall"\n[floor.outline]\n[[floor.outline.rectangle]]\n'
    text += f"x = {20 * count}\ny = 20\n"
    for number in range(count):
        shutil.copyfile(shared, job / "photos" / f"{number}.jpg")
        text += f'[[floor.photo]]\nfile = "{number}.jpg"\norigin_on_plan = [{20 * number}, 0]\nsize = [20, 20]\n'
        text += f"corners = {corners}\n"
    (job / "job.toml").write_text(text, encoding="utf-8")

    def work() -> None:
        from joblib.externals.loky import get_reusable_executor

        measure_job_floors(job, None, DAY, lambda _line: None)
        get_reusable_executor().shutdown()  # only processes that have ended are counted

    return work


if __name__ == "__main__":
    print(machine())
    with tempfile.TemporaryDirectory() as name:
        renderer = multiprocessing.get_context("spawn").Process(target=render_photo, args=(Path(name) / PHOTO,))
        renderer.start()  # in a process of its own: Linux hands the greatest memory of a parent down to its children
        renderer.join()
        show("measuring and joining", "photos", measuring, sizes_given((5, 10, 20)), Path(name))
