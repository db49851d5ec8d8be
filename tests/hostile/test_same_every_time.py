"""The same job on the same day gives the same files, byte for byte, whatever the machine, its clock and its cores."""

import shutil
from pathlib import Path

from finishadvisor.evenness.join import join
from finishadvisor.job.folder import open_job
from finishadvisor.records.shade import Measurement
from finishadvisor.whole_job.files import json_bytes
from finishadvisor.whole_job.photos import measure_photo
from tests.hostile.conftest import WatchedRun


def files_of(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_two_runs_of_the_demo_leave_the_same_bytes(demo_runs: tuple[WatchedRun, WatchedRun]) -> None:
    first, second = demo_runs
    assert (first.exit_code, second.exit_code) == (0, 0), first.errors + second.errors
    files, again = files_of(first.job), files_of(second.job)
    assert files.keys() == again.keys()
    assert [name for name, content in files.items() if content != again[name]] == []
    endings = {Path(name).suffix for name in files}
    assert {".json", ".csv", ".ics", ".png", ".svg", ".pdf"} <= endings


def test_photos_measure_the_same_on_one_worker_and_on_two(
    demo_runs: tuple[WatchedRun, WatchedRun], tmp_path: Path
) -> None:
    from joblib import Parallel, delayed

    folder = tmp_path / "job"
    shutil.copytree(demo_runs[0].job, folder)
    photos = open_job(folder).job.floors[0].photos

    def measured(workers: int) -> list[Measurement]:
        return Parallel(n_jobs=workers)(delayed(measure_photo)(folder / "photos" / one.file, one) for one in photos)

    one, two = measured(1), measured(2)
    for left, right in zip(one, two, strict=True):
        assert json_bytes(left.evenness.as_json()) == json_bytes(right.evenness.as_json())
        assert left.shade is not None
        assert right.shade is not None
        # held in a name first: a failing comparison of long bytes would be explained for minutes
        same_map = left.shade.lab.tobytes() == right.shade.lab.tobytes()
        same_difference = left.shade.de00.tobytes() == right.shade.de00.tobytes()
        assert same_map
        assert same_difference
    assert join(one, photos) == join(two, photos)


def test_the_order_in_which_photos_are_measured_changes_none_of_them(demo_runs: tuple[WatchedRun, WatchedRun]) -> None:
    folder = demo_runs[0].job
    photos = open_job(folder).job.floors[0].photos
    there = [measure_photo(folder / "photos" / one.file, one).evenness for one in photos]
    back = [measure_photo(folder / "photos" / one.file, one).evenness for one in reversed(photos)]
    assert there == back[::-1]
