"""Many photos are shared out over all cores, and read as if they had been measured one by one."""

import datetime
import shutil

from finishadvisor.demo.example import copy_example
from finishadvisor.whole_job import photos


def measured(folder, monkeypatch, many):
    monkeypatch.setattr(photos, "MANY_PHOTOS", many)
    said = []
    _, floors = photos.measure_job_floors(folder, "Glaze room", datetime.date(2026, 9, 21), said.append)
    return floors[0].as_json(), said


def test_the_answer_is_the_same_on_one_core_and_on_all(tmp_path, monkeypatch):
    folder = tmp_path / "job"
    copy_example(folder)
    shutil.rmtree(folder / "measured", ignore_errors=True)
    alone, said_alone = measured(folder, monkeypatch, 99)
    shared, said_shared = measured(folder, monkeypatch, 2)
    assert shared == alone
    assert said_shared == said_alone
    assert len(said_alone) == len(alone["photos"])
