"""Corners proposed for a photo: asked for by the page once it stands, never written without a hand on Save."""

import json
import shutil
from pathlib import Path

import numpy as np
import pytest

from finishadvisor.errors import FinishAdvisorError
from finishadvisor.job.document import Photo
from finishadvisor.job.edits import mark_photo
from finishadvisor.job.folder import open_job
from finishadvisor.web.pages import marking

PICTURE = Path(__file__).parents[2] / "reference_images" / "load-tan-overcast.jpg"
ADDRESS = "/job/shed/1/photos/slab.jpg"


@pytest.fixture
def unmarked(jobs):
    """A photo that was let in and bears no marks."""
    (jobs / "shed" / "photos").mkdir(exist_ok=True)
    shutil.copy(PICTURE, jobs / "shed" / "photos" / "slab.jpg")
    mark_photo(jobs / "shed", open_job(jobs / "shed").job.floors[0].name, Photo(file="slab.jpg"))


@pytest.mark.usefixtures("unmarked")
def test_corners_are_proposed_and_nothing_is_written(page, jobs):
    before = (jobs / "shed" / "job.toml").read_bytes()
    assert f'data-proposed="{ADDRESS}/proposed.json"' in page.get(ADDRESS + "/mark").text
    found = page.get(ADDRESS + "/proposed.json").json()
    assert np.shape(found["corners"]) == (4, 2)
    assert all(set(card) == {"at", "reflectance"} for card in found["cards"])
    assert (jobs / "shed" / "job.toml").read_bytes() == before


@pytest.mark.usefixtures("unmarked")
def test_a_child_that_fails_leaves_the_marks_to_the_hand(page, monkeypatch):
    def fails(task, *rest):
        if task == "propose":
            raise FinishAdvisorError("took too long")
        return run(task, *rest)

    run = marking.run_child
    monkeypatch.setattr(marking, "run_child", fails)
    assert page.get(ADDRESS + "/proposed.json").json() == {"corners": None, "cards": []}
    assert page.get(ADDRESS + "/mark").status_code == 200


@pytest.mark.usefixtures("unmarked")
def test_a_card_whose_kind_nobody_told_is_not_saved(page, jobs):
    before = (jobs / "shed" / "job.toml").read_bytes()
    corners = [[100, 700], [900, 700], [800, 200], [200, 200]]
    marks = {"corners": corners, "cards": [{"at": [500, 500], "reflectance": None}], "leave_out": [], "wet": []}
    fields = {"version": page.version("shed"), "first_side": "9ft", "second_side": "8ft"}
    answer = page.post(ADDRESS + "/mark", {**fields, "marks": json.dumps(marks)})
    assert answer.status_code == 400
    assert "Say of each card whether it is a gray card or white paper" in answer.text
    assert (jobs / "shed" / "job.toml").read_bytes() == before
    marks["cards"][0]["reflectance"] = 0.18
    assert page.post(ADDRESS + "/mark", {**fields, "marks": json.dumps(marks)}).status_code == 303


def test_nothing_is_proposed_over_marks_that_are_there(page, jobs):
    floors = open_job(jobs / "pottery").job.floors
    number, photo = next((n, f.photos[0]) for n, f in enumerate(floors, start=1) if f.photos)
    assert "data-proposed" not in page.get(f"/job/pottery/{number}/photos/{photo.file}/mark").text


def test_a_photo_that_is_not_listed_is_not_looked_at(page):
    assert page.get("/job/shed/1/photos/other.jpg/proposed.json").status_code == 404
