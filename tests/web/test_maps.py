"""The pictures of a floor are told apart by what they follow from, and the photos are read once for all of them."""

from finishadvisor.job.edits import mark_photo
from finishadvisor.job.folder import open_job
from finishadvisor.web import maps


def floor_of(jobs):
    return open_job(jobs / "pottery").job.floors[1]


def test_the_photos_are_read_once_for_every_picture_of_a_page(page, jobs, monkeypatch):
    page.post("/job/pottery/2/measure")
    read = []
    monkeypatch.setattr(maps, "fingerprint", lambda *given: read.append(given) or "0" * 64)
    assert page.get("/job/pottery/2/evenness").status_code == 200
    assert len(read) == 1


def test_new_marks_have_other_pictures(jobs):
    folder, floor = jobs / "pottery", floor_of(jobs)
    before = maps.map_paths(folder, floor)
    assert before(1, "squared").suffix == ".jpg"
    assert before(1, "sealed-densified") == maps.map_paths(folder, floor)(1, "sealed-densified")
    mark_photo(
        folder, floor.name, floor.photos[0].model_copy(update={"leave_out": (((1.0, 1.0), (9.0, 1.0), (9.0, 9.0)),)})
    )
    assert maps.map_paths(folder, floor_of(jobs))(1, "shade") != before(1, "shade")
