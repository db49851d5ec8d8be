"""Measure photos on a cluster instead of this machine's cores: `python tests/bench/dask_loopback.py [PHOTOS]` (12).

Needs `pip install "dask[distributed]"`, which is no part of this package. Photos of a floor are shared out by joblib;
its Dask backend takes them to any cluster that a client is connected to. Tried here is one that every machine has: a
scheduler and two worker processes that talk over TCP on 127.0.0.1. The reference images are measured, joined and kept
by the same call with and without the cluster, and what is printed and kept must be the same byte for byte.

On several machines the workers need this package and the job folder under the same path.
"""

import datetime
import importlib.util
import json
import shutil
import sys
import tempfile
import time
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

IMAGES = ROOT / "reference_images"
DAY = datetime.date(2026, 9, 21)
WORKERS = 2

Written = tuple[str, dict[str, bytes]]
"""The measurement as JSON, and what was kept of it in the job folder, by path."""


def job_with_photos(count: int, folder: Path) -> Path:
    """Return a job whose one floor was photographed in as many reference images."""
    rows = tomllib.loads((IMAGES / "reference_images.toml").read_text(encoding="utf-8"))["picture"]
    rows = [row for row in rows if "refused" not in row][:count]
    (folder / "photos").mkdir(parents=True)
    text = 'name = "reference images"\n[[floor]]\nname = "hall"\n[floor.outline]\n'
    text += f"[[floor.outline.rectangle]]\nx = {40 * len(rows)}\ny = 40\n"
    for number, row in enumerate(rows):
        shutil.copyfile(IMAGES / row["file"], folder / "photos" / row["file"])
        text += f'[[floor.photo]]\nfile = "{row["file"]}"\norigin_on_plan = [{40 * number}, 0]\n'
        text += f"size = {row['size_ft']}\ncorners = {row['corners']}\n"
        text += "".join(
            f"[[floor.photo.sheet]]\nat = {sheet['at']}\nreflectance = {sheet['reflectance']}\n"
            for sheet in row["sheets"]
        )
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return folder


def measured(job: Path) -> tuple[Written, float]:
    """Measure a job's photos as the command does; return what was written and how long it took [s]."""
    from finishadvisor.whole_job.photos import measure_job_floors

    begin = time.perf_counter()
    _, floors = measure_job_floors(job, None, DAY, lambda _line: None)
    seconds = time.perf_counter() - begin
    kept = {path.relative_to(job).as_posix(): path.read_bytes() for path in sorted(job.rglob("*")) if path.is_file()}
    return (json.dumps([floor.as_json() for floor in floors]), kept), seconds


def main(count: int) -> int:
    if importlib.util.find_spec("distributed") is None:
        print('This script needs a cluster\'s library: pip install "dask[distributed]"')
        return 2
    from distributed import Client, LocalCluster, get_task_stream
    from joblib import parallel_config

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        plain, plain_s = measured(job_with_photos(count, folder / "plain"))
        with (
            LocalCluster(
                n_workers=WORKERS, threads_per_worker=1, host="127.0.0.1", dashboard_address=None,
                local_directory=str(folder / "dask"),
            ) as cluster,
            Client(cluster) as client,
            get_task_stream(client) as stream,
            parallel_config(backend="dask"),
        ):  # fmt: skip
            first, first_s = measured(job_with_photos(count, folder / "first"))
            again, again_s = measured(job_with_photos(count, folder / "again"))
            address = cluster.scheduler_address
    print(f"{count} photos; scheduler at {address}, {WORKERS} workers")
    print(f"this machine's cores by joblib's own processes {plain_s:6.1f} s")
    print(f"cluster, workers just begun                    {first_s:6.1f} s")
    print(f"cluster, workers warm                          {again_s:6.1f} s")
    print(f"batches of photos that the workers took: {len(stream.data)}")
    same = plain == first == again
    print(f"printed and kept measurements the same byte for byte: {'yes' if same else 'NO'}")
    return 0 if same and stream.data else 1


if __name__ == "__main__":
    sys.exit(main(int(([*sys.argv, "12"])[1])))
