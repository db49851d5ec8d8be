"""Proposed marks are in pixels of the photo itself, whatever the size of the picture that was searched."""

import numpy as np
import pytest
from PIL import Image, ImageDraw

from finishadvisor.errors import PhotoError
from finishadvisor.whole_job.proposals import ProposedMarks, propose_marks

TRUE = [(100, 500), (720, 540), (600, 120), (200, 90)]


def save(path, ground):
    image = Image.new("RGB", (800, 600), ground)
    ImageDraw.Draw(image).polygon(TRUE, fill=(150, 150, 148))
    image.save(path, quality=92)
    return path


def test_marks_are_in_pixels_of_the_photo(tmp_path):
    found = propose_marks(save(tmp_path / "slab.jpg", (120, 95, 60)), 4000)
    assert np.abs(np.subtract(found.corners, np.multiply(TRUE, 5))).max() < 20


def test_nothing_found_is_no_marks(tmp_path):
    assert propose_marks(save(tmp_path / "slab.jpg", (150, 150, 148)), 4000) == ProposedMarks()


def test_a_picture_that_cannot_be_opened_is_said(tmp_path):
    (tmp_path / "slab.jpg").write_bytes(b"no picture")
    with pytest.raises(PhotoError):
        propose_marks(tmp_path / "slab.jpg", 4000)
